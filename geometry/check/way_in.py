"""Way in: whether any ring of a bearing can be reached at all from the side it must be pushed from."""

from geometry.check.finding import Finding, Place
from geometry.check.result import Thing
from geometry.check.wording import mm
from geometry.job.job import Job, Step
from geometry.stack.scene import Scene


def no_way_findings(job: Job, step: Step, scene: Scene) -> list[Finding]:
    """A bearing of which no ring face can be seen from the pushing side: it cannot be pressed from there."""
    found = []
    for id in step.bearings:
        hidden = [_hidden_by(scene, scene.thing(f"{id}.{ring}"), step.towards) for ring in ("inner", "outer")]
        if all(hidden):
            side = "left" if step.towards == "right" else "right"
            ring = scene.thing(f"{id}.inner")
            openings = min(2 * thing.profile.r_min_mm for things in hidden for thing in things)
            found.append(
                Finding(
                    "no-press-possible",
                    "fault",
                    (f"{id}.inner", f"{id}.outer"),
                    f"No part of a ring of {id} can be reached from the {side}: it needs a puller from outside.",
                    f"smallest opening {mm(openings)}, bore of the bearing {mm(2 * ring.profile.r_min_mm)}",
                    "faces seen along the axis",
                    "Use a puller for the bore, or ask the maker of the hub.",
                    Place(ring.left_mm, 2 * ring.profile.r_min_mm),
                )
            )
    return found


def _hidden_by(scene: Scene, ring: Thing, towards: str) -> list[Thing]:
    """The things that cover the whole trailing face of a ring; empty if some of it can be seen."""
    faces = ring.profile.faces_left if towards == "right" else ring.profile.faces_right
    low, high = min(f[0] for f in faces), max(f[1] for f in faces)
    covers = [
        thing
        for thing in scene.things
        if thing.side is None
        and thing.kind in ("housing", "insert")
        and thing.id != "rod"
        and (thing.left_mm < ring.left_mm if towards == "right" else thing.right_mm > ring.right_mm)
    ]
    edge = low
    used: list[Thing] = []
    for thing in sorted(covers, key=lambda t: t.profile.r_min_mm):
        if thing.profile.r_min_mm <= edge + 1e-6 and thing.profile.r_max_mm > edge:
            edge = thing.profile.r_max_mm
            used.append(thing)
    return used if edge >= high else []
