"""Travel: how far the bearings must go, what stops them, what room is left, and the rod that this takes."""

from math import floor

from geometry.check.contact_path import Press, Run
from geometry.check.finding import Finding, Place
from geometry.check.result import RodUse, Thing, Travel
from geometry.check.wording import mm, name_of
from geometry.errors import InputError
from geometry.facts.threads import thread
from geometry.job.job import Job, Step
from geometry.job.sequence import start_shift_mm
from geometry.parts.forms import Rod
from geometry.parts.part import ToolPart
from geometry.section.bearing import Bearing, measures
from geometry.section.body import profile_of
from geometry.section.hollow import stands_on_rim
from geometry.section.section import Section
from geometry.section.things import inner_interference_mm, outer_interference_mm
from geometry.stack.scene import Scene

STOPS_SHORT_MM = 0.05
"""A press that ends this much before its goal stopped early."""
BALL_LAG_MM = 0.15
"""Lag of a ring behind the one that is pushed (play of the balls, give of the faces), left out of figures."""


def needed_travel_mm(section: Section, step: Step, pushed_along: frozenset[str] = frozenset()) -> float:
    """Travel of the step: out of the tight bore, or from the start at the mouth to home; never the width.

    `pushed_along`: groups of loose bodies that are pushed themselves, beside those that the step says go along.
    """
    along = frozenset(step.goes_along) | pushed_along
    return max(_needed_mm(section, step, section.bearing(id), along) for id in step.bearings)


def _needed_mm(section: Section, step: Step, bearing: Bearing, along: frozenset[str]) -> float:
    if step.operation == "press in":
        return abs(start_shift_mm(bearing, step.start_z_mm.get(bearing.id)))
    m = measures(bearing)
    if step.towards != bearing.leaves:
        return m.width_mm
    out_of_bore = (
        bearing.mouth_z_mm - m.outer_from_z_mm if bearing.leaves == "right" else m.outer_to_z_mm - bearing.mouth_z_mm
    )
    axle_stays = bearing.axle is not None and section.rigid_group(bearing.axle) not in along
    if axle_stays and inner_interference_mm(section, bearing) > 0.0:
        off_axle = _off_axle_mm(section, bearing)
        return max(off_axle, out_of_bore) if outer_interference_mm(section, bearing) > 0.0 else off_axle
    return out_of_bore


def _off_axle_mm(section: Section, bearing: Bearing) -> float:
    """Travel until the inner ring has left its seat on the axle towards the side to which it leaves."""
    m = measures(bearing)
    assert bearing.axle is not None
    seat = [
        (z0, z1)
        for z0, z1, r0, r1 in profile_of(section.body(bearing.axle).shape).outsides
        if abs(r0 + r1 - m.bore_mm) < 0.2 and z0 < m.inner_to_z_mm and z1 > m.inner_from_z_mm
    ]
    if not seat:
        return 0.0
    if bearing.leaves == "right":
        return max(z1 for _, z1 in seat) - m.inner_from_z_mm
    return m.inner_to_z_mm - min(z0 for z0, _ in seat)


def travel_of(press: Press, run: Run, step: Step, needed_mm: float) -> Travel:
    """Where the press stops and by what; the room left after a bearing is free."""
    if not run.hard_stop:
        return Travel(needed_mm, None, None, None)
    stops_at = _stops_at_mm(press, run)
    if step.operation == "press in":
        return Travel(needed_mm, stops_at, run.stopped_by, None)
    if stops_at < needed_mm - STOPS_SHORT_MM:
        return Travel(needed_mm, stops_at, run.stopped_by, stops_at - needed_mm)
    return Travel(needed_mm, None, None, stops_at - needed_mm)


