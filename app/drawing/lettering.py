"""The room that a line of text takes up on paper."""

from math import cos, radians, sin

from app.drawing.marks import Label
from app.look.font_metrics import text_width_mm

DESCENT = 0.25
"""Below the baseline, over the height of the capitals."""

Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y [mm of paper]."""


def label_box(label: Label) -> Box:
    """The rectangle round a label that lies or stands upright; its place must be in paper millimetres."""
    width = text_width_mm(label.text, height_mm=label.height_mm, bold=label.bold)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[label.anchor]
    low, high = -DESCENT * label.height_mm, label.height_mm
    turn = radians(label.turned_deg)
    corners = [
        (label.at[0] + u * cos(turn) - v * sin(turn), label.at[1] + u * sin(turn) + v * cos(turn))
        for u in (start, start + width)
        for v in (low, high)
    ]
    x, y = [p[0] for p in corners], [p[1] for p in corners]
    return min(x), min(y), max(x), max(y)
