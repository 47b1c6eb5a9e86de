"""Standard bearing sizes: boundary dimensions, faces that can be pushed, corners and static ratings."""

import re
from collections.abc import Iterator
from functools import cache

from geometry.errors import InputError, OutOfRangeError
from geometry.facts.table import Row, number, row_for_size, rows_of
from geometry.record import Derived

LIGHT_DIAMETER_SERIES = ("8", "9", "0", "1")
INNER_FACE_SHARE, OUTER_FACE_SHARE = 0.25, 0.22  # of D - d: medians of the light series in bearings.csv
CORNER_MIN_ASSUMED_MM = 0.3  # usual for bicycle sizes without a standardised corner


class BearingSize(Derived, frozen=True):
    """One size of deep groove ball bearing; all lengths are diameters or widths [mm].

    `estimated` names the fields that no source gives for this size.
    """

    designation: str
    """Trade number, for example 6902."""
    iso_designation: str
    """Number of the ISO dimension plan, for example 61902; empty for a size outside it."""
    diameter_series: str
    """ISO 15 diameter series, one digit; empty for a size outside it."""
    bore_mm: float
    outside_mm: float
    width_mm: float
    corner_min_mm: float
    corner_max_radial_mm: float
    corner_max_axial_mm: float
    inner_face_outside_mm: float
    """Where the face of the inner ring ends: at the seal's recess d2, else at the shoulder d1."""
    outer_face_inside_mm: float
    """Where the face of the outer ring begins: at the recess of the cap D2, else at the shoulder D1."""
    c0_n: float | None
    """Static load rating, the lowest of the catalogues cited [N]."""
    axial_limit_fraction: float
    """Greatest pure axial load as a share of the static rating [-]."""
    ball_count: int | None
    ball_diameter_mm: float | None
    f0: float | None
    """Factor of ISO 76, from the catalogue with the lowest rating [-]."""
    source: str
    certainty: str
    note: str
    estimated: tuple[str, ...]


class CornerLimits(Derived, frozen=True):
    """How far a ring's corner may reach along and across its face [mm] (ISO 582)."""

    min_mm: float
    max_radial_mm: float
    max_axial_mm: float
    fillet_max_mm: float
    """Largest fillet of the shaft or housing."""
    shoulder_height_min_mm: float
    source: str
    certainty: str


@cache
def bearing_sizes() -> tuple[BearingSize, ...]:
    """All sizes, in the order of the table."""
    return tuple(_size_of(row) for row in rows_of("bearings"))


def bearing_size(designation: str, width_mm: float | None = None) -> BearingSize:
    """The size that a trade or ISO number means, suffixes for seals and clearance ignored.

    A number that the trade uses for several widths, such as 688, means the narrowest capped one
    (5 mm) unless a width is given.

    Raises
    ------
    InputError
        The number is not in the table, or not in that width.
    """
    found = _sizes_by_number().get(_number_in(designation), ())
    if not found:
        raise InputError("Bearing", found=f"'{designation}'", expected=_near(designation))
    if width_mm is None:
        return min(found, key=_capped_then_narrow)
    for size in found:
        if abs(size.width_mm - width_mm) < 0.01:
            return size
    widths = " or ".join(f"{size.width_mm:g} mm" for size in found)
    raise InputError(f"Bearing {designation}", found=f"a width of {width_mm:g} mm", expected=widths)


def sizes_matching(
    *, bore_mm: float, outside_mm: float, width_mm: float | None = None, within_mm: float
) -> tuple[BearingSize, ...]:
    """The sizes whose dimensions all lie within a distance of those measured, nearest first.

    A width of None is not compared.
    """

    def distance_mm(size: BearingSize) -> float:
        across = max(abs(size.bore_mm - bore_mm), abs(size.outside_mm - outside_mm))
        return across if width_mm is None else max(across, abs(size.width_mm - width_mm))

    near = (size for size in bearing_sizes() if distance_mm(size) <= within_mm)
    return tuple(sorted(near, key=lambda size: (distance_mm(size), _capped_then_narrow(size))))


def axial_limit_fraction(*, bore_mm: float, diameter_series: str) -> float:
    """Greatest pure axial load as a share of the static rating, 0.25 or 0.5 [-].

    A quarter for bores up to 12 mm, for light series and for sizes outside the ISO plan (the careful value).

    References
    ----------
    [pub-17000] p. 254
    """
    light = bore_mm <= 12.0 or not diameter_series or diameter_series in LIGHT_DIAMETER_SERIES
    return 0.25 if light else 0.5


def corner_limits(*, corner_min_mm: float, bore_mm: float) -> CornerLimits:
    """Limits of a ring corner with the smallest size r_s min.

    Raises
    ------
    OutOfRangeError
        The table has no corner of this size for this bore.

    References
    ----------
    [cat-e1102] table 8.9.1, limits of ISO 582
    """
    rows = tuple(row for row in rows_of("chamfers") if float(row["rs_min_mm"]) == corner_min_mm)
    row = row_for_size(rows, bore_mm, over="bore_over_mm", incl="bore_incl_mm")
    if row is None:
        raise OutOfRangeError(f"No ring corner {corner_min_mm:g} mm is listed for a bore of {bore_mm:g} mm.")
    return CornerLimits(
        min_mm=corner_min_mm,
        max_radial_mm=float(row["rs_max_radial_mm"]),
        max_axial_mm=float(row["rs_max_axial_mm"]),
        fillet_max_mm=float(row["fillet_ra_max_mm"]),
        shoulder_height_min_mm=float(row["shoulder_height_h_min_mm"]),
        source=row["source"],
        certainty=row["certainty"],
    )


