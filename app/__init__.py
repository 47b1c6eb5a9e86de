"""The desktop shell and the command line of Ringpath."""
