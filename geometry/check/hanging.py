"""Hanging to one side: what the worst offset of the pushing part and of the support runs into."""

from geometry.check.finding import Finding, Place
from geometry.check.landing import Landing
from geometry.check.result import Thing
from geometry.check.wording import mm, name_of
from geometry.job.job import Job
from geometry.profile.nesting import nestings
from geometry.section.bearing import measures
from geometry.section.section import Section
from geometry.stack.scene import Scene

SLIGHT_MM = 0.05
"""An edge over another by less than this is led in by its broken edge."""
SCRAPES_MM = 0.30
"""Up to this a broken edge or the hand leads the drift in; beyond, it scrapes (limit of a good offset)."""


def offset_findings(
    job: Job, scene: Scene, pusher: Thing | None, landing: Landing | None, home_shift: dict[str, float]
) -> list[Finding]:
    """What the worst offset of the pushing part does: its edge on the bore, its rim over the seal."""
    if pusher is None or landing is None or landing.offset_mm is None:
        return []
    return _bore_findings(scene, pusher, landing, home_shift) + _seal_findings(job.section, pusher, landing)


def _bore_findings(scene: Scene, pusher: Thing, landing: Landing, home_shift: dict[str, float]) -> list[Finding]:
    offset = landing.offset_mm or 0.0
    found = []
    for housing in scene.things:
        if housing.kind not in ("housing", "insert"):
            continue
        rows = nestings(
            housing.profile,
            pusher.profile,
            outer_at_mm=housing.at_mm + home_shift.get(housing.group, 0.0),
            inner_at_mm=pusher.at_mm + home_shift.get(pusher.group, 0.0),
        )
        for nest in rows[:1]:
            over = offset - nest.radial_clearance_mm
            if over <= SLIGHT_MM:
                continue
            scrapes = over > SCRAPES_MM
            found.append(
                Finding(
                    "scrapes-bore" if scrapes else "edge-contact",
                    "fault" if scrapes else "caution",
                    (pusher.id, housing.id),
                    f"Hanging to one side, {name_of(pusher.id)} catches the edge of the bore of {name_of(housing.id)}.",
                    f"offset {mm(offset)} - clearance {mm(nest.radial_clearance_mm)} to one side"
                    f" = {mm(over)} over the edge",
                    "worst offset at the start against the bore entered later",
                    f"Centre it to {mm(nest.radial_clearance_mm)} mm with a guide,"
                    f" or use a drift {mm(2 * over)} mm smaller outside.",
                    Place(nest.from_z_mm, 2 * pusher.profile.r_max_mm),
                    values={"over_mm": over},
                )
            )
    return found


def cup_findings(scene: Scene, support: Landing | None, goal_shift: dict[str, float]) -> list[Finding]:
    """What comes into the support while it hangs to one side: does it clear the mouth?"""
    if support is None or support.offset_mm is None:
        return []
    cup, found = support.tool, []
    for thing in scene.things:
        moved = goal_shift.get(thing.group, 0.0)
        if thing.side is not None or thing.id == "rod" or thing.kind == "seals" or abs(moved) < 1.0:
            continue
        rows = nestings(
            cup.profile,
            thing.profile,
            outer_at_mm=cup.at_mm + goal_shift.get(cup.group, 0.0),
            inner_at_mm=thing.at_mm + moved,
        )
        over = support.offset_mm - rows[0].radial_clearance_mm if rows else 0.0
        if over <= SLIGHT_MM:
            continue
        catches = over > SCRAPES_MM
        found.append(
            Finding(
                "cup-narrow" if catches else "edge-contact",
                "fault" if catches else "caution",
                (cup.id, thing.id),
                f"{name_of(thing.id)} can catch the edge of {name_of(cup.id)}, which can hang"
                f" {mm(support.offset_mm)} mm to one side.",
                f"offset {mm(support.offset_mm)} - clearance {mm(rows[0].radial_clearance_mm)} to one side"
                f" = {mm(over)} over the edge",
                "worst offset of the support against what comes into it",
                "Centre the cup, or use a wider one.",
                support.place,
                values={"over_mm": over},
            )
        )
    return found


def _seal_findings(section: Section, pusher: Thing, landing: Landing) -> list[Finding]:
    bearing = next((b for b in section.bearings if landing.on.id.startswith(f"{b.id}.")), None)
    if bearing is None or landing.on.kind == "seals":
        return []
    m, offset = measures(bearing), landing.offset_mm or 0.0
    seal = (m.inner_face_outside_mm / 2, m.outer_face_inside_mm / 2)
    faces = pusher.profile.faces_left if landing.tool_facing_left else pusher.profile.faces_right
    into = -1.0 if landing.tool_facing_left else 1.0
    plane = landing.z_mm
    for r0, r1, z0, z1 in faces:
        ahead = max(into * (z + pusher.at_mm - plane) for z in (z0, z1))
        outer_ring_face = m.outer_from_z_mm if into > 0 else m.outer_to_z_mm
        proud = abs(outer_ring_face + landing.on.at_mm - plane)
        if ahead <= bearing.seal_recess_mm + proud or r1 + offset <= seal[0] or r0 - offset >= seal[1]:
            continue
        return [
            Finding(
                "seal-touched",
                "caution",
                (pusher.id, f"{bearing.id}.seals"),
                f"Hanging to one side, {name_of(pusher.id)} can touch the seal of {bearing.id}.",
                f"face {mm(2 * r0)} to {mm(2 * r1)} moved by {mm(offset)}"
                f" reaches the seal {mm(2 * seal[0])} to {mm(2 * seal[1])}",
                "worst offset of the pushing part",
                "Centre the drift better.",
                Place(plane, 2 * seal[0]),
            )
        ]
    return []
