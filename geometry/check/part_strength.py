"""Strength of parts and bodies between two contacts: floors and plates, walls of tubes, columns."""

from collections.abc import Callable
from math import pi, sqrt

from geometry.check.finding import Place
from geometry.check.member import Member, material_or_none, working_stress_mpa
from geometry.check.result import ContactForce, Moment, Thing, Utilisation
from geometry.check.thrust import THIN_SLICE_MM, AxialLoad, Block, blocks_of
from geometry.check.wording import mm, name_of, newtons
from geometry.facts.materials import Material
from geometry.job.job import Job
from geometry.mechanics.column import (
    annulus_area_mm2,
    longest_column_mm,
    rankine_constant,
    rankine_force_n,
    thin_wall_mpa,
)
from geometry.mechanics.ring import plate_bending_mpa, plate_shear_mpa, tube_end_bending_mpa
from geometry.mechanics.rod import SHEAR_OF_TENSION
from geometry.parts.forms import Toe
from geometry.record import Derived
from geometry.stack.scene import Scene

WALL_FROM = 2.0
"""A block this many times as long as it is wide, or rooted in a thick one, is a wall; else it is a plate or a ring."""
THIN_FROM = 10.0
"""A wall is thin, and may buckle by itself, from this many mean radii to a thickness."""
HALF_WAVE = 1.72
"""Length of a buckle over sqrt(R t); a rim shorter than that stands (Timoshenko and Gere, memory)."""
SLENDER_FROM = 20.0
"""Length over radius of gyration from which a part is looked at as a column."""
TO_SPARE_A_BODY = "Warm the housing to ease the fit, or let the tool parts stand on a wider, straighter face"
TRIED = ("aluminium", "steel")
"""Materials that a part can be turned from anew, cheapest first."""


class Pressed(Derived, frozen=True):
    """A part or body under the loads of one moment, scaled to the expected force."""

    thing: Thing
    facts: Material
    working_mpa: float
    around: float
    """Share of the circumference that the part has: a half-shell 0.5."""
    shift_mm: float
    """How far it has moved since the start."""
    high: float
    """High end of the force band over the expected force."""
    caution: float


class _Row(Derived, frozen=True):
    """One way in which a part gives way: the share of it that is used, and the member that tells it."""

    share: float
    told: Callable[[], Member]


def part_members(
    job: Job, scene: Scene, sliding: Moment, *, scale: float, high: float, skip: frozenset[str] = frozenset()
) -> list[Member]:
    """The governing row of each part and body that is pressed between two of its faces, and of each that may buckle.

    Parameters
    ----------
    scale
        Expected press force over that of the moment.
    high
        High end of the force band over the expected force.
    """
    found: list[Member] = []
    for thing in scene.things:
        facts = material_or_none(_material_name(job, thing))
        if thing.id in skip or facts is None or thing.kind in ("rod", "inner ring", "outer ring", "seals", "circlip"):
            continue
        working = working_stress_mpa(facts)
        loads = loads_on(thing, sliding.contacts, scale)
        if working is None or not loads:
            continue
        shift = sliding.shift_mm.get(thing.group, 0.0)
        around = _around(job, thing)
        pressed = Pressed(thing, facts, working, around, shift, high, job.limits.utilisation_caution)
        local = tuple(
            AxialLoad(one.z_mm - thing.at_mm - shift, one.force_n, one.inner_radius_mm, one.outer_radius_mm)
            for one in loads
        )
        found += _members_of(pressed, blocks_of(thing.profile, local))
    return found


def loads_on(thing: Thing, contacts: tuple[ContactForce, ...], scale: float) -> tuple[AxialLoad, ...]:
    """Forces along the axis on one thing: the left one of a contact is pushed to the left."""
    found = []
    for one in contacts:
        if thing.id in one.between:
            force = -one.force_n if one.between[0] == thing.id else one.force_n
            found.append(AxialLoad(one.z_mm, scale * force, one.inner_diameter_mm / 2, one.outer_diameter_mm / 2))
    return tuple(found)


