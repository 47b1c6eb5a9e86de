"""Bearing fit: which way round a bearing is, what is loose, and whether a circlip has room."""

from geometry.check.centring import centring_of, chain_in_words, guides, least_chains
from geometry.check.finding import Finding, Place
from geometry.check.result import Thing
from geometry.check.wording import mm, name_of
from geometry.job.job import Job, Step
from geometry.profile.overlap import overlap
from geometry.profile.profile import Profile
from geometry.profile.touch import closing
from geometry.section.bearing import bearing_profiles, measures
from geometry.section.body import profile_of
from geometry.section.section import Section
from geometry.section.state import State
from geometry.stack.scene import Scene

FAR_MM = 1e5
CLAMPED_MM = 0.1
"""A spacer whose gaps at home add up to less than this is clamped there."""


def loose_spacer_findings(
    job: Job, step: Step, scene: Scene, state: State, home_shift: dict[str, float]
) -> list[Finding]:
    """Spacers that are clamped at the end of this step while they can hang to one side."""
    if step.operation != "press in":
        return []
    section, limits = job.section, job.limits
    root = section.rigid_group(section.bearing(step.bearings[0]).housing)
    spacers = [
        t
        for t in scene.things
        if t.kind == "spacer"
        and t.group != root
        and _is_clamped(scene, t, home_shift)
        and not _is_clamped(scene, t, {})
    ]
    if not spacers:
        return []
    chains = least_chains(guides(scene, section, home_shift), root)
    found = []
    for spacer in spacers:
        centring = centring_of(spacer, chains, (spacer.left_mm + spacer.right_mm) / 2)
        offset = centring.offset_mm
        if offset is not None and offset <= limits.offset_good_mm + 1e-9:
            continue
        fault = offset is None or offset > limits.offset_caution_mm + 1e-9
        aside = "anywhere" if offset is None else f"{mm(offset)} mm to one side"
        found.append(
            Finding(
                "spacer-loose",
                "fault" if fault else "caution",
                (spacer.id,),
                f"{name_of(spacer.id)} can hang {aside} when it is clamped; the axle may not go in.",
                f"{chain_in_words(centring)}; good up to {mm(limits.offset_good_mm)}",
                "least sum of radial clearances at home",
                "Hold the spacer with a long guide until it is clamped.",
                Place((spacer.left_mm + spacer.right_mm) / 2, 2 * spacer.profile.r_max_mm),
            )
        )
    return found


def _is_clamped(scene: Scene, spacer: Thing, shift: dict[str, float]) -> bool:
    """Whether rings (or what they clamp) stand against both ends of a spacer at home."""
    at = spacer.at_mm + shift.get(spacer.group, 0.0)
    gaps: dict[str, float] = {}
    for thing in scene.things:
        if thing.group == spacer.group or thing.kind not in ("inner ring", "spacer", "axle", "insert"):
            continue
        other_at = thing.at_mm + shift.get(thing.group, 0.0)
        to_left = closing(thing.profile, spacer.profile, left_at_mm=other_at, right_at_mm=at)
        to_right = closing(spacer.profile, thing.profile, left_at_mm=at, right_at_mm=other_at)
        for side, touch in (("left", to_left), ("right", to_right)):
            if touch is not None:
                gaps[side] = min(gaps.get(side, FAR_MM), touch.distance_mm)
    return len(gaps) == 2 and sum(gaps.values()) < CLAMPED_MM


def way_round_findings(section: Section, step: Step, state: State) -> list[Finding]:
    """A bearing with one seal whose open side does not face as its maker wants."""
    if step.operation != "press in":
        return []
    found = []
    for id in step.bearings:
        bearing = section.bearing(id)
        seals = state.seals.get(id, bearing.seals)
        if bearing.open_side is None or seals not in ("left", "right"):
            continue
        open_to = "left" if seals == "right" else "right"
        if open_to != bearing.open_side:
            m = measures(bearing)
            found.append(
                Finding(
                    "back-to-front",
                    "fault",
                    (f"{id}.outer",),
                    f"{id} is in the wrong way round: its open side must face {bearing.open_side}.",
                    f"open side faces {open_to}, wanted {bearing.open_side}",
                    "section of the assembly (open side asked of the user)",
                    f"Turn {id} round.",
                    Place(m.outer_from_z_mm, m.outside_mm),
                )
            )
    return found


def groove_findings(section: Section, step: Step) -> list[Finding]:
    """A circlip that has no room in front of the bearing at home."""
    if step.operation != "press in":
        return []
    found = []
    for body in section.bodies:
        if body.role != "circlip":
            continue
        clip: Profile = profile_of(body.shape)
        for id in step.bearings:
            bearing = section.bearing(id)
            for ring in (
                bearing_profiles(bearing, bearing.seals).outer,
                bearing_profiles(bearing, bearing.seals).inner,
            ):
                common = overlap(clip, ring, a_at_mm=0.0, b_at_mm=0.0)
                if common is not None:
                    short = common.to_z_mm - common.from_z_mm
                    found.append(
                        Finding(
                            "groove-not-reached",
                            "fault",
                            (body.id, f"{id}.outer"),
                            f"At home {id} is {mm(short)} mm in the way of {name_of(body.id)}.",
                            f"ring and circlip share {mm(short)} along the axis",
                            "section at home",
                            "Measure the depth of the seat and the groove.",
                            Place(common.from_z_mm, 2 * common.inner_radius_mm),
                        )
                    )
    return found
