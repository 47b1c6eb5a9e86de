"""Nut face: the ring that a turned nut slides on, which is smaller than what is drawn of it."""

from geometry.parts.forms import Handle, Nut
from geometry.parts.part import ToolPart, part_profile

NUT_FACE_LESS_MM, NUT_COUNTERSINK = 1.4, 1.08
"""The face of a hexagon nut: flats less 1.4 outside, 1.08 times the thread inside (ISO 4032, memory)."""


def nut_face_mm(part: ToolPart) -> tuple[float, float]:
    """Outside and inside diameter of the face of a nut or handle [mm]; of anything else, the whole of its end."""
    form, whole = part.form, part_profile(part)
    if isinstance(form, Nut):
        face = form.across_flats_mm - NUT_FACE_LESS_MM, NUT_COUNTERSINK * form.bore_mm
        return face if face[0] > face[1] else (form.across_flats_mm, form.bore_mm)
    if isinstance(form, Handle):
        return form.hub_mm, form.bore_mm
    return 2 * whole.r_max_mm, 2 * whole.r_min_mm