def _material_name(job: Job, thing: Thing) -> str:
    if thing.side is not None:
        return job.part(thing.id.split("@")[0]).material
    return next((body.material for body in job.section.bodies if body.id == thing.id), "")


def _around(job: Job, thing: Thing) -> float:
    if thing.side is None:
        return 1.0
    part = job.part(thing.id.split("@")[0])
    if isinstance(part.form, Toe):
        return part.form.arc_deg / 360
    return 0.5 if part.partial else 1.0


def _members_of(pressed: Pressed, blocks: tuple[Block, ...]) -> list[Member]:
    if not blocks:
        return []
    rows = []
    for block in blocks:
        if block.is_rooted or block.thickness_mm > WALL_FROM * block.width_mm:
            rows.append(_wall_row(pressed, block))
        else:
            rows += [_sheared_row(pressed, block)] + ([] if _is_edge(block) else [_bent_row(pressed, block)])
        if block.pressed_n > 0.0 and block.inner_radius_mm > 0.0:
            rows.append(_pressed_row(pressed, block))
    found = [_governing(rows)]
    thin = [_thin_row(pressed, one) for one in blocks if _is_thin(one)]
    if thin:
        found.append(_governing(thin))
    column = _column_row(pressed, blocks) if pressed.thing.side is not None else None
    return found + ([column] if column is not None else [])


def _governing(rows: list[_Row]) -> Member:
    """The row that uses most of what it bears, in words."""
    return max(rows, key=lambda row: row.share).told()


def _is_edge(block: Block) -> bool:
    """A thin slice between two steps that the force crosses steeply: no plate."""
    radii = [load.radius_mm for load in block.at_left + block.at_right]
    return block.thickness_mm < THIN_SLICE_MM and max(radii) - min(radii) < block.thickness_mm / 2


def _plate_of(pressed: Pressed) -> str:
    """What bends, in words: a tool part has a plate or a floor, a body of the assembly walls at its ends."""
    return "its end wall" if pressed.thing.side is None else "the plate or floor"


def _bent_row(pressed: Pressed, block: Block) -> _Row:
    loads = block.at_left + block.at_right
    stress = plate_bending_mpa(
        bore_radius_mm=block.inner_radius_mm,
        outside_radius_mm=block.outer_radius_mm,
        thickness_mm=block.thickness_mm,
        poisson=pressed.facts.poisson,
        loads=loads,
    ) / pressed.around  # fmt: skip

    def told() -> Member:
        t = block.thickness_mm
        enough = t * sqrt(stress / (pressed.caution * pressed.working_mpa))
        radii = sorted(load.radius_mm for load in loads)
        words = (
            f"{newtons(_greatest_n(block))} between {mm(2 * radii[0])} and {mm(2 * radii[-1])} on {mm(t)} of"
            f" thickness, {mm(2 * block.inner_radius_mm)} to {mm(2 * block.outer_radius_mm)}"
        )
        return _stressed(
            pressed, block, f"bending of {_plate_of(pressed)}", stress, words,
            "annular plate with free edges, handbook of plates (memory)", f"at least {mm(enough)} mm thick there",
        )  # fmt: skip

    return _Row(stress / pressed.working_mpa, told)


def _sheared_row(pressed: Pressed, block: Block) -> _Row:
    loads = block.at_left + block.at_right
    stress = plate_shear_mpa(thickness_mm=block.thickness_mm, loads=loads) / SHEAR_OF_TENSION / pressed.around

    def told() -> Member:
        enough = block.thickness_mm * stress / (pressed.caution * pressed.working_mpa)
        return _stressed(
            pressed, block, f"shear of {_plate_of(pressed)}", stress,
            f"{newtons(_greatest_n(block))} across {mm(block.thickness_mm)} of thickness",
            "shear over pi d t, 1.5 times in the middle, sqrt 3 after von Mises (memory)",
            f"at least {mm(enough)} mm thick there",
        )  # fmt: skip

    return _Row(stress / pressed.working_mpa, told)


