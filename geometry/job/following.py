"""Following: what nobody has measured yet goes along with what was, where as drawn it would no longer fit."""

from collections.abc import Mapping

from geometry.job.naming import drawn_values_mm
from geometry.job.quantities import Surface, stations_mm, surfaces
from geometry.readings.fit import Fit
from geometry.section.body import Body
from geometry.section.section import Section

LEAST_SHARE = 0.25
"""The longest piece of a body takes a change of length alone as long as so much of it is left."""


MOVED_MM = 1e-6


def following_values_mm(section: Section, fitted: Fit, touching_mm: Mapping[str, float]) -> dict[str, float]:
    """Every quantity as drawn, but what is not fixed moved so that it lies between what is.

    Fixed is what readings determine, and what must touch (`touching_mm`: where it then is).
    Along a body a change of length is taken by the longest piece of what is not measured, as the waist of a shell,
    and all pieces alike where that is too short. An outside keeps the drawn wall over a bore that was read, and a
    bore that under an outside.
    """
    values_mm = drawn_values_mm(section)
    read_mm = {name: fitted.value_mm({name: 1.0}) for name in values_mm if fitted.is_determined({name: 1.0})}
    for body in section.bodies:
        moved = _lengths_mm(body, {**read_mm, **touching_mm}) | _diameters_mm(body, fitted)
        values_mm |= {name: value_mm for name, value_mm in moved.items() if name not in touching_mm}
    return values_mm


def moved_by_closing_mm(fitted: Fit, closed_mm: Mapping[str, float]) -> dict[str, float]:
    """Where closing the gaps has put what it has moved."""
    return {
        name: value_mm
        for name, value_mm in closed_mm.items()
        if abs(value_mm - fitted.value_mm({name: 1.0})) > MOVED_MM
    }


def _lengths_mm(body: Body, fixed_mm: Mapping[str, float]) -> dict[str, float]:
    """Stations of one body from its left end: as they are fixed, or between those that are."""
    drawn_mm = [z - stations_mm(body)[0] for z in stations_mm(body)]
    names = {station: f"{body.id}.z{station}" for station in range(1, len(drawn_mm))}
    found_mm = {0: 0.0} | {station: fixed_mm[name] for station, name in names.items() if name in fixed_mm}
    known = sorted(found_mm)
    for left, right in zip(known, known[1:], strict=False):
        pieces = [drawn_mm[k + 1] - drawn_mm[k] for k in range(left, right)]
        z_mm = found_mm[left]
        for k, piece in zip(range(left + 1, right), _fitted_in(pieces, found_mm[right] - z_mm), strict=False):
            z_mm += piece
            found_mm[k] = z_mm
    last = known[-1]
    for k in range(last + 1, len(drawn_mm)):
        found_mm[k] = found_mm[last] + drawn_mm[k] - drawn_mm[last]
    return {f"{body.id}.z{k}": z_mm for k, z_mm in found_mm.items() if k}


def _fitted_in(pieces_mm: list[float], length_mm: float) -> list[float]:
    """Pieces that together have a length: the longest takes the difference, or all take it alike."""
    whole, longest = sum(pieces_mm), max(pieces_mm)
    if length_mm < LEAST_SHARE * whole:
        return pieces_mm  # no hub of this kind: a slip, to be told as one
    left = longest + length_mm - whole
    if left < LEAST_SHARE * longest:
        return [piece * length_mm / whole for piece in pieces_mm]
    place = pieces_mm.index(longest)
    return [*pieces_mm[:place], left, *pieces_mm[place + 1 :]]


def _diameters_mm(body: Body, fitted: Fit) -> dict[str, float]:
    """Outsides and bores that nobody read, where the bore of a slice is not smaller than its outside any more."""
    found: dict[str, float] = {}
    for outside, bore in walls_of(body):
        wall_mm = outside.diameter_mm - bore.diameter_mm
        sizes = {one.name: fitted.value_mm({one.name: 1.0}) for one in (outside, bore)}
        if sizes[outside.name] > sizes[bore.name]:
            continue
        if not fitted.is_determined({outside.name: 1.0}):
            found[outside.name] = max(found.get(outside.name, 0.0), sizes[bore.name] + wall_mm)
        elif not fitted.is_determined({bore.name: 1.0}):
            bore_mm = max(sizes[outside.name] - wall_mm, 0.0)
            found[bore.name] = min(found.get(bore.name, bore_mm), bore_mm)
    return found


def walls_of(body: Body) -> list[tuple[Surface, Surface]]:
    """Outside and bore at either end of each slice that has a bore."""
    at = {end: surface for surface in surfaces(body) for end in surface.ends}
    found = []
    for place in range(len(body.shape.slices)):
        for end in ("_mm", "_to_mm"):
            outside = at.get((place, f"outside{end}")) or at.get((place, "outside_mm"))
            bore = at.get((place, f"bore{end}")) or at.get((place, "bore_mm"))
            if outside is not None and bore is not None:
                found.append((outside, bore))
    return list(dict.fromkeys(found))
