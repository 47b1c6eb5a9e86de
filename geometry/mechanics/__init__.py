"""Textbook formulas: numbers in, numbers out; no table, no shape."""
