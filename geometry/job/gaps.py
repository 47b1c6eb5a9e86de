"""Gaps: contacts of the drawn section that close a ring, and what the measured sizes make of them.

A spacer hangs on the left bearing; whether it also meets the right one follows from the spacer and both
shoulders. Its gap there (negative: too long) is the figure that decides about preload.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from geometry.job.links import Along, faces_of, layout_of, touches
from geometry.readings.closure import POINTING_LIMIT
from geometry.readings.fit import Fit
from geometry.section.section import Section

LEAST_MM = 1e-6
ASSUMED_WITHIN_MM = 100.0
"""How far a size that nothing measures may be from its drawing: far enough to follow what is measured."""


@dataclass(frozen=True, slots=True)
class Gap:
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


def closed_mm(fitted: Fit, gaps: tuple[Gap, ...]) -> Mapping[str, float]:
    """The likeliest values of all quantities given that what cannot be told from touching touches [mm].

    A gap within its own doubt (3.29 standard uncertainties) is closed: x - U C'(C U C')⁻¹ g, as little against the
    readings as can be; assumed sizes yield first. Otherwise each hundredth of reading error would draw one thing
    into the other. A larger gap or overlap stays.

    References
    ----------
    [jcgm-100] 5.2; conditioning of a normal distribution on linear constraints
    """
    names, values = fitted.names, fitted.values_mm
    covariance = fitted.covariance + ASSUMED_WITHIN_MM**2 * fitted.unseen @ fitted.unseen.T
    rows = np.array([[dict(gap.along.terms).get(name, 0.0) for name in names] for gap in gaps])
    sizes = np.array([gap_mm(fitted, gap) for gap in gaps])
    if len(gaps) and np.abs(sizes).max() > LEAST_MM:
        carried = covariance @ rows.T
        doubts = np.sqrt(np.diag(rows @ carried))
        near = np.abs(sizes) <= np.maximum(POINTING_LIMIT * doubts, LEAST_MM)
        inner = (rows @ carried)[np.ix_(near, near)]
        values = values - carried[:, near] @ np.linalg.pinv(inner, rcond=1e-14) @ sizes[near]
    return dict(zip(names, (float(value) for value in values), strict=True))


def gap_mm(fitted: Fit, gap: Gap) -> float:
    """The gap that the readings give, positive open, negative an overlap."""
    return gap.along.fixed_mm + fitted.value_mm(gap.along.combination())
