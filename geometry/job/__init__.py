"""Job: one assembly with its steps, as one file; what a user can do to it; reading and writing."""
