"""What two bodies have in common where they run into one another: how much, and where."""

from itertools import pairwise
from math import pi

from geometry.profile.outline import Point
from geometry.profile.profile import Profile, Span
from geometry.profile.touch import Band
from geometry.record import Derived

DEEP_MM = 1e-6
"""Bodies that share less than this along z or r only touch."""

_Piece = tuple[Point, Point, Point, Point]
"""Common material between two radii: (z, r) from and to at the inner, from and to at the outer radius."""


class Overlap(Derived, frozen=True):
    """Common material of two bodies [mm³], and the ranges that it lies in [mm]."""

    volume_mm3: float
    from_z_mm: float
    to_z_mm: float
    inner_radius_mm: float
    outer_radius_mm: float


def overlap(
    a: Profile, b: Profile, *, a_at_mm: float, b_at_mm: float, ignore: Band | None = None
) -> Overlap | None:
    """The common material of two bodies at their places; None if they share nothing deeper than 1e-6 mm.

    Radii in `ignore` do not count. Volume by Pappus, strip by strip, exact for polygons.
    """
    pieces = _pieces(a, b, a_at_mm, b_at_mm, ignore)
    if not pieces:
        return None
    return Overlap(
        volume_mm3=sum(_volume_mm3(piece) for piece in pieces),
        from_z_mm=min(min(piece[0][0], piece[2][0]) for piece in pieces),
        to_z_mm=max(max(piece[1][0], piece[3][0]) for piece in pieces),
        inner_radius_mm=min(piece[0][1] for piece in pieces),
        outer_radius_mm=max(piece[2][1] for piece in pieces),
    )


def _pieces(a: Profile, b: Profile, a_at: float, b_at: float, ignore: Band | None) -> list[_Piece]:
    if a.r_max_mm <= b.r_min_mm or b.r_max_mm <= a.r_min_mm:
        return []
    if a.z_max_mm + a_at <= b.z_min_mm + b_at or b.z_max_mm + b_at <= a.z_min_mm + a_at:
        return []
    pieces: list[_Piece] = []
    a_strips, b_strips = a.strips, b.strips
    i = j = 0
    while i < len(a_strips) and j < len(b_strips):
        a_inner, a_outer, a_spans = a_strips[i]
        b_inner, b_outer, b_spans = b_strips[j]
        for inner, outer in _outside_band(max(a_inner, b_inner), min(a_outer, b_outer), ignore):
            there = [_within(span, b_inner, b_outer, inner, outer, b_at) for span in b_spans]
            for a_span in a_spans:
                here = _within(a_span, a_inner, a_outer, inner, outer, a_at)
                for each in there:
                    if _reach(here, each) > DEEP_MM:
                        pieces += _common(here, each, inner, outer)
        if a_outer < b_outer:
            i += 1
        else:
            j += 1
    return pieces


def _outside_band(inner: float, outer: float, ignore: Band | None) -> list[tuple[float, float]]:
    if ignore is None:
        parts = [(inner, outer)]
    else:
        parts = [(inner, min(outer, ignore.inner_radius_mm)), (max(inner, ignore.outer_radius_mm), outer)]
    return [(start, end) for start, end in parts if end - start > DEEP_MM]


def _within(span: Span, span_inner: float, span_outer: float, inner: float, outer: float, at: float) -> Span:
    """The span cut to the radii from inner to outer, moved to its place."""
    start0, end0, start1, end1 = span
    if _is_square(span):
        return start0 + at, end0 + at, start0 + at, end0 + at
    width = span_outer - span_inner
    low, high = (inner - span_inner) / width, (outer - span_inner) / width
    start, end = start1 - start0, end1 - end0
    return (
        start0 + low * start + at, end0 + low * end + at,
        start0 + high * start + at, end0 + high * end + at,
    )  # fmt: skip


def _reach(here: Span, there: Span) -> float:
    """No common depth is larger than this."""
    return min(max(here[1], here[3]), max(there[1], there[3])) - max(
        min(here[0], here[2]), min(there[0], there[2])
    )


def _common(here: Span, there: Span, inner: float, outer: float) -> list[_Piece]:
    """Common material of two spans: pieces with straight edges, cut where edges of the spans cross."""
    if _is_square(here) and _is_square(there):
        start, end = max(here[0], there[0]), min(here[1], there[1])
        return [((start, inner), (end, inner), (start, outer), (end, outer))]
    shares = {0.0, 1.0}
    for first, second in ((here[::2], there[::2]), (here[1::2], there[1::2]), (here[1::2], there[::2]),
                          (there[1::2], here[::2])):  # fmt: skip
        shares |= _crossing(first[0] - second[0], first[1] - second[1])
    pieces: list[_Piece] = []
    for low, high in pairwise(sorted(shares)):
        from_low, to_low = _common_at(here, there, low)
        from_high, to_high = _common_at(here, there, high)
        if max(to_low - from_low, to_high - from_high) > DEEP_MM:
            r_low, r_high = inner + low * (outer - inner), inner + high * (outer - inner)
            pieces.append(((from_low, r_low), (to_low, r_low), (from_high, r_high), (to_high, r_high)))
    return pieces


def _is_square(span: Span) -> bool:
    return span[0] == span[2] and span[1] == span[3]


def _crossing(at_inner: float, at_outer: float) -> set[float]:
    """The share of the way outwards at which a difference changes its sign."""
    return {at_inner / (at_inner - at_outer)} if at_inner * at_outer < 0.0 else set()


def _common_at(here: Span, there: Span, share: float) -> tuple[float, float]:
    start = max(here[0] + share * (here[2] - here[0]), there[0] + share * (there[2] - there[0]))
    end = min(here[1] + share * (here[3] - here[1]), there[1] + share * (there[3] - there[1]))
    return start, max(start, end)


def _volume_mm3(piece: _Piece) -> float:
    """2 pi times the integral of r times depth, the depth linear in r."""
    (from_low, r_low), (to_low, _), (from_high, r_high), (to_high, _) = piece
    low, high, width = to_low - from_low, to_high - from_high, r_high - r_low
    return 2 * pi * width * (r_low * (low + high) / 2 + width * (low + 2 * high) / 6)
