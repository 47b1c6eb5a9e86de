"""Limits of sizes: holes and shafts of ISO 286, rings of ISO 492, internal clearance of ISO 5753."""

from functools import cache

from geometry.errors import InputError, OutOfRangeError
from geometry.facts.table import Row, row_for_size, rows_of
from geometry.record import Derived


class Limits(Derived, frozen=True):
    """Lower and upper limit [µm], as the tables print them."""

    lower_um: float
    upper_um: float
    source: str
    certainty: str


def deviations(tolerance_class: str, size_mm: float) -> Limits:
    """Deviations of a hole (H7) or shaft (h6) from its nominal size.

    Raises
    ------
    InputError
        The class is not in the table.
    OutOfRangeError
        The size is not over 6 and up to 80 mm.

    References
    ----------
    [iso-286]; each row names the table it was read from
    """
    rows = _classes().get(tolerance_class.strip())
    if rows is None:
        raise InputError("Tolerance class", found=f"'{tolerance_class}'", expected=_classes_in_words())
    row = row_for_size(rows, size_mm, over="size_over_mm", incl="size_incl_mm")
    if row is None:
        raise OutOfRangeError(f"{tolerance_class} is listed over 6 up to 80 mm only, not for {size_mm:g} mm.")
    return _limits(row, lower="lower_deviation_um", upper="upper_deviation_um")


def deviations_um(tolerance_class: str, size_mm: float) -> tuple[float, float]:
    """Lower and upper deviation of a hole (H7) or shaft (h6) [µm]."""
    limits = deviations(tolerance_class, size_mm)
    return limits.lower_um, limits.upper_um


def ring_bore_deviations(*, bore_mm: float, ring_class: str = "Normal") -> Limits:
    """Deviation of a bearing's mean bore diameter, ring class Normal or 6 (ISO 492)."""
    return _ring_limits("delta_dmp", ring_class, bore_mm)


def ring_outside_deviations(*, outside_mm: float, ring_class: str = "Normal") -> Limits:
    """Deviation of a bearing's mean outside diameter, ring class Normal or 6 (ISO 492)."""
    return _ring_limits("delta_Dmp", ring_class, outside_mm)


def ring_width_deviations(*, bore_mm: float, ring_class: str = "Normal") -> Limits:
    """Deviation of a ring's width, inner and outer alike, by the bearing's bore (ISO 492)."""
    return _ring_limits("delta_Bs", ring_class, bore_mm)


def radial_clearance(group: str, bore_mm: float) -> Limits:
    """Radial internal clearance, diametral, of an unfitted bearing of group C2, CN, C3 or C4 (ISO 5753)."""
    return _ring_limits("radial_internal_clearance", group, bore_mm)


def radial_clearance_um(group: str, bore_mm: float) -> tuple[float, float]:
    """Least and greatest radial internal clearance, diametral, of an unfitted bearing [µm]."""
    limits = radial_clearance(group, bore_mm)
    return limits.lower_um, limits.upper_um


def _ring_limits(quantity: str, ring_class: str, size_mm: float) -> Limits:
    of_quantity = tuple(row for row in rows_of("bearing_tolerances") if row["quantity"] == quantity)
    rows = tuple(row for row in of_quantity if row["class_or_group"] == ring_class)
    if not rows:
        known = ", ".join(dict.fromkeys(row["class_or_group"] for row in of_quantity))
        raise InputError("Bearing class or group", found=f"'{ring_class}'", expected=f"one of {known}")
    row = row_for_size(rows, size_mm, over="size_over_mm", incl="size_incl_mm")
    if row is None:
        low, high = rows[0]["size_over_mm"], rows[-1]["size_incl_mm"]
        raise OutOfRangeError(
            f"Group {ring_class} is listed over {low} up to {high} mm only, not for {size_mm:g} mm."
        )
    return _limits(row, lower="lower_um", upper="upper_um")


def _limits(row: Row, *, lower: str, upper: str) -> Limits:
    return Limits(float(row[lower]), float(row[upper]), row["source"], row["certainty"])


@cache
def _classes() -> dict[str, tuple[Row, ...]]:
    classes: dict[str, tuple[Row, ...]] = {}
    for row in rows_of("iso286"):
        name = row["tolerance_class"]
        classes[name] = (*classes.get(name, ()), row)
    return classes


def _classes_in_words() -> str:
    return "a hole such as H7 or a shaft such as h6, grades 5 to 8"
