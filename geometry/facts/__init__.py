"""Reference values: a table per subject, each row with its source and certainty."""
