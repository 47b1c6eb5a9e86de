"""The job on screen: what is open, undo and redo, autosave, recent files, and a watch on the file."""
