"""Collision: what is drawn into something else, what does not pass on its way in, what is trapped after."""

from geometry.check.finding import Finding, Place
from geometry.check.result import Thing
from geometry.check.tilted_in import tilted_in_findings
from geometry.check.wording import mm, name_of
from geometry.job.job import Job, Step
from geometry.profile.overlap import overlap
from geometry.profile.remembered import remembered
from geometry.profile.touch import closing
from geometry.section.hollow import mouth_mm, stands_on_rim
from geometry.stack.scene import Obstacle, Scene

SOURCE = "common material of the sections (Pappus)"
_overlap = remembered(overlap)

WAY_SOURCE = "first contact of the sections on the way in"


def collision_findings(job: Job, scene: Scene) -> list[Finding]:
    """Things that share material when the step starts."""
    found = []
    rows = [(thing, thing.left_mm, thing.right_mm) for thing in scene.things if thing.kind != "O-ring"]
    for number, (one, one_from, one_to) in enumerate(rows):
        for other, other_from, other_to in rows[number + 1 :]:
            if other_from >= one_to or other_to <= one_from:
                continue
            if one.group == other.group and "rod" not in (one.id, other.id):
                continue
            if scene.are_apart(one.id, other.id):
                continue
            if "rod" in (one.id, other.id) and _threaded(job, one, other):
                continue
            common = _overlap(
                one.profile,
                other.profile,
                a_at_mm=one.at_mm,
                b_at_mm=other.at_mm,
                ignore=scene.fit_band(one.id, other.id),
            )
            if common is None:
                continue
            place = Place((common.from_z_mm + common.to_z_mm) / 2, common.inner_radius_mm + common.outer_radius_mm)
            if "rod" in (one.id, other.id):
                found.append(_rod_finding(one, other, place))
            else:
                found.append(
                    Finding(
                        "collides",
                        "fault",
                        (one.id, other.id),
                        f"{name_of(one.id)} and {name_of(other.id)} are in the same place.",
                        f"they share {common.volume_mm3:.1f} mm³ from z {mm(common.from_z_mm)} to {mm(common.to_z_mm)}",
                        SOURCE,
                        "Move one of them, or correct its dimensions.",
                        place,
                        values={"volume_mm3": common.volume_mm3},
                    )
                )
    return found


def _threaded(job: Job, one: Thing, other: Thing) -> bool:
    """Whether the thing beside the rod is screwed onto it."""
    thing = other if one.id == "rod" else one
    return thing.side is not None and job.part(thing.id.split("@")[0]).thread is not None


def _rod_finding(one: Thing, other: Thing, place: Place) -> Finding:
    rod, thing = (one, other) if one.id == "rod" else (other, one)
    bore = 2 * thing.profile.r_min_mm
    return Finding(
        "cannot-pass",
        "fault",
        ("rod", thing.id),
        f"The rod does not pass through {name_of(thing.id)}.",
        f"rod {mm(2 * rod.profile.r_max_mm)} > bore {mm(bore)}",
        WAY_SOURCE,
        f"Use a rod thinner than {mm(bore)} mm.",
        place,
    )


def passage_findings(job: Job, step: Step, scene: Scene) -> list[Finding]:
    """Parts that do not get to their place, or meet nothing there."""
    found = tilted_in_findings(job, scene)
    for obstacle in scene.obstacles:
        part, met = scene.thing(obstacle.part), scene.thing(obstacle.met)
        if met.side is not None and not part.loose:
            continue  # follows from the part that it stands on
        code = "cannot-pass" if part.loose else "cannot-reach"
        opening = 2 * met.profile.r_min_mm
        if part.side != step.stack.driving_side and stands_on_rim(part, met):
            found.append(_narrow_cup(part, met, obstacle))
            continue
        found.append(
            Finding(
                code,
                "fault",
                (part.id, met.id),
                f"{name_of(part.id)} stops {mm(obstacle.missing_mm)} mm short of its place:"
                f" it meets {name_of(met.id)} first.",
                f"outside {mm(2 * part.profile.r_max_mm)}, opening {mm(opening)}; {mm(obstacle.missing_mm)} missing",
                WAY_SOURCE,
                f"Use a part that passes {mm(opening)} mm, or bring it in from the other side.",
                Place(obstacle.z_mm, obstacle.diameter_mm),
                values={"missing_mm": obstacle.missing_mm},
            )
        )
    for id in scene.adrift:
        thing = scene.thing(id)
        found.append(
            Finding(
                "no-contact",
                "fault",
                (id,),
                f"{name_of(id)} meets nothing on its way in.",
                f"outside {mm(2 * thing.profile.r_max_mm)}",
                WAY_SOURCE,
                "Use a part that is wide enough to touch what it should push or stand on.",
                Place(thing.left_mm, 2 * thing.profile.r_max_mm),
            )
        )
    return found


