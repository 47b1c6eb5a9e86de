"""Part dimensions: which fields of a form are turned, their names, which lie along the axis, which are holes."""

from geometry.parts.part import ToolPart

WORDS = {
    "outside_mm": "outside", "rim_outside_mm": "rim outside", "flange_mm": "flange", "face_outside_mm": "face outside",
    "toe_outside_mm": "toe", "shank_mm": "shank", "pilot_mm": "pilot", "inside_mm": "inside",
    "rim_inside_mm": "rim inside", "face_inside_mm": "face inside", "bore_mm": "bore", "length_mm": "length",
    "depth_mm": "depth", "relief_mm": "relief", "body_length_mm": "body length", "flange_length_mm": "flange length",
    "pilot_length_mm": "pilot length", "toe_length_mm": "toe length", "reach_mm": "reach", "floor_mm": "floor",
}  # fmt: skip
HOLES = ("bore_mm", "inside_mm", "rim_inside_mm", "face_inside_mm")
LENGTHS = (
    "length_mm", "depth_mm", "relief_mm", "body_length_mm", "flange_length_mm", "pilot_length_mm", "toe_length_mm",
    "reach_mm", "floor_mm",
)  # fmt: skip


def dimensions_of(part: ToolPart) -> tuple[str, ...]:
    """The dimensions of a part's form that are turned, those that are there at all."""
    names = (name for name in part.form.__struct_fields__ if name in WORDS)
    return tuple(name for name in names if isinstance(getattr(part.form, name), float) and getattr(part.form, name))


def value_of(part: ToolPart, dimension: str) -> float:
    """A dimension of a part [mm]."""
    return float(getattr(part.form, dimension))
