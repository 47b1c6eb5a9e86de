"""Readings seen from the other side: the same lines, in the quantities of the mirrored section."""

import re

from msgspec.structs import replace

from geometry.job.links import PLACE, layout_of
from geometry.job.quantities import SAME_MM, stations_mm, surfaces
from geometry.readings.readings import Line, Readings, Term
from geometry.section.body import Body
from geometry.section.section import Section

_SIDES = {"left": "right", "right": "left", "Left": "Right", "Right": "Left"}


def mirrored_readings(readings: Readings, *, before: Section, after: Section) -> Readings:
    """The lines of a section in terms of the section that mirrors it; what was typed stays."""
    new_terms = _in_mirrored(before, after)
    return replace(readings, lines=tuple(_line(line, new_terms) for line in readings.lines))


def _line(line: Line, new_terms: dict[str, dict[str, float]]) -> Line:
    sums: dict[str, float] = {}
    for term in line.terms:
        for name, factor in new_terms.get(term.quantity, {term.quantity: 1.0}).items():
            sums[name] = sums.get(name, 0.0) + factor * term.factor
    terms = tuple(Term(name, factor) for name, factor in sums.items() if factor)
    return replace(line, terms=terms, title=_other_words(line.title), note=_other_words(line.note))


def _in_mirrored(before: Section, after: Section) -> dict[str, dict[str, float]]:
    """Each quantity as a sum of those of the mirrored section."""
    found: dict[str, dict[str, float]] = {}
    for body in before.bodies:
        found |= _body(body, after.body(body.id))
    for bearing in before.bearings:
        found[f"{bearing.id}.inner_left"] = {f"{bearing.id}.inner_right": -1.0}
        found[f"{bearing.id}.inner_right"] = {f"{bearing.id}.inner_left": -1.0}
    layout = layout_of(before)
    for name in layout.offsets_mm:
        moved = name.removesuffix(f".{PLACE}")
        found[name] = {name: -1.0, _length_name(before, moved): -1.0, _length_name(before, layout.root): 1.0}
    return found


def _body(before: Body, after: Body) -> dict[str, dict[str, float]]:
    last = len(stations_mm(before)) - 1
    found = {
        f"{before.id}.z{station}": {f"{before.id}.z{last}": 1.0, f"{before.id}.z{last - station}": -1.0}
        for station in range(1, last)
    }
    for surface in surfaces(before):
        for other in surfaces(after):
            same_place = abs(other.from_z_mm + surface.to_z_mm) <= SAME_MM
            same_size = abs(other.diameter_mm - surface.diameter_mm) <= SAME_MM
            if other.form == surface.form and same_place and same_size:
                found[surface.name] = {other.name: 1.0}
    return found


def _length_name(section: Section, id: str) -> str:
    body = next((body for body in section.bodies if body.id == id), None)
    return f"{id}.width" if body is None else f"{id}.z{len(stations_mm(body)) - 1}"


def _other_words(text: str) -> str:
    return re.sub(r"\b(?:left|right|Left|Right)\b", lambda word: _SIDES[word[0]], text)
