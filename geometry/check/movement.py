"""Movement: what should move and does not, what goes too far, and what moves that should stay."""

from geometry.check.finding import Finding, Place
from geometry.check.pressed import Pressed
from geometry.check.travel import STOPS_SHORT_MM
from geometry.check.wording import mm, name_of
from geometry.job.job import Step
from geometry.stack.scene import Scene

HOUSING_MOVES_MM = 1.0


def nothing_moves_finding(step: Step, pressed: Pressed, root: str) -> Finding:
    """Why the bearing does not follow the nut: `root`, its housing, goes with it, or nothing reaches it."""
    end = pressed.run.moments[-1]
    housing_moved = abs(end.shift_mm.get(root, 0.0)) > HOUSING_MOVES_MM
    target = step.bearings[0]
    if housing_moved:
        return Finding(
            "no-reaction",
            "fault",
            (root,),
            f"Nothing holds {name_of(root)} against the pull: it moves with the bearing.",
            source="contact network",
            way_out="Put a cup or plate against the housing on the standing side.",
        )
    return Finding(
        "no-contact",
        "fault",
        (target,),
        f"Nothing presses bearing {target}: the nut runs on without moving it.",
        source="contact network",
        way_out=f"Use a drift that reaches the face of a ring of {target}.",
    )


def depth_findings(step: Step, scene: Scene, pressed: Pressed, needed_mm: float) -> list[Finding]:
    """A bearing that goes in and is not stopped at home."""
    beyond = pressed.run.moments[-1].travel_mm - needed_mm
    if beyond <= 2 * STOPS_SHORT_MM:
        return []
    target = step.bearings[0]
    far = f"it goes {mm(beyond)} mm too far"
    if not pressed.run.hard_stop:
        far = f"nothing stops it within {mm(beyond)} mm"
    return [
        Finding(
            "no-depth-stop",
            "fault",
            (f"{target}.outer",),
            f"Nothing stops {target} at home: {far}.",
            f"home after {mm(needed_mm)}; first hard stop after {mm(pressed.run.moments[-1].travel_mm)}",
            "sweep of the travel",
            "Use a depth stop, or press by steps and measure.",
            ball_places(scene).get(target),
        )
    ]


def pushed_out_findings(step: Step, scene: Scene, pressed: Pressed) -> list[Finding]:
    """A bearing that this step is not meant to move, and does."""
    ring = pressed.run.pushed_out
    if ring is None:
        return []
    id = ring.split(".")[0]
    after = mm(pressed.run.moments[pressed.run.stop].travel_mm)
    return [
        Finding(
            "collides",
            "fault",
            (ring,),
            f"After {after} mm this step begins to push {id} out of its seat.",
            f"{id} is not among the bearings of this step ({', '.join(step.bearings)})",
            "contact network, swept over the travel",
            "Support that bearing, or clear what pushes it.",
            ball_places(scene).get(id),
        )
    ]


def ball_places(scene: Scene) -> dict[str, Place]:
    """The middle of each ball row that is there."""
    return {
        thing.id.split(".")[0]: Place((thing.left_mm + thing.right_mm) / 2, 2 * thing.profile.r_min_mm)
        for thing in scene.things
        if thing.kind == "outer ring"
    }
