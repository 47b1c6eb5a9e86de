"""Metric screw threads with their nuts and washers, and the property classes of rods."""

import re
from functools import cache

from geometry.errors import InputError
from geometry.facts.table import Row, number, row_for_size, rows_of
from geometry.record import Derived


class Thread(Derived, frozen=True):
    """A metric thread with the hexagon nut and plain washer that belong to it; diameters and heights [mm]."""

    name: str
    """Diameter and pitch, for example M10x1.5."""
    major_mm: float
    pitch_mm: float
    pitch_diameter_mm: float
    rod_minor_mm: float
    """Minor diameter of the external thread, d3."""
    nut_minor_mm: float
    """Minor diameter of the internal thread, D1."""
    stress_area_mm2: float
    nut_height_mm: float
    across_flats_mm: float
    washer_inside_mm: float
    washer_outside_mm: float
    washer_thickness_mm: float
    clearance_hole_close_mm: float
    clearance_hole_medium_mm: float
    source: str
    certainty: str


class PropertyClass(Derived, frozen=True):
    """Strength of a bolt or threaded rod."""

    name: str
    tensile_mpa: float
    yield_mpa: float
    proof_mpa: float
    """Proof stress; for stainless steel, which has none, the 0.2 % proof strength."""
    source: str
    certainty: str
    note: str


def thread(name: str) -> Thread:
    """The thread of a name: M10 (coarse pitch), M10x1.5 or M10 x 1,5.

    Raises
    ------
    InputError
        The thread is not in the table.
    """
    wanted = re.sub(r"\s", "", name).upper().replace("×", "X").replace(",", ".")
    found = _threads().get(wanted)
    if found is None:
        raise InputError("Thread", found=f"'{name}'", expected=f"one of {', '.join(thread_names())}")
    return found


def thread_names() -> tuple[str, ...]:
    """All threads, smallest first."""
    return tuple(dict.fromkeys(each.name for each in _threads().values()))


def property_class(name: str, *, major_mm: float) -> PropertyClass:
    """The property class of a rod or bolt of one diameter; 'unmarked' for a rod without a mark.

    Raises
    ------
    InputError
        The class is not in the table.
    """
    wanted = name.strip()
    rows = tuple(row for row in rows_of("property_classes") if row["property_class"] == wanted)
    row = row_for_size(rows, major_mm, over="size_over_mm", incl="size_incl_mm")
    if row is None:
        known = ", ".join(property_class_names())
        raise InputError("Property class", found=f"'{name}'", expected=f"one of {known}")
    yield_mpa = float(row["yield_or_Rp02_min_MPa"])
    return PropertyClass(
        name=wanted,
        tensile_mpa=float(row["tensile_Rm_min_MPa"]),
        yield_mpa=yield_mpa,
        proof_mpa=number(row, "proof_stress_Sp_MPa") or yield_mpa,
        source=row["source"],
        certainty=row["certainty"],
        note=row["note"],
    )


def property_class_names() -> tuple[str, ...]:
    """All property classes."""
    return tuple(dict.fromkeys(row["property_class"] for row in rows_of("property_classes")))


@cache
def _threads() -> dict[str, Thread]:
    """Threads under each name that means them."""
    by_name: dict[str, Thread] = {}
    for row in rows_of("threads"):
        each = _thread_of(row)
        by_name[each.name.upper()] = each
        by_name[row["size"].upper()] = each
    return by_name


def _thread_of(row: Row) -> Thread:
    major, pitch_mm = row["size"].partition("x")[0], float(row["pitch_P_mm"])
    return Thread(
        name=f"{major}x{pitch_mm:g}",
        major_mm=float(major.removeprefix("M")),
        pitch_mm=pitch_mm,
        pitch_diameter_mm=float(row["pitch_d2_mm"]),
        rod_minor_mm=float(row["external_minor_d3_mm"]),
        nut_minor_mm=float(row["internal_minor_D1_mm"]),
        stress_area_mm2=float(row["stress_area_As_mm2"]),
        nut_height_mm=float(row["nut_height_m_max_mm"]),
        across_flats_mm=float(row["nut_across_flats_s_mm"]),
        washer_inside_mm=float(row["washer_inside_mm"]),
        washer_outside_mm=float(row["washer_outside_mm"]),
        washer_thickness_mm=float(row["washer_thickness_max_mm"]),
        clearance_hole_close_mm=float(row["clearance_hole_close_mm"]),
        clearance_hole_medium_mm=float(row["clearance_hole_medium_mm"]),
        source=row["source"],
        certainty=row["certainty"],
    )
