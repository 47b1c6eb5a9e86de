"""The command line: one file per command; a command loads only what it needs, and Qt only where it draws."""
