"""Tilted in: whether the foot of a part that hooks from one side goes in through the bores before it."""

from math import radians

from geometry.check.finding import Finding, Place
from geometry.check.result import Thing
from geometry.check.wording import mm, name_of
from geometry.job.job import Job
from geometry.parts.forms import Toe
from geometry.profile.transverse import narrowest_way_mm, thickest_shank_mm
from geometry.stack.scene import Scene

SOURCE = "smallest circle round foot and shank, seen along the axis, against each bore on their way"


def tilted_in_findings(job: Job, scene: Scene) -> list[Finding]:
    """Feet that are too wide, with their shank, for a bore on their way; tilting makes them no narrower."""
    found = []
    for tool in scene.things:
        form = job.part(tool.id.split("@")[0]).form if tool.side is not None else None
        if not isinstance(form, Toe):
            continue
        toe, half = form.toe_outside_mm / 2, radians(form.arc_deg / 2)
        wide = narrowest_way_mm(toe_radius_mm=toe, toe_half_angle_rad=half, shank_radius_mm=form.shank_mm / 2)
        for narrow in _on_the_way(scene, tool):
            bore = 2 * narrow.profile.r_min_mm
            if wide > bore + 1e-6:
                shank = thickest_shank_mm(toe_radius_mm=toe, toe_half_angle_rad=half, bore_mm=bore)
                found.append(_too_wide(tool, narrow, wide, bore, shank))
    return found


def _on_the_way(scene: Scene, tool: Thing) -> list[Thing]:
    """The bodies and rings between the open end and the foot, as it meets them.

    Each is judged by itself: which of two equal bores is the narrower one, no reading tells.
    """
    passed = [
        thing
        for thing in scene.things
        if thing.side is None
        and thing.id != "rod"
        and (thing.left_mm < tool.right_mm if tool.side == "left" else thing.right_mm > tool.left_mm)
    ]
    return sorted(passed, key=lambda thing: thing.left_mm if tool.side == "left" else -thing.right_mm)


def _too_wide(tool: Thing, narrow: Thing, wide: float, bore: float, shank: float) -> Finding:
    other = f"a shank of {mm(shank)} mm at most" if shank > 0.0 else "a smaller arc"
    return Finding(
        "cannot-pass",
        "fault",
        (tool.id, narrow.id),
        f"The foot of {name_of(tool.id)} with its shank does not go in through {name_of(narrow.id)}.",
        f"foot and shank together need {mm(wide)}, the bore is {mm(bore)}",
        SOURCE,
        f"Use a toe with {other}, or with less reach.",
        Place((narrow.left_mm + narrow.right_mm) / 2, bore),
        values={"needs_mm": wide, "bore_mm": bore},
    )