def _stops_at_mm(press: Press, run: Run) -> float:
    """Travel at the hard stop, counted at the leading ring: what a hand calculation on the drawing gives."""
    last = run.moments[run.stop]
    if run.stopped_by is None:
        return last.travel_mm
    ring = press.travel_of[0]
    lags = [0.0]
    for id in run.stopped_by:
        lag = press.travel_direction * (last.shift_mm[press.scene.thing(id).group] - last.shift_mm[ring])
        if 0.0 < lag <= BALL_LAG_MM:
            lags.append(lag)
    return last.travel_mm + max(lags)


def rod_use(scene: Scene, rod: ToolPart, needed_mm: float) -> RodUse | None:
    """Length of rod between the nuts and in them, at the longest and the shortest moment."""
    if scene.driver is None or scene.anchor is None or not isinstance(rod.form, Rod):
        return None
    nuts = sorted((scene.thing(scene.driver), scene.thing(scene.anchor)), key=lambda nut: nut.left_mm)
    start = nuts[1].left_mm - nuts[0].right_mm
    heights = sum(nut.right_mm - nut.left_mm for nut in nuts)
    length, form = rod.form.length_mm, rod.form
    stops = None
    if form.threaded_mm is not None and 2 * form.threaded_mm < length:
        plain = length - 2 * form.threaded_mm
        if start - needed_mm < plain - 1e-9:
            stops = max(start - plain, 0.0)
    return RodUse(start, start - needed_mm, start + heights, length, length - start - heights, stops)


def rod_findings(job: Job, step: Step, scene: Scene, use: RodUse | None) -> list[Finding]:
    """Rod too short, thread that ends, nuts that do not fit the rod or are missing."""
    found: list[Finding] = []
    stack = step.stack
    if stack.rod is None:
        return [
            Finding(
                "no-reaction",
                "fault",
                (),
                "There is no rod in this stack, so nothing pulls.",
                way_out="Choose a rod.",
            )
        ]
    rod = job.part(stack.rod)
    for one, duty in ((scene.driver, "turned"), (scene.anchor, "standing")):
        if one is None:
            side = stack.driving_side if duty == "turned" else {"left": "right", "right": "left"}[stack.driving_side]
            found.append(
                Finding(
                    "no-reaction",
                    "fault",
                    ("rod",),
                    f"There is no {duty} nut: the {side} side has no part.",
                    way_out=f"Put a nut on the {side} side.",
                )
            )
            continue
        part = job.part(one.split("@")[0])
        if part.thread is None:
            found.append(
                Finding(
                    "no-reaction",
                    "fault",
                    (one,),
                    f"{name_of(one)} closes the {duty} side but has no thread.",
                    way_out="Put a nut on the outside.",
                )
            )
        elif rod.thread is not None and _thread_name(part.thread) != _thread_name(rod.thread):
            found.append(
                Finding(
                    "thread-mismatch",
                    "fault",
                    (one, "rod"),
                    f"{name_of(one)} has thread {part.thread}, the rod {rod.thread}.",
                    sum=f"{part.thread} on {rod.thread}",
                    source="ISO 261 / ISO 724 thread designations",
                    way_out=f"Use a nut with {rod.thread}.",
                )
            )
    if use is not None:
        found += _length_findings(use, scene, rod)
    return found


