"""Checks for the screen: the quick one within a frame, the deep one in a worker."""
