"""Pressure on the faces that parts stand on, against what their materials bear."""

from math import inf, pi

from geometry.check.contact_path import Pair
from geometry.check.finding import Finding, Place
from geometry.check.landing import Landing, landings_between_parts
from geometry.check.nut_face import nut_face_mm
from geometry.check.result import Thing
from geometry.check.wording import name_of
from geometry.errors import InputError
from geometry.facts.materials import Material, material
from geometry.job.job import Job
from geometry.mechanics.face import face_pressure_mpa
from geometry.parts.forms import Nut
from geometry.record import Derived

FACE_SOURCE = "force over the area touched at the worst offset; allowable: facts/materials.csv"


class FacePressure(Derived, frozen=True):
    """Pressure on the face of one of the two that stand on each other."""

    thing: Thing
    on: Thing
    material: str
    force_n: float
    area_mm2: float
    allowable_mpa: float
    held_mpa: float | None
    place: Place

    @property
    def pressure_mpa(self) -> float:
        return face_pressure_mpa(force_n=self.force_n, area_mm2=self.area_mm2)

    @property
    def share(self) -> float:
        return self.pressure_mpa / self.allowable_mpa

    @property
    def sum(self) -> str:
        return (
            f"{self.force_n:.0f} N / {self.area_mm2:.1f} mm² = {self.pressure_mpa:.0f} MPa;"
            f" {100 * self.share:.0f} % of {self.allowable_mpa:.0f} MPa"
        )


def pressure_between_parts(
    job: Job, pairs: tuple[Pair, ...], forces: dict[tuple[str, str], float], share: float
) -> list[Finding]:
    """Face pressure where tool parts stand on each other, at `share` times the forces given."""
    found = []
    for landing in landings_between_parts(pairs, forces):
        if landing.flat:
            found += pressure_findings(job, landing, landing.force_n * share)
    return found


def pressure_findings(job: Job, landing: Landing, force: float) -> list[Finding]:
    """What is pressed on a face too hard, on either side of a landing."""
    return [
        Finding(
            "part-overstressed",
            "fault" if one.share >= 1.0 else "caution",
            (one.thing.id,),
            f"{name_of(one.thing.id)} carries {one.pressure_mpa:.0f} MPa on its face;"
            f" {one.material} bears {one.allowable_mpa:.0f}.",
            one.sum,
            FACE_SOURCE,
            "Use a part of harder material or with a wider face.",
            one.place,
            values={"pressure_mpa": min(one.pressure_mpa, 1e6), "allowable_mpa": one.allowable_mpa},
        )
        for one in face_pressures(job, landing, force)
        if one.share >= job.limits.utilisation_caution
    ]


def face_pressures(job: Job, landing: Landing, force_n: float) -> tuple[FacePressure, ...]:
    """Pressure on both faces of a flat landing, for each whose material is known to bear a pressure."""
    found = []
    area = min(landing.area_mm2, _nut_face_mm2(job, landing.tool), _nut_face_mm2(job, landing.on))
    for thing, other in ((landing.tool, landing.on), (landing.on, landing.tool)):
        facts = _face_facts(_material_of(job, thing))
        if facts is not None and facts.allowable_face_pressure_mpa is not None:
            allowable, held = facts.allowable_face_pressure_mpa, facts.held_face_pressure_mpa
            found.append(FacePressure(thing, other, facts.name, force_n, area, allowable, held, landing.place))
    return tuple(found)


def _nut_face_mm2(job: Job, thing: Thing) -> float:
    """Face that a hexagon nut stands on: turned to less than its flats, countersunk at the thread; else no bound."""
    part = job.part(thing.id.split("@")[0]) if thing.side is not None else None
    if part is None or not isinstance(part.form, Nut):
        return inf
    outside, inside = nut_face_mm(part)
    return pi / 4 * (outside**2 - inside**2)


def _material_of(job: Job, thing: Thing) -> str:
    if thing.side is not None:
        return job.part(thing.id.split("@")[0]).material
    body = next((body for body in job.section.bodies if body.id == thing.id), None)
    return body.material if body is not None else "bearing steel"


def _face_facts(name: str) -> Material | None:
    try:
        facts = material(name)
    except InputError:
        return None
    return None if facts.name == "bearing steel" else facts
