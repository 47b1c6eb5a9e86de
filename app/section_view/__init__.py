"""The section on screen: the view, its painter and items, and one class per gesture."""