def _pressed_row(pressed: Pressed, block: Block) -> _Row:
    area = pressed.around * annulus_area_mm2(outside_mm=2 * block.outer_radius_mm, bore_mm=2 * block.inner_radius_mm)
    stress = block.pressed_n / area

    def told() -> Member:
        needed = area * stress / (pressed.caution * pressed.working_mpa)
        outside = sqrt(4 * needed / (pi * pressed.around) + (2 * block.inner_radius_mm) ** 2)
        return _stressed(
            pressed, block, "compression of the section", stress,
            f"{newtons(block.pressed_n)} / {area:.1f} mm²", "force over the section",
            f"at least {mm(outside)} mm outside with the bore of {mm(2 * block.inner_radius_mm)} mm",
        )  # fmt: skip

    return _Row(stress / pressed.working_mpa, told)


def _wall_row(pressed: Pressed, block: Block) -> _Row:
    """A wall: its compression, and the bending of the end that is loaded beside the middle of the wall."""
    ends = [
        abs(sum(load.force_n * (load.radius_mm - block.mean_radius_mm) for load in end))
        for end in (block.at_left, block.at_right)
    ]
    couple = max(ends)
    force = _greatest_n(block)
    lever = couple / force
    bent = tube_end_bending_mpa(
        force_n=force, lever_mm=lever, mean_radius_mm=block.mean_radius_mm, thickness_mm=block.width_mm
    )
    area = annulus_area_mm2(outside_mm=2 * block.outer_radius_mm, bore_mm=2 * block.inner_radius_mm)
    stress = (force / area + bent) / pressed.around

    def told() -> Member:
        enough = _wall_enough(pressed, block, force, lever)
        return _stressed(
            pressed, block, "wall under its rim load", stress,
            f"{newtons(force)} {mm(lever)} beside the middle of a wall of {mm(block.width_mm)}:"
            f" {force / area / pressed.around:.0f} + {bent / pressed.around:.0f} MPa",
            "force over the section, and couple on the edge of a tube, handbook of shells (memory)",
            f"with a wall of at least {mm(enough)} mm there and its face in line with it",
        )  # fmt: skip

    return _Row(stress / pressed.working_mpa, told)


def _wall_enough(pressed: Pressed, block: Block, force: float, lever: float) -> float:
    """Thickness of a wall at the same mean radius with which the caution would go."""
    line = force / (2 * pi * block.mean_radius_mm) / pressed.around
    allowed = pressed.caution * pressed.working_mpa
    return (line + sqrt(line**2 + 24 * allowed * line * lever)) / (2 * allowed)


def _is_thin(block: Block) -> bool:
    radius, wall = block.mean_radius_mm, block.width_mm
    is_long = block.thickness_mm > HALF_WAVE * sqrt(radius * wall)
    return block.pressed_n > 0.0 and radius > THIN_FROM * wall and is_long


def _thin_row(pressed: Pressed, block: Block) -> _Row:
    area = pressed.around * annulus_area_mm2(outside_mm=2 * block.outer_radius_mm, bore_mm=2 * block.inner_radius_mm)
    stress = block.pressed_n / area
    bears = thin_wall_mpa(
        e_mpa=pressed.facts.youngs_modulus_mpa, thickness_mm=block.width_mm, mean_radius_mm=block.mean_radius_mm
    )

    def told() -> Member:
        enough = block.width_mm * sqrt(stress / (pressed.caution * bears))
        sum_ = f"{newtons(block.pressed_n)} / {area:.1f} mm² = {stress:.1f} MPa; 0.3 x 0.6 E t/R = {bears:.1f} MPa"
        source = "thin cylinder pressed along its axis, a knock-down of 0.3 (memory)"
        return _member(
            pressed, block, "buckling of the thin wall", stress, bears, "MPa", sum_, source,
            f"Use one with a wall of at least {mm(enough)} mm.", code="part-buckles",
        )  # fmt: skip

    return _Row(stress / bears, told)


