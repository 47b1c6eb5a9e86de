"""Ledge: what a spacer pushed aside leaves bare of a ring's face for a part that is hooked in."""

from dataclasses import replace

from geometry.check.finding import Finding
from geometry.check.landing import Landing, is_hooked
from geometry.check.wording import mm, name_of
from geometry.job.job import Job, Step
from geometry.profile.transverse import Ledge, ledge
from geometry.section.bearing import Bearing, measures
from geometry.section.body import profile_of
from geometry.stack.scene import Scene

SOURCE = "crescent between the bore of the ring and the spacer pushed aside"


def ledge_findings(job: Job, step: Step, scene: Scene, landed: tuple[Landing, ...]) -> list[Finding]:
    """Judge the ledge that a hooked part stands on, for each body that the step holds aside."""
    found = []
    for landing in landed:
        if landing.on.kind != "inner ring" or landing.tool.side is None:
            continue
        if not is_hooked(job, landing.tool):
            continue
        bearing = job.section.bearing(landing.on.id.split(".")[0])
        for id, aside in step.pushed_aside_mm.items():
            found += _judged(job, bearing, id, _side_play(job, id, aside), landing)
        for id in _in_the_way(step, scene, landing):
            found += _judged(job, bearing, id, 0.0, landing)
    return found + _nothing_to_push_on(found)


def _in_the_way(step: Step, scene: Scene, landing: Landing) -> list[str]:
    """Spacers beside the ring that nobody pushes aside."""
    beside = [
        thing.id
        for thing in scene.things
        if thing.kind == "spacer" and min(abs(thing.left_mm - landing.z_mm), abs(thing.right_mm - landing.z_mm)) < 1.0
    ]
    return [id for id in beside if id not in step.pushed_aside_mm]


def _nothing_to_push_on(found: list[Finding]) -> list[Finding]:
    """A hooked part without a ledge pushes nothing."""
    return [
        replace(finding, code="no-contact", message=f"{name_of(finding.bodies[-1])} finds nothing to push on.")
        for finding in found
        if finding.code == "ledge-none"
    ]


def _side_play(job: Job, id: str, wanted: float) -> float:
    """How far a body really goes aside: what is asked, no more than its play if that is given."""
    play = job.section.body(id).side_play_mm
    return min(abs(wanted), play) if play > 0.0 else abs(wanted)


def ledge_of(job: Job, bearing: Bearing, spacer: str, aside_mm: float) -> Ledge:
    """The ledge on the inner ring of a bearing beside a spacer that stands aside."""
    m = measures(bearing)
    return ledge(
        edge_radius_mm=m.bore_mm / 2 + m.corner_mm,
        face_radius_mm=m.inner_face_outside_mm / 2,
        spacer_bore_radius_mm=profile_of(job.section.body(spacer).shape).r_min_mm,
        aside_mm=aside_mm,
    )


def _judged(job: Job, bearing: Bearing, spacer: str, aside: float, landing: Landing) -> list[Finding]:
    bare, m = ledge_of(job, bearing, spacer, aside), measures(bearing)
    bodies = (spacer, f"{bearing.id}.inner", landing.tool.id)
    bore = 2 * profile_of(job.section.body(spacer).shape).r_min_mm
    sum_ = (
        f"{mm(aside)} aside + bore {mm(bore)} / 2 - ring {mm(m.bore_mm)} / 2 - corner {mm(m.corner_mm)}"
        f" = {mm(aside + (bore - m.bore_mm) / 2 - m.corner_mm)} wide, {bare.area_mm2:.1f} mm²"
    )
    enough = mm((m.bore_mm - bore) / 2 + m.corner_mm + job.limits.contact_ring_mm)
    values = {"width_mm": bare.width_mm, "area_mm2": bare.area_mm2}
    if bare.width_mm <= 0.0:
        return [
            Finding(
                "ledge-none",
                "fault",
                bodies,
                f"Pushed aside by {mm(aside)}, {name_of(spacer)} leaves no ledge"
                f" on the {name_of(bearing.id + '.inner')}.",
                sum_,
                SOURCE,
                f"Push {name_of(spacer)} at least {enough} aside, or pull the bearing another way.",
                landing.place,
                values=values,
            )
        ]
    if bare.width_mm < job.limits.contact_ring_mm:
        return [
            Finding(
                "ledge-small",
                "caution",
                bodies,
                f"The ledge on the {name_of(bearing.id + '.inner')} is only {mm(bare.width_mm)} wide.",
                sum_,
                SOURCE,
                f"Hold {name_of(spacer)} fully aside with a keeper, at least {enough}, and watch the toe.",
                landing.place,
                values=values,
            )
        ]
    return []
