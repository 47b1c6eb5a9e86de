"""Part handles: where the outline of a part is taken hold of to change a dimension, and what stops it there."""

from math import inf

from geometry.check.wording import mm, name_of
from geometry.parts.forms import Flanged, Relieved
from geometry.parts.part import ToolPart
from geometry.planning.free_zone import FreeZone
from geometry.planning.part_dimensions import WORDS, dimensions_of, value_of
from geometry.planning.part_limits import Window
from geometry.planning.part_trial import with_dimensions
from geometry.profile.outline import Ring
from geometry.profile.profile import Profile
from geometry.record import Derived
from geometry.section.body import Side
from geometry.stack.seating import stacked_profile
from geometry.stack.stack import StackPart

NUDGE_MM = 0.01
MOVES_MM = 1e-6
STEP_MM = 0.05
"""A dimension that is dragged goes in such steps."""
FINE_MM = 0.005


class Place(Derived, frozen=True):
    """A part on its side of the rod: its seat, the face that stands on something, lies at `z_mm`."""

    part: ToolPart
    side: Side
    z_mm: float

    @property
    def at_mm(self) -> float:
        """Where z = 0 of the part's profile on that side lies."""
        seat = seat_mm(self.part)
        return self.z_mm - seat if self.side == "left" else self.z_mm + seat

    @property
    def outlines(self) -> tuple[Ring, ...]:
        """The part's outlines where they are, in z and r."""
        profile = stacked_profile(self.part, StackPart(part=self.part.id, side=self.side))
        return tuple(tuple((z + self.at_mm, r) for z, r in ring) for ring in profile.rings)

    def with_value(self, dimension: str, value_mm: float) -> "Place | None":
        """The part with another dimension on the same seat; None where that is no solid."""
        part = with_dimensions(self.part, [(dimension, value_mm)])
        return None if part is None else Place(part, self.side, self.z_mm)


class Handle(Derived, frozen=True):
    """A point of the outline that moves with one dimension; `along_z`, or away from the axis."""

    dimension: str
    z_mm: float
    r_mm: float
    along_z: bool
    gain: float
    """How far the point moves for one millimetre of the dimension; negative: towards lower z."""

    def value_at(self, value_mm: float, *, moved_mm: float) -> float:
        """The dimension when the point has been moved so far along its way."""
        return value_mm + moved_mm / self.gain


class Stop(Derived, frozen=True):
    """How far a dimension can go, and in words what binds there; empty: it went all the way."""

    value_mm: float
    words: str


def seat_mm(part: ToolPart) -> float:
    """Where the face lies with which a part stands on something, in its own z."""
    form = part.form
    if isinstance(form, Flanged):
        return form.flange_length_mm
    if isinstance(form, Relieved):
        return form.body_length_mm + form.relief_mm
    return part.length_mm


def handles(place: Place) -> tuple[Handle, ...]:
    """A handle for each dimension of a part, each on an edge of its own."""
    before = _points(place)
    offered: list[tuple[str, list[tuple[float, Handle]]]] = []
    for dimension in dimensions_of(place.part):
        nudged = place.with_value(dimension, value_of(place.part, dimension) + NUDGE_MM)
        after = _points(nudged) if nudged is not None else []
        if len(after) == len(before):
            offered.append((dimension, _edges_that_move(dimension, before, after)))
    taken: set[tuple[float, float]] = set()
    found = []
    for _, edges in sorted(offered, key=lambda one: len(one[1])):
        free = [one for one in edges if (one[1].z_mm, one[1].r_mm) not in taken]
        if free:
            handle = max(free, key=lambda one: one[0])[1]
            taken.add((handle.z_mm, handle.r_mm))
            found.append(handle)
    return tuple(found)


def _points(place: Place) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The edges of the outlines, each as its two ends."""
    return [
        (ring[number], ring[(number + 1) % len(ring)]) for ring in place.outlines for number in range(len(ring))
    ]


def _edges_that_move(
    dimension: str,
    before: list[tuple[tuple[float, float], tuple[float, float]]],
    after: list[tuple[tuple[float, float], tuple[float, float]]],
) -> list[tuple[float, Handle]]:
    """Edges of which both ends move alike and square to the edge, with their lengths."""
    found = []
    for (a, b), (c, d) in zip(before, after, strict=True):
        for axis in (0, 1):
            moved = (c[axis] - a[axis], d[axis] - b[axis])
            is_square = abs(a[axis] - b[axis]) < MOVES_MM
            if is_square and abs(moved[0]) > MOVES_MM and abs(moved[0] - moved[1]) < MOVES_MM:
                middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
                length = abs(a[1 - axis] - b[1 - axis])
                handle = Handle(dimension, round(middle[0], 6), round(middle[1], 6), axis == 0, moved[0] / NUDGE_MM)
                found.append((length, handle))
    return found


def stopped(place: Place, dimension: str, wanted_mm: float, window: Window | None, zone: FreeZone | None) -> Stop:
    """How far a dimension can be taken towards a value: by its window, by the free zone, by what is a solid."""
    start = value_of(place.part, dimension)
    value, words = _in_window(wanted_mm, window)
    reached = place.with_value(dimension, value)
    against = _against(reached, zone, _blocked(place, zone))
    if reached is not None and not against:
        return Stop(round(value, 3), words)
    good, bad = start, value
    while abs(bad - good) > FINE_MM:
        middle = (good + bad) / 2
        here = place.with_value(dimension, middle)
        if here is not None and not _against(here, zone, _blocked(place, zone)):
            good = middle
        else:
            bad = middle
    beyond = _against(place.with_value(dimension, bad), zone, _blocked(place, zone)) or "the part would be no solid"
    return Stop(round(good, 2), _says(dimension, good, beyond))


def _says(dimension: str, value_mm: float, what: str) -> str:
    return f"{WORDS[dimension].capitalize()} stops at {mm(value_mm)} mm: {what}."


def _in_window(wanted_mm: float, window: Window | None) -> tuple[float, str]:
    if window is None:
        return wanted_mm, ""
    least = -inf if window.least.is_open else window.least.value_mm
    most = inf if window.most.is_open else window.most.value_mm
    if wanted_mm < least:
        return least, _says(window.dimension, least, window.least.sets)
    if wanted_mm > most:
        return most, _says(window.dimension, most, window.most.sets)
    return wanted_mm, ""


def _blocked(place: Place, zone: FreeZone | None) -> frozenset[tuple[str, str]]:
    """What is in the part's way already where it is now: that does not stop it."""
    if zone is None:
        return frozenset()
    return frozenset((one.thing, one.why) for one in zone.blocks(_profile(place), place.at_mm))


def _against(place: Place | None, zone: FreeZone | None, before: frozenset[tuple[str, str]]) -> str:
    if place is None or zone is None:
        return ""
    pieces = [one for one in zone.blocks(_profile(place), place.at_mm) if (one.thing, one.why) not in before]
    if not pieces:
        return ""
    piece = pieces[0]
    jobs = {one.job for one in zone.pieces}
    job = f" ({piece.job})" if len(jobs) > 1 else ""
    return f"{name_of(piece.thing)} {piece.why}{job}"


def _profile(place: Place) -> Profile:
    return stacked_profile(place.part, StackPart(part=place.part.id, side=place.side))
