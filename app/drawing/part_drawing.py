"""A tool part alone, in section, with its sizes."""

from app.drawing.body_marks import all_round, back_marks, cut_marks, rod_marks, toe_above, whole_marks
from app.drawing.dimensions import profile_dimensions
from app.drawing.hatch import tool_part_hatching
from app.drawing.marks import Mark, Stroke
from app.drawing.section_drawing import CENTRE_LINE_OVERHANG_MM, rod_thread
from geometry.parts.forms import Nut, Rod, Toe
from geometry.parts.part import ToolPart, part_profile


def part_marks(part: ToolPart, *, paper_scale: float = 1.0) -> tuple[Mark, ...]:
    """The part in section with its centre line; a rod or nut whole. The work lies to the right."""
    profile = part_profile(part)
    overhang = CENTRE_LINE_OVERHANG_MM / paper_scale
    axis = Stroke((((profile.z_min_mm - overhang, 0.0), (profile.z_max_mm + overhang, 0.0)),), "centre", part.id)
    if isinstance(part.form, Rod):
        minor, threaded = rod_thread(part)
        marks = rod_marks(part.id, profile, material=part.material, minor_mm=minor, threaded=threaded)
    elif isinstance(part.form, Nut):
        edges = (profile.r_max_mm / 2,)
        marks = whole_marks(part.id, profile, material=part.material, edges_at=edges)
    else:
        hatching = tool_part_hatching(part, 0)
        halves = toe_above(profile, shank_mm=part.form.shank_mm) if isinstance(part.form, Toe) else all_round(profile)
        cut = cut_marks(part.id, halves, material=part.material, hatching=hatching, paper_scale=paper_scale)
        marks = (*back_marks(part.id, profile), *cut)
    return (*marks, axis)


def dimensioned_part(part: ToolPart, *, paper_scale: float = 1.0) -> tuple[Mark, ...]:
    """The part with all its sizes."""
    sizes = profile_dimensions(part_profile(part), paper_scale=paper_scale, body=part.id)
    return (*part_marks(part, paper_scale=paper_scale), *sizes)