def _narrow_cup(part: Thing, met: Thing, obstacle: Obstacle) -> Finding:
    mouth, wide = mouth_mm(part), 2 * met.profile.r_max_mm
    return Finding(
        "cup-narrow",
        "fault",
        (part.id, met.id),
        f"{name_of(part.id)} stands on {name_of(met.id)} instead of going over it.",
        f"mouth {mm(mouth)} < {mm(wide)}; {mm(obstacle.missing_mm)} missing",
        WAY_SOURCE,
        f"Use a cup that is wider inside than {mm(wide)} mm.",
        Place(obstacle.z_mm, obstacle.diameter_mm),
        values={"missing_mm": obstacle.missing_mm},
    )


def trapped_findings(job: Job, step: Step, scene: Scene, end_shift: dict[str, float]) -> list[Finding]:
    """Parts that cannot be taken out again once the bearing is where it should be."""
    gone = set(step.bearings) | set(step.goes_along) if step.operation == "press out" else set()
    assembly = [t for t in scene.things if t.side is None and t.id != "rod" and t.id.split(".")[0] not in gone]
    found = []
    for thing in scene.things:
        if thing.side is None or thing.kind == "O-ring" or job.part(thing.id.split("@")[0]).goes_in_sideways:
            continue
        held_left = _first_in_way(thing, assembly, end_shift, to_left=True)
        held_right = _first_in_way(thing, assembly, end_shift, to_left=False)
        own, far = (held_left, held_right) if thing.side == "left" else (held_right, held_left)
        if own is None:
            continue
        place = Place((thing.left_mm + thing.right_mm) / 2, 2 * thing.profile.r_max_mm)
        sum_ = f"{mm(2 * thing.profile.r_max_mm)} behind an opening of {mm(2 * own.profile.r_min_mm)}"
        if far is None:
            side = "right" if thing.side == "left" else "left"
            found.append(
                Finding(
                    "trapped",
                    "note",
                    (thing.id, own.id),
                    f"Afterwards {name_of(thing.id)} only comes out on the {side}.",
                    sum_,
                    WAY_SOURCE,
                    place=place,
                )
            )
        else:
            found.append(
                Finding(
                    "trapped",
                    "caution",
                    (thing.id, own.id, far.id),
                    f"Afterwards {name_of(thing.id)} is locked in between {name_of(own.id)} and {name_of(far.id)}.",
                    sum_,
                    WAY_SOURCE,
                    "Use a part that passes the bearing.",
                    place,
                )
            )
    return found


def _first_in_way(thing: Thing, assembly: list[Thing], shift: dict[str, float], *, to_left: bool) -> Thing | None:
    at = thing.at_mm + shift.get(thing.group, 0.0)
    nearest: tuple[float, Thing] | None = None
    for other in assembly:
        other_at = other.at_mm + shift.get(other.group, 0.0)
        if to_left:
            touch = closing(other.profile, thing.profile, left_at_mm=other_at, right_at_mm=at)
        else:
            touch = closing(thing.profile, other.profile, left_at_mm=at, right_at_mm=other_at)
        if touch is not None and (nearest is None or touch.distance_mm < nearest[0]):
            nearest = (touch.distance_mm, other)
    return nearest[1] if nearest else None


def lead_in_findings(job: Job, step: Step, scene: Scene) -> list[Finding]:
    """A bearing that goes in at a mouth whose edge is not broken."""
    if step.operation != "press in":
        return []
    found = []
    for id in step.bearings:
        bearing = job.section.bearing(id)
        housing = scene.thing(bearing.housing) if any(t.id == bearing.housing for t in scene.things) else None
        if housing is None or _has_lead_in(housing, bearing.mouth_z_mm, bearing.leaves == "right"):
            continue
        found.append(
            Finding(
                "no-lead-in",
                "caution",
                (bearing.housing, f"{id}.outer"),
                f"No lead-in is drawn at the mouth of the bore of {id}.",
                "edge of the bore drawn sharp",
                "common practice",
                "Turn the bearing until it drops in evenly; look square from two sides.",
                Place(bearing.mouth_z_mm, 2 * scene.thing(f"{id}.outer").profile.r_max_mm),
            )
        )
    return found


def _has_lead_in(housing: Thing, mouth: float, faces_right: bool) -> bool:
    """Whether a cone opens outwards within 2 mm of the mouth."""
    faces = housing.profile.faces_right if faces_right else housing.profile.faces_left
    return any(
        abs(z0 - z1) > 0.05 and min(abs(z0 - mouth), abs(z1 - mouth)) < 2.0 and (z1 > z0) == faces_right
        for _, _, z0, z1 in faces
    )
