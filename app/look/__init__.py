"""Colours, hatches and fonts of window and paper: light, dark, print."""