def _column_row(pressed: Pressed, blocks: tuple[Block, ...]) -> Member | None:
    walls = [one for one in blocks if one.pressed_n > 0.0]
    if not walls or pressed.around < 1.0:
        return None
    weakest = min(walls, key=lambda one: one.outer_radius_mm**4 - one.inner_radius_mm**4)
    length = max(one.to_z_mm for one in walls) - min(one.from_z_mm for one in walls)
    outside, bore = 2 * weakest.outer_radius_mm, 2 * weakest.inner_radius_mm
    if length < SLENDER_FROM * sqrt(outside**2 + bore**2) / 4:
        return None
    e, yields, force = pressed.facts.youngs_modulus_mpa, pressed.working_mpa, weakest.pressed_n
    constant = rankine_constant(yield_mpa=yields, e_mpa=e)
    bears = rankine_force_n(
        yield_mpa=yields, outside_mm=outside, bore_mm=bore, length_mm=length, constant=constant
    )
    longest = longest_column_mm(
        force_n=force / pressed.caution, yield_mpa=yields, e_mpa=e, outside_mm=outside, bore_mm=bore
    )
    sum_ = f"{mm(length)} long, {mm(outside)} outside, bore {mm(bore)}, ends free to turn: bears {newtons(bears)}"
    way_out = f"Use one of at most {mm(longest)} mm, or one that is wider."
    return _member(
        pressed, weakest, "buckling as a column", force, bears, "N", sum_,
        "column of any length after Rankine, ends free to turn (common practice)", way_out, code="part-buckles",
    )  # fmt: skip


def _greatest_n(block: Block) -> float:
    return sum(abs(load.force_n) for load in block.at_left + block.at_right) / 2


def _stressed(
    pressed: Pressed, block: Block, what: str, stress: float, words: str, source: str, enough: str
) -> Member:
    sum_ = f"{words} = {stress:.0f} MPa; {100 * stress / pressed.working_mpa:.0f} % of {pressed.working_mpa:.0f} MPa"
    harder = _harder(pressed, stress)
    way_out = f"Use one {enough}{f', or one of {harder}' if harder else ''}."
    if pressed.thing.side is None:
        way_out = f"{TO_SPARE_A_BODY} ({enough} would do)."
    return _member(
        pressed, block, what, stress, pressed.working_mpa, "MPa", sum_,
        f"{source}; yield, at most the face pressure of facts/materials.csv", way_out, code="part-overstressed",
    )  # fmt: skip


def _harder(pressed: Pressed, stress: float) -> str:
    """The cheapest other material of which the part as it is would do; empty where none does."""
    for name in TRIED:
        facts = material_or_none(name)
        working = working_stress_mpa(facts) if facts is not None else None
        if working is not None and pressed.working_mpa < working and stress <= pressed.caution * working:
            return name
    return ""


def _member(
    pressed: Pressed, block: Block, what: str, value: float, allowable: float, unit: str, sum_: str, source: str,
    way_out: str, *, code: str,
) -> Member:  # fmt: skip
    share = value / allowable
    thing = pressed.thing
    bears = f"{allowable:.0f} MPa" if unit == "MPa" else newtons(allowable)
    found = f"{value:.0f} MPa" if unit == "MPa" else newtons(value)
    z = (block.from_z_mm + block.to_z_mm) / 2 + thing.at_mm
    return Member(
        Utilisation(thing.id, what, value, allowable, unit, share, share * pressed.high, sum_, source),
        code,
        f"{name_of(thing.id)}: {what}, {found}; {pressed.facts.name} bears {bears} there.",
        way_out,
        Place(z, 2 * block.mean_radius_mm),
    )