def _length_findings(use: RodUse, scene: Scene, rod: ToolPart) -> list[Finding]:
    nuts = (scene.driver or "", scene.anchor or "", "rod")
    source = "both nuts full of thread at the longest moment (common practice)"
    found = []
    if use.spare_mm < -1e-6:
        heights = use.needed_mm - use.between_nuts_start_mm
        on_thread = max(0.0, use.length_mm - use.between_nuts_start_mm)
        sum_ = (
            f"{mm(use.between_nuts_start_mm)} between the nuts + {mm(heights)} of nuts"
            f" = {mm(use.needed_mm)}; rod {mm(use.length_mm)}"
        )
        values = {"needed_mm": use.needed_mm, "length_mm": use.length_mm}
        if on_thread > heights / 2:
            share = floor(100 * on_thread / heights)
            found.append(
                Finding(
                    "thread-engagement",
                    "fault",
                    nuts,
                    f"Only {share} % of the nuts are on the thread at the start.",
                    sum_,
                    source,
                    f"Use a rod of at least {mm(use.needed_mm)} mm.",
                    values=values,
                )
            )
        else:
            found.append(
                Finding(
                    "rod-short",
                    "fault",
                    nuts,
                    f"The rod is {mm(-use.spare_mm)} mm too short.",
                    sum_,
                    source,
                    f"Use a rod of at least {mm(use.needed_mm)} mm.",
                    values=values,
                )
            )
    if use.nut_stops_at_mm is not None and isinstance(rod.form, Rod) and rod.form.threaded_mm is not None:
        plain = use.length_mm - 2 * rod.form.threaded_mm
        found.append(
            Finding(
                "thread-bottoms",
                "fault",
                nuts,
                f"The nut reaches the end of the thread after {mm(use.nut_stops_at_mm)} mm of travel;"
                " it will feel like home.",
                f"{mm(use.between_nuts_start_mm)} between the nuts - {mm(plain)} without thread"
                f" = {mm(use.nut_stops_at_mm)};"
                f" needed {mm(use.between_nuts_start_mm - use.between_nuts_end_mm)}",
                "no nut runs out of thread at the shortest moment (common practice)",
                "Use a rod with more thread, or put a tube of at least"
                f" {mm(use.between_nuts_start_mm - use.between_nuts_end_mm - use.nut_stops_at_mm)} mm under a nut.",
                values={"nut_stops_at_mm": use.nut_stops_at_mm},
            )
        )
    pitches = _two_pitches_mm(rod)
    if 0.0 <= use.spare_mm < 2 * pitches:
        found.append(
            Finding(
                "rod-short",
                "note",
                nuts,
                f"Only {mm(use.spare_mm)} mm of rod is left over; two pitches showing at each nut would be good.",
                f"{mm(use.length_mm)} - {mm(use.needed_mm)} = {mm(use.spare_mm)}",
                "common practice",
            )
        )
    return found


def _two_pitches_mm(rod: ToolPart) -> float:
    try:
        return 2 * thread(rod.thread or "").pitch_mm
    except InputError:
        return 0.0


def _thread_name(name: str) -> str:
    try:
        return thread(name).name
    except InputError:
        return name.replace(" ", "").lower()


def early_stop_finding(
    scene: Scene, section: Section, step: Step, travel: Travel, support: str | None, carries: bool
) -> Finding | None:
    """What is wrong when the bearing does not get as far as it must."""
    if (
        travel.stops_at_mm is None
        or travel.stopped_by is None
        or travel.stops_at_mm >= travel.needed_mm - STOPS_SHORT_MM
    ):
        return None
    one, other = (scene.thing(id) for id in travel.stopped_by)
    missing = travel.needed_mm - travel.stops_at_mm
    code, message, way_out = _why_stopped(scene, section, step, one, other, carries, mm(missing))
    gap = f"stops after {mm(travel.stops_at_mm)} of {mm(travel.needed_mm)}: {mm(missing)} missing"
    return Finding(
        code,
        "fault",
        (one.id, other.id),
        message,
        gap,
        "first contact of the sections, swept over the travel",
        way_out,
        place=_meeting_place(one, other),
        values={"stops_at_mm": travel.stops_at_mm, "needed_mm": travel.needed_mm},
    )


