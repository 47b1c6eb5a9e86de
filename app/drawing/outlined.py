"""Areas that carry an outline of their own, in every format."""

OUTLINED = {"force bead": 0.35, "balloon": 0.25, "finding": 0.35}
"""Width of the outline on paper [mm], by fill."""
