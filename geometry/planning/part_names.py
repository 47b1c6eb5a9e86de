"""Part names: what a new part is called, from its kind and its sizes."""

from msgspec.structs import replace

from geometry.check.wording import mm
from geometry.parts.forms import Flanged, Hollow, Relieved, Toe
from geometry.parts.part import ToolPart, part_profile
from geometry.parts.tool_set import ToolSet

LETTERS = {"drift": "D", "toe drift": "TOE", "cup": "C", "plate": "P", "guide": "G", "tube": "T"}
FORMS = {Hollow: "a pot", Relieved: "a stepped drift", Flanged: "a plug with a flange", Toe: "a toe"}


def named(part: ToolPart, tool_set: ToolSet, *, price: float) -> ToolPart:
    """The part with its price and a name from its sizes that the set has not yet: `D25,8-18,5`."""
    outside = 2 * part_profile(part).r_max_mm
    name = f"{LETTERS.get(part.kind, 'N')}{mm(outside)}-{mm(part.length_mm)}".replace(".", ",")
    taken = {one.id for one in tool_set.parts}
    free, number = name, 2
    while free in taken:
        free, number = f"{name}/{number}", number + 1
    return replace(part, id=free, name=f"{part.kind.capitalize()} {mm(outside)} x {mm(part.length_mm)}", price=price)


def with_material(part: ToolPart, material: str) -> ToolPart:
    """The part of another material."""
    return replace(part, material=material)


def with_part(tool_set: ToolSet, part: ToolPart) -> ToolSet:
    """The set with one more part; a part of that name is replaced, where it stands."""
    if all(one.id != part.id for one in tool_set.parts):
        return replace(tool_set, parts=(*tool_set.parts, part))
    return replace(tool_set, parts=tuple(part if one.id == part.id else one for one in tool_set.parts))


def without_part(tool_set: ToolSet, id: str) -> ToolSet:
    """The set without a part."""
    return replace(tool_set, parts=tuple(one for one in tool_set.parts if one.id != id))


def form_in_words(part: ToolPart) -> str:
    """The form of a part in a few words."""
    return FORMS.get(type(part.form), "a plain ring")
