"""Price list: what a set costs and weighs, its bill of materials, and sets side by side; rows for tables and CSV."""

from collections.abc import Sequence
from math import pi

from geometry.facts.materials import material
from geometry.parts.forms import Nut
from geometry.parts.part import ToolPart, part_profile
from geometry.parts.tool_set import ToolSet
from geometry.planning.coverage import Coverage
from geometry.profile.profile import Profile

Row = dict[str, str]
PRICE_COLUMNS = ("part", "name", "kind", "pieces", "price", "sum", "currency")
BILL_COLUMNS = (
    "part", "name", "kind", "material", "pieces", "outside_mm", "length_mm", "thread", "weight_kg",
    "weight_of_all_kg",
)  # fmt: skip
COMPARISON_COLUMNS = (
    "set", "parts", "pieces", "price", "currency", "weight_kg", "jobs", "jobs_with_caution", "jobs_undecided",
    "jobs_missed", "jobs_only_here",
)  # fmt: skip
MM3_PER_M3 = 1e9
HEXAGON_OVER_CIRCLE = 3 * 3**0.5 / (2 * pi)
"""Area of a hexagon over that of the circle through its corners, by which a nut is drawn."""


def price_list(tool_set: ToolSet) -> tuple[Row, ...]:
    """A row for each part, by kind and id, and one for the sum (PRICE_COLUMNS)."""
    rows = [
        {
            "part": part.id,
            "name": part.title,
            "kind": part.kind,
            "pieces": str(part.stock),
            "price": f"{part.price:.2f}",
            "sum": f"{part.stock * part.price:.2f}",
            "currency": tool_set.currency,
        }
        for part in _in_order(tool_set.parts)
    ]
    total = {
        "part": "",
        "name": "all parts",
        "kind": "",
        "pieces": str(sum(part.stock for part in tool_set.parts)),
        "price": "",
        "sum": f"{price_of(tool_set):.2f}",
        "currency": tool_set.currency,
    }
    return (*rows, total)


def bill_of_materials(tool_set: ToolSet) -> tuple[Row, ...]:
    """A row for each part with what it is turned from (BILL_COLUMNS); the weight is that of the finished part."""
    return tuple(
        {
            "part": part.id,
            "name": part.title,
            "kind": part.kind,
            "material": part.material,
            "pieces": str(part.stock),
            "outside_mm": f"{2 * part_profile(part).r_max_mm:g}",
            "length_mm": f"{part.length_mm:g}",
            "thread": part.thread or "",
            "weight_kg": f"{weight_kg(part):.4f}",
            "weight_of_all_kg": f"{part.stock * weight_kg(part):.4f}",
        }
        for part in _in_order(tool_set.parts)
    )


def compared(sets: Sequence[ToolSet], coverage: Coverage) -> tuple[Row, ...]:
    """The sets side by side: parts, price, weight and jobs (COMPARISON_COLUMNS)."""
    covered = {one.title: set(coverage.covered(one.title)) for one in sets}
    rows = []
    for one in sets:
        others = set().union(*(jobs for title, jobs in covered.items() if title != one.title))
        careful = [job for job in covered[one.title] if coverage.cells[job, one.title].state != "covered"]
        rows.append(
            {
                "set": one.title,
                "parts": str(len(one.parts)),
                "pieces": str(sum(part.stock for part in one.parts)),
                "price": f"{price_of(one):.2f}",
                "currency": one.currency,
                "weight_kg": f"{sum(part.stock * weight_kg(part) for part in one.parts):.2f}",
                "jobs": str(len(covered[one.title])),
                "jobs_with_caution": str(len(careful)),
                "jobs_undecided": str(len(coverage.undecided(one.title))),
                "jobs_missed": str(len(coverage.missed(one.title))),
                "jobs_only_here": str(len(covered[one.title] - others)),
            }
        )
    return tuple(rows)


def price_of(tool_set: ToolSet) -> float:
    """Price of all pieces, in the currency of the set."""
    return round(sum(part.stock * part.price for part in tool_set.parts), 2)


def weight_kg(part: ToolPart) -> float:
    """Weight of the finished part from its outline and the density of its material [kg].

    A part that does not go all the way round is taken as whole; a nut has its six flats.
    """
    volume = profile_volume_mm3(part_profile(part))
    if isinstance(part.form, Nut):
        bore = pi / 4 * part.form.bore_mm**2 * part.form.length_mm
        volume = HEXAGON_OVER_CIRCLE * (volume + bore) - bore
    return volume / MM3_PER_M3 * material(part.material).density_kg_m3


def profile_volume_mm3(profile: Profile) -> float:
    """Volume of the solid of revolution: the sum over the edges of the outline [mm³].

    Notes
    -----
    V = pi * integral of r² dz around the outline; over a straight edge r² integrates to
    dz (r0² + r0 r1 + r1²)/3, the frustum of a cone. Outer rings count, holes are taken off by their direction.
    """
    volume = 0.0
    for ring in profile.rings:
        around = 0.0
        for (z0, r0), (z1, r1) in zip(ring, (*ring[1:], ring[0]), strict=True):
            around += (z1 - z0) * (r0 * r0 + r0 * r1 + r1 * r1) / 3
        volume += around
    return pi * abs(volume)


def _in_order(parts: Sequence[ToolPart]) -> list[ToolPart]:
    return sorted(parts, key=lambda part: (part.kind, part.id))
