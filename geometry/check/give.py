"""Give: how far the nut turns only to stretch the rod and shorten the parts, before the force stands."""

from geometry.check.member import material_or_none
from geometry.check.part_strength import loads_on
from geometry.check.result import Moment
from geometry.check.thrust import AxialLoad, blocks_of
from geometry.errors import InputError
from geometry.facts.threads import thread
from geometry.job.job import Job, Step
from geometry.mechanics.column import annulus_area_mm2
from geometry.mechanics.rod import change_of_length_mm
from geometry.stack.scene import Scene


def give_mm(job: Job, step: Step, scene: Scene, sliding: Moment, force_n: float) -> float:
    """Stretch of the rod between the nuts and shortening of the tool parts under a press force [mm]."""
    scale = force_n / max(sliding.force_n, 1e-9)
    total = _rod_mm(job, step, scene, force_n)
    for thing in scene.things:
        facts = material_or_none(job.part(thing.id.split("@")[0]).material) if thing.side is not None else None
        if facts is None:
            continue
        at = thing.at_mm + sliding.shift_mm.get(thing.group, 0.0)
        loads = tuple(
            AxialLoad(one.z_mm - at, one.force_n, one.inner_radius_mm, one.outer_radius_mm)
            for one in loads_on(thing, sliding.contacts, scale)
        )
        for block in blocks_of(thing.profile, loads):
            area = annulus_area_mm2(outside_mm=2 * block.outer_radius_mm, bore_mm=2 * block.inner_radius_mm)
            total += change_of_length_mm(
                force_n=block.pressed_n,
                length_mm=block.to_z_mm - block.from_z_mm,
                area_mm2=area,
                e_mpa=facts.youngs_modulus_mpa,
            )
    return total


def _rod_mm(job: Job, step: Step, scene: Scene, force_n: float) -> float:
    rod = job.part(step.stack.rod) if step.stack.rod is not None else None
    facts = material_or_none(rod.material) if rod is not None else None
    if rod is None or facts is None or scene.driver is None or scene.anchor is None:
        return 0.0
    try:
        area = thread(rod.thread or "").stress_area_mm2
    except InputError:
        return 0.0
    one, other = scene.thing(scene.driver), scene.thing(scene.anchor)
    length = max(one.left_mm, other.left_mm) - min(one.right_mm, other.right_mm)
    return change_of_length_mm(force_n=force_n, length_mm=length, area_mm2=area, e_mpa=facts.youngs_modulus_mpa)
