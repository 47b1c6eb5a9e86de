"""Drawings as marks in millimetres, the same for screen and paper."""
