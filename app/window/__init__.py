"""The window: its places, its actions, the start page and the help page."""
