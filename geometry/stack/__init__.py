"""Stack: tool parts on the rod, on both sides of the assembly, and where they come to rest."""