def _why_stopped(
    scene: Scene, section: Section, step: Step, one: Thing, other: Thing, carries: bool, missing: str
) -> tuple[str, str, str]:
    pair = (one, other)
    names = f"{name_of(one.id)} meets {name_of(other.id)}"
    target = step.bearings[0]
    m = measures(section.bearing(target))
    outside = mm(m.outside_mm)
    ring = next((t for t in pair if t.id.startswith(f"{target}.") or t.id.split(".")[0] in step.bearings), None)
    rest = next((t for t in pair if t is not ring), other)
    circlip = next((t for t in pair if t.kind == "circlip"), None)
    tools = [t for t in pair if t.side is not None]
    pushing = [t for t in tools if t.side == step.stack.driving_side]
    far = [t for t in tools if t.side != step.stack.driving_side]
    if circlip is not None:
        return (
            "retaining-ring-in-the-way",
            f"{name_of(circlip.id)} holds bearing {target}.",
            "Take the circlip out first.",
        )
    if not carries:
        return (
            "no-contact",
            f"Nothing presses bearing {target}: {_slips_through(scene, step, m.bore_mm) or names}.",
            f"Use a drift whose face lies on a ring: inner {mm(m.bore_mm)} to {mm(m.inner_face_outside_mm)} mm,"
            f" outer {mm(m.outer_face_inside_mm)} to {outside} mm.",
        )
    if ring is not None and not tools and step.operation == "press out" and rest.kind in ("housing", "insert", "cover"):
        leaves = section.bearing(target).leaves
        return (
            "against-shoulder",
            f"{name_of(ring.id)} is pressed against {name_of(rest.id)}; this bearing leaves to the {leaves}.",
            f"Press it out to the {leaves}.",
        )
    if len(far) == 1 and not pushing:
        moving = next(t for t in pair if t is not far[0])
        if stands_on_rim(far[0], moving):
            return (
                "cup-narrow",
                f"{name_of(moving.id)} does not go into {name_of(far[0].id)}: it meets the rim.",
                f"Use a cup that is wider inside than {mm(2 * moving.profile.r_max_mm)} mm.",
            )
        deeper = f"Use a cup at least {missing} mm deeper."
        return "cup-shallow", f"{names} before the bearing is {_goal(step)}.", deeper
    if pushing and not far:
        if step.operation == "press in" and any(t.kind == "axle" for t in pair):
            return (
                "stopped-early",
                f"{names} before the bearing is home; it will feel like home.",
                f"Use a drift at least {missing} mm deeper inside.",
            )
        if step.operation == "press in":
            return (
                "stopped-early",
                f"{names} before the bearing is home; it will feel like home.",
                f"Use a drift that goes into the bore with the bearing, less than {outside} mm outside.",
            )
        return (
            "travel-short",
            f"{names} on the pushing side before the bearing is free.",
            f"Use a drift at least {missing} mm longer, or something narrower than {name_of(pushing[0].id)}.",
        )
    if step.operation == "press out":
        return "travel-short", f"{names} before the bearing is free.", "Make room for the travel."
    return "stopped-early", f"{names} before the bearing is home.", "Look at what is in the way."


def _slips_through(scene: Scene, step: Step, bore_mm: float) -> str:
    """In words, that the part nearest to the work on the turned side goes through the bearing; empty if it does not."""
    side = step.stack.driving_side
    tools = [thing for thing in scene.things if thing.side == side and not thing.loose]
    nearest = (tools[-1] if side == "left" else tools[0]) if tools else None
    if nearest is None or 2 * nearest.profile.r_max_mm >= bore_mm:
        return ""
    wide = mm(2 * nearest.profile.r_max_mm)
    return f"{name_of(nearest.id)}, {wide} mm wide, goes through its bore of {mm(bore_mm)} mm"


def _goal(step: Step) -> str:
    return "home" if step.operation == "press in" else "free"


def _meeting_place(one: Thing, other: Thing) -> Place:
    inner = max(one.profile.r_min_mm, other.profile.r_min_mm)
    outer = min(one.profile.r_max_mm, other.profile.r_max_mm)
    left, right = (one, other) if one.left_mm + one.right_mm <= other.left_mm + other.right_mm else (other, one)
    return Place((min(left.right_mm, right.right_mm) + max(left.left_mm, right.left_mm)) / 2, inner + outer)
