"""Plane geometry of the (z, r) half-plane: outlines of solids of revolution, where they meet."""
