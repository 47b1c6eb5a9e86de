"""Paper: pages of marks with a title block, and one writer for each format."""
