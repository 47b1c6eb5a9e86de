"""Gaps: contacts of the drawn section that close a ring, and what the measured sizes make of them.

A spacer hangs on the left bearing; whether it also meets the right one follows from the spacer and both
shoulders. Its gap there (negative: too long) is the figure that decides about preload.
"""

from collections.abc import Mapping
from functools import lru_cache

import numpy as np

from geometry.job.links import Along, faces_of, layout_of, touches
from geometry.job.quantities import SAME_MM, surfaces
from geometry.job.rebuilding import journal_name, seat_name
from geometry.readings.closure import POINTING_LIMIT
from geometry.readings.fit import Array, Fit
from geometry.record import Derived
from geometry.section.section import Section

LEAST_MM = 1e-6
ASSUMED_WITHIN_MM = 100.0
"""How far a size that nothing measures may be from its drawing: far enough to follow what is measured."""


class Gap(Derived, frozen=True):
    """Two things that touch as drawn, but hang on other contacts."""

    left: str
    """Body or ring, `BL.inner`, whose right face it is."""
    right: str
    z_mm: float
    """Where they touch as drawn."""
    along: Along
    """The gap in quantities: positive is open, negative an overlap."""

    @property
    def is_at_an_inner_ring(self) -> bool:
        """Whether it decides about preload: a spacer or an axle between the inner rings of two bearings."""
        return self.left.endswith(".inner") or self.right.endswith(".inner")


@lru_cache(maxsize=64)
def gaps_of(section: Section) -> tuple[Gap, ...]:
    """Every contact of a section that closes a ring, from left to right, each ring once."""
    layout = layout_of(section)
    faces = faces_of(section)
    bearings = {bearing.id for bearing in section.bearings}
    found: dict[tuple[tuple[str, float], ...], Gap] = {}
    ids = list(faces)
    for mine in (face for id in ids for face in faces[id] if face.facing == "right"):
        for theirs in (face for id in ids if id != mine.of for face in faces[id] if face.facing == "left"):
            is_one = {mine.of, theirs.of}.isdisjoint(bearings) and (
                section.rigid_group(mine.of) == section.rigid_group(theirs.of)
            )
            if is_one or not touches(mine, theirs):
                continue
            along = (layout.places[theirs.of] + theirs.along) - (layout.places[mine.of] + mine.along)
            if along.terms:
                found.setdefault(tuple(sorted(along.terms)), Gap(mine.name, theirs.name, mine.z_mm, along))
    return tuple(sorted(found.values(), key=lambda gap: gap.z_mm))


def lands_of(section: Section) -> tuple[Gap, ...]:
    """Bores drawn as wide as a seat, which the ring must pass on its way: cut off by a groove, say; axles alike.

    They are turned in one go with the seat: what cannot be told from its diameter has it. Written as gaps between two
    diameters.
    """
    seats = [(seat_name(section, one), one.housing) for one in section.bearings]
    seats += [(journal_name(section, one), one.axle) for one in section.bearings if one.axle is not None]
    names = {name for name, _ in seats}
    found = []
    for seat, body in seats:
        group = [one for one in section.bodies if section.rigid_group(one.id) == section.rigid_group(body)]
        sizes = {surface.name: surface for one in group for surface in surfaces(one)}
        if seat is None:
            continue
        for land in sizes.values():
            own = sizes[seat]
            same = land.form == own.form and abs(land.diameter_mm - own.diameter_mm) <= SAME_MM
            if same and land.name not in names:
                along = Along(0.0, ((land.name, 1.0), (seat, -1.0)))
                found.append(Gap(land.name, seat, land.from_z_mm, along))
    return tuple({gap.left: gap for gap in found}.values())


class Closing(Derived, frozen=True):
    """How values of all quantities become those for which what cannot be told from touching touches."""

    rows: Array
    """(closed gaps, quantities): how each gap follows from the quantities."""
    fixed_mm: Array
    carry: Array
    """(quantities, closed gaps): how much each quantity yields per millimetre of gap."""

    def closed(self, values_mm: Array) -> Array:
        """Values of all quantities with these gaps closed [mm]; one row for each set of values."""
        return np.asarray(values_mm - (values_mm @ self.rows.T + self.fixed_mm) @ self.carry.T)


def closing_of(fitted: Fit, gaps: tuple[Gap, ...]) -> Closing:
    """The likeliest values given that what cannot be told from touching touches.

    A gap within its own doubt (3.29 standard uncertainties) is closed: x - U C'(C U C')⁻¹ g, as little against the
    readings as can be; assumed sizes yield first. Otherwise each hundredth of reading error would draw one thing
    into the other. A larger gap or overlap stays. Draws from what is known, closed alike, are draws from what is
    known once the gaps are known to be closed.

    References
    ----------
    [jcgm-100] 5.2; conditioning of a normal distribution on linear constraints
    """
    names = fitted.names
    rows = np.array([[dict(gap.along.terms).get(name, 0.0) for name in names] for gap in gaps])
    rows = rows.reshape(len(gaps), len(names))
    fixed = np.array([gap.along.fixed_mm for gap in gaps])
    sizes = np.array([gap_mm(fitted, gap) for gap in gaps])
    covariance = fitted.covariance + ASSUMED_WITHIN_MM**2 * fitted.unseen @ fitted.unseen.T
    carried = covariance @ rows.T
    doubts = np.sqrt(np.clip(np.diag(rows @ carried), 0.0, None))
    near = np.abs(sizes) <= np.maximum(POINTING_LIMIT * doubts, LEAST_MM)
    inner = (rows @ carried)[np.ix_(near, near)]
    return Closing(rows[near], fixed[near], carried[:, near] @ np.linalg.pinv(inner, rcond=1e-14))


def closed_mm(fitted: Fit, gaps: tuple[Gap, ...]) -> Mapping[str, float]:
    """The likeliest values of all quantities, with the gaps of `closing_of` closed [mm]."""
    values = fitted.values_mm
    if any(abs(gap_mm(fitted, gap)) > LEAST_MM for gap in gaps):
        values = closing_of(fitted, gaps).closed(values)
    return dict(zip(fitted.names, (float(value) for value in values), strict=True))


def gap_mm(fitted: Fit, gap: Gap) -> float:
    """The gap that the readings give, positive open, negative an overlap."""
    return gap.along.fixed_mm + fitted.value_mm(gap.along.combination())