def f0(ratio: float) -> float:
    """Factor f0 of the static rating for Dw cos(alpha) / Dpw, linear between the table's steps [-].

    Raises
    ------
    OutOfRangeError
        The ratio lies outside 0 to 0.40.

    References
    ----------
    [gost-18854] table 1 (ISO 76)
    """
    table = _f0_table()
    for (low, f0_low), (high, f0_high) in zip(table, table[1:], strict=False):
        if low <= ratio <= high:
            return f0_low + (f0_high - f0_low) * (ratio - low) / (high - low)
    raise OutOfRangeError(f"f0 is listed for ratios of 0 to 0.40 only, not for {ratio:g}.")


@cache
def _f0_table() -> tuple[tuple[float, float], ...]:
    rows = rows_of("iso76_f0")
    return tuple((float(row["Dw_cos_alpha_over_Dpw"]), float(row["f0_radial_ball"])) for row in rows)


def _size_of(row: Row) -> BearingSize:
    bore_mm, outside_mm = float(row["bore_d_mm"]), float(row["outside_D_mm"])
    corner_mm = number(row, "corner_rs_min_mm")
    inner_mm = _inner_face_outside_mm(row)
    outer_mm = _outer_face_inside_mm(row)
    given = {"corner_min_mm": corner_mm, "inner_face_outside_mm": inner_mm, "outer_face_inside_mm": outer_mm}
    corner = corner_limits(corner_min_mm=corner_mm or CORNER_MIN_ASSUMED_MM, bore_mm=bore_mm)
    series = row["dimension_series"][-1:]
    c0_kn, count = number(row, "C0_min_kN"), number(row, "ball_count_computed")
    return BearingSize(
        designation=row["trade_designation"],
        iso_designation=row["iso_designation"],
        diameter_series=series,
        bore_mm=bore_mm,
        outside_mm=outside_mm,
        width_mm=float(row["width_B_mm"]),
        corner_min_mm=corner.min_mm,
        corner_max_radial_mm=corner.max_radial_mm,
        corner_max_axial_mm=corner.max_axial_mm,
        inner_face_outside_mm=inner_mm or _estimated_inner_mm(bore_mm, outside_mm),
        outer_face_inside_mm=outer_mm or _estimated_outer_mm(bore_mm, outside_mm),
        c0_n=None if c0_kn is None else round(c0_kn * 1000.0, 6),
        axial_limit_fraction=number(row, "pure_axial_limit_fraction")
        or axial_limit_fraction(bore_mm=bore_mm, diameter_series=series),
        ball_count=None if count is None else int(count),
        ball_diameter_mm=number(row, "ball_diameter_computed_mm"),
        f0=number(row, "f0"),
        source=row["source"],
        certainty=row["certainty"],
        note=row["note"],
        estimated=tuple(field for field, value in given.items() if value is None),
    )


def _inner_face_outside_mm(row: Row) -> float | None:
    return number(row, "inner_recess_d2_mm") or number(row, "inner_shoulder_d1_mm")


def _outer_face_inside_mm(row: Row) -> float | None:
    return number(row, "outer_recess_D2_mm") or number(row, "outer_shoulder_D1_mm")


def _estimated_inner_mm(bore_mm: float, outside_mm: float) -> float:
    """End of the inner face: that of a listed size with the same bore and outside, else a usual share."""
    listed = [face for face in map(_inner_face_outside_mm, _rows_across(bore_mm, outside_mm)) if face]
    return min(listed) if listed else round(bore_mm + INNER_FACE_SHARE * (outside_mm - bore_mm), 1)


def _estimated_outer_mm(bore_mm: float, outside_mm: float) -> float:
    """Begin of the outer face: that of a listed size with the same bore and outside, else a usual share."""
    listed = [face for face in map(_outer_face_inside_mm, _rows_across(bore_mm, outside_mm)) if face]
    return max(listed) if listed else round(outside_mm - OUTER_FACE_SHARE * (outside_mm - bore_mm), 1)


def _rows_across(bore_mm: float, outside_mm: float) -> Iterator[Row]:
    for row in rows_of("bearings"):
        if float(row["bore_d_mm"]) == bore_mm and float(row["outside_D_mm"]) == outside_mm:
            yield row


@cache
def _sizes_by_number() -> dict[str, tuple[BearingSize, ...]]:
    """Sizes under each number that means them, trade numbers before ISO numbers."""
    by_number: dict[str, tuple[BearingSize, ...]] = {}
    for row, size in zip(rows_of("bearings"), bearing_sizes(), strict=True):
        for name in {size.designation, row["also_known_as"], size.iso_designation} - {""}:
            by_number[name] = (*by_number.get(name, ()), size)
    return by_number


def _number_in(designation: str) -> str:
    """The size number without the letters for seals, clearance or material behind it."""
    text = designation.strip().upper()
    known = _sizes_by_number()
    number_match = re.match(r"(MR)?\s*(\d+(?:/\d+)?)(?![\d/])", text)
    if number_match is None:
        return text
    prefix, size_number = number_match[1] or "", number_match[2]
    return prefix + size_number if prefix + size_number in known else size_number


def _near(designation: str) -> str:
    from difflib import get_close_matches  # for what no table has, which is seldom

    near = get_close_matches(_number_in(designation), list(_sizes_by_number()), n=4, cutoff=0.6)
    listed = f"a listed size, such as {', '.join(near)}" if near else "a listed number, such as 6902"
    return f"{listed}, or the bore, outside and width as measured"


def _capped_then_narrow(size: BearingSize) -> tuple[bool, float]:
    return size not in _capped_sizes(), size.width_mm


@cache
def _capped_sizes() -> frozenset[BearingSize]:
    rows = zip(rows_of("bearings"), bearing_sizes(), strict=True)
    return frozenset(size for row, size in rows if row["outer_recess_D2_mm"])
