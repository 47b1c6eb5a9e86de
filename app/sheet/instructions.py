"""What is to be done at a step, in the order in which hands do it; plain sentences without any layout."""

from geometry.check.in_words import FIT_STATES, fit_line, member_line, most_used
from geometry.check.ledge_words import ledge_lines
from geometry.check.result import Band, StepCheck
from geometry.check.warmth import CAPPED_LIMIT_C
from geometry.check.wording import mm, name_of, newtons
from geometry.job.job import Job, Step
from geometry.parts.forms import Flanged, Handle, Hollow, Nut, Relieved, Ring, Rod, StopDrift, Toe
from geometry.parts.part import ToolPart, part_profile
from geometry.record import Derived
from geometry.stack.stack import StackPart

NOT_COMPUTED = "not computed"
MEMBERS_TOLD = 3
WARMTH = f"Warmth: never above {CAPPED_LIMIT_C:.0f} °C, no flame; not near bonded or carbon parts."
STOP_TELLS_FROM = 1.1
"""What a firm stop drives through balls is told apart where it is this many times what the way does."""


class OnRod(Derived, frozen=True):
    """One part in the order of putting on; its number is that of its balloon."""

    number: int
    name: str
    """`rod`, `D28@left`."""
    part: ToolPart
    stacked: StackPart | None
    """None for the rod itself."""


def order_of_putting_on(job: Job, step: Step) -> tuple[OnRod, ...]:
    """Rod, then the side that stands still from its nut inwards, then the driven side outwards."""
    stack = step.stack
    still = "left" if stack.driving_side == "right" else "right"
    places = (*reversed(stack.side(still)), *stack.side(stack.driving_side))
    names = stack.names()
    found = [("rod", job.part(stack.rod), None)] if stack.rod else []
    found += [(names[place], job.part(stack.parts[place].part), stack.parts[place]) for place in places]
    return tuple(OnRod(number, *one) for number, one in enumerate(found, start=1))


def nuts(job: Job, step: Step) -> tuple[OnRod | None, OnRod | None]:
    """The nut that is turned and the nut that stands still."""
    threaded = [one for one in order_of_putting_on(job, step) if one.stacked is not None and one.part.thread]
    turned = [one for one in threaded if one.stacked and one.stacked.side == step.stack.driving_side]
    still = [one for one in threaded if one.stacked and one.stacked.side != step.stack.driving_side]
    return (turned[-1] if turned else None, still[0] if still else None)


def part_line(one: OnRod) -> str:
    """Name, side and way round of a part, and the size to check before use."""
    words = [f"{one.part.id} {one.part.title}"]
    if one.stacked is not None:
        words += [one.stacked.side, way_round(one.part, flipped=one.stacked.flipped)]
        words.append("loose, put in by hand" if one.stacked.loose else "")
        words.append("goes in from the side" if one.part.goes_in_sideways else "")
    return f"{', '.join(word for word in words if word)}: {measure_line(one.part)}"


def way_round(part: ToolPart, *, flipped: bool) -> str:
    """Which end faces the work; nothing where both ends are alike."""
    ends = {
        Flanged: ("flange away from the work", "flange towards the work"),
        Relieved: ("recessed face towards the work", "recessed face away from the work"),
        Hollow: ("open end towards the work", "closed end towards the work"),
        StopDrift: ("stepped face towards the work", "stepped face away from the work"),
        Toe: ("toe towards the work", "toe away from the work"),
        Handle: ("boss towards the work", "boss away from the work"),
    }
    if _both_ends_alike(part):
        return ""
    usual, turned = ends.get(type(part.form), ("as drawn", "as drawn"))
    return turned if flipped else usual


def _both_ends_alike(part: ToolPart) -> bool:
    """Whether the part looks the same turned round: its corners, seen from either end, are the same."""
    outline = part_profile(part)
    from_left = {(round(z, 6), r) for ring in outline.rings for z, r in ring}
    from_right = {(round(part.length_mm - z, 6), r) for z, r in from_left}
    return from_left == from_right


def measure_line(part: ToolPart) -> str:
    """What to measure before use, so that the right part is taken; Ø outside/inside×length."""
    form = part.form
    if isinstance(form, Rod):
        return f"{form.thread}×{mm(form.length_mm)}"
    if isinstance(form, Nut):
        return f"{form.thread}×{mm(form.length_mm)}"
    if isinstance(form, Ring):
        return f"Ø{mm(form.outside_mm)}/{mm(form.bore_mm)}×{mm(form.length_mm)}"
    if isinstance(form, Flanged):
        return f"Ø{mm(form.pilot_mm)}/{mm(form.bore_mm)} pilot, Ø{mm(form.flange_mm)} flange"
    if isinstance(form, Relieved):
        return f"Ø{mm(form.rim_outside_mm)}/{mm(form.rim_inside_mm)} rim, {mm(form.relief_mm)} recess"
    if isinstance(form, Hollow):
        return f"Ø{mm(form.outside_mm)}/{mm(form.inside_mm)} mouth, {mm(form.depth_mm)} deep"
    if isinstance(form, StopDrift):
        return f"Ø{mm(form.face_outside_mm)}/{mm(form.face_inside_mm)} face, {mm(form.reach_mm)} reach"
    if isinstance(form, Toe):
        return f"Ø{mm(form.toe_outside_mm)} toe, Ø{mm(form.shank_mm)} shank"
    profile = part_profile(part)
    return f"Ø{mm(2 * profile.r_max_mm)}×{mm(part.length_mm)}"


def actions(job: Job, step: Step, check: StepCheck) -> tuple[str, ...]:
    """The step as numbered sentences would have it."""
    goes_in = step.operation == "press in"
    turned, still = nuts(job, step)
    done: list[str] = []
    if step.take_off:
        done.append(f"Take off by hand: {_titles(job, step.take_off)}.")
    if step.put_on:
        done.append(f"Put in place by hand: {_titles(job, step.put_on)}.")
    if goes_in:
        done.append("Clean and deburr the seat; feel its edge with a finger. Wipe all faces.")
    else:
        done.append("Clean and deburr the way out. No retaining ring may be left in front of the bearing.")
    done += [
        f"{bearing}: open side to the {side}." for bearing, side in step.open_side.items() if bearing in step.bearings
    ]
    done += [f"Hold {_titles(job, (body,))} {mm(by)} mm to one side." for body, by in step.pushed_aside_mm.items()]
    done.append("Check each part's size, then put them on in the order listed.")
    done.append("Grease the thread and the face of the turned nut.")
    done.append("Turn by hand until all touch. Look from two sides, a quarter turn apart: square, central?")
    done.append(_turning(step, turned, still))
    if check.feel:
        done.append(f"At the nut: {check.feel[0].lower()}{check.feel[1:]}")
    done.append(_stop(step, check))
    if check.torque_nm is not None:
        done.append(f"Stop and look at more than {_two(check.torque_nm.high)} Nm: something is wrong.")
    done += _afterwards(job, step, check)
    return tuple(done)


def _turning(step: Step, turned: OnRod | None, still: OnRod | None) -> str:
    side = step.stack.driving_side
    other = "left" if side == "right" else "right"
    first = f"Turn only nut {turned.number} ({side})" if turned else f"Turn only the nut on the {side}"
    second = f"nut {still.number} ({other})" if still else f"the nut on the {other}"
    return f"{first}, clockwise. Hold {second} and the rod: they must not turn."


def _stop(step: Step, check: StepCheck) -> str:
    if step.operation == "press in":
        home = check.home or NOT_COMPUTED
        return f"Stop at home: {home}. Measure it; do not go by feel alone."
    if check.travel is None:
        return f"Stop when the bearing is free. Travel: {NOT_COMPUTED}."
    room = check.travel.room_left_mm
    spare = f"; {mm(room)} mm of room left" if room is not None and room >= 0.0 else ""
    return f"Stop when the bearing is free, after {mm(check.travel.needed_mm)} mm{spare}."


def _afterwards(job: Job, step: Step, check: StepCheck) -> list[str]:
    done = ["Release the nut fully before you touch a part; take off in reverse order."]
    if step.operation == "press in":
        done.append("Turn each bearing by hand: smooth, without play, without rubbing.")
    if step.goes_along and step.operation == "press out":
        done.append(f"With the bearing comes: {_titles(job, step.goes_along)}.")
    scrap = [id for id, forces in check.bearings.items() if forces.fate == "scrap" and forces.balls_n > 0.0]
    if scrap:
        done.append(f"Mark as scrap at once, never refit: {', '.join(scrap)}.")
    return done


def holding(check: StepCheck) -> tuple[str, ...]:
    """What is used most, how each ring fits, how far the balls are from harm; nothing where nothing was judged."""
    used = most_used(check, MEMBERS_TOLD)
    lines = [f"Used of what it bears: {'; '.join(member_line(one) for one in used)}."] if used else []
    lines += [f"{fit_line(fit)[:1].upper()}{fit_line(fit)[1:]}." for fit in check.fits]
    if any(fit.free_at_k is not None for fit in check.fits):
        lines.append(WARMTH)
    lines += [f"Balls of {id}: {ball_loads(check, id)}{margin.words}" for id, margin in check.ball_margins.items()]
    if check.ledge is not None:
        lines += [line.text for line in ledge_lines(check.ledge)]
    return tuple(lines)


def ball_loads(check: StepCheck, id: str) -> str:
    """'205 N on the way, 744 N at the firm stop. ' where a stop drives more through the balls than the way; or ''."""
    at_stop_n = at_firm_stop_n(check, id)
    if at_stop_n is None:
        return ""
    return f"{newtons(check.ball_margins[id].load_n)} on the way, {newtons(at_stop_n)} at the firm stop. "


def at_firm_stop_n(check: StepCheck, id: str) -> float | None:
    """What a firm stop drives through the balls of a bearing [N]; None where that is no more than the way does."""
    curve, margin = check.force_travel, check.ball_margins.get(id)
    if curve is None or margin is None:
        return None
    most = max(curve.balls_n.get(id, ()), default=0.0)
    return most if most > STOP_TELLS_FROM * margin.load_n else None


def holding_in_brief(check: StepCheck) -> tuple[str, ...]:
    """The same where room is short: what the balls mean for the bearing; the states of the fits if none carry."""
    if check.ball_margins:
        words = {id: margin.words.split(". ", 2)[:2] for id, margin in check.ball_margins.items()}
        return tuple(
            f"Balls of {id}: {ball_loads(check, id)}{amount}. {meaning.rstrip('.')}."
            for id, (amount, meaning) in words.items()
        )
    fits = (f"{fit.ring} ring of {fit.bearing} {FIT_STATES.get(fit.state, fit.state)}" for fit in check.fits)
    return (f"Fits: {', '.join(fits)}.",) if check.fits else ()


def hooking_in_brief(check: StepCheck) -> tuple[str, ...]:
    """What a toe presses on its ledge and how far off the axis; nothing where nothing is hooked."""
    return tuple(line.text for line in ledge_lines(check.ledge)[1:3]) if check.ledge is not None else ()


def cautions(job: Job) -> tuple[str, ...]:
    """What holds for every step."""
    lines = [
        "The instructions of the hub's maker govern. When in doubt, ask a qualified mechanic.",
        "Eye protection on. Stand beside the rod, never in line with it; fingers out of the gap. Never press"
        " with a bent, worn or damaged rod or part. Stop if anything tilts or jumps.",
    ]
    maker = job.instructions
    if maker is not None:
        said = []
        if maker.first_bearing:
            towards = f", towards the {maker.first_towards}" if maker.first_towards else ""
            said.append(f"{maker.first_bearing} first{towards}")
        if maker.never_push:
            said.append(f"never press on {', '.join(maker.never_push)}")
        if maker.torque_nm is not None:
            said.append(f"torque {_two(maker.torque_nm)} Nm")
        if maker.note:
            said.append(maker.note.rstrip("."))
        if said:
            lines.append(f"The maker says: {'; '.join(said)}.")
    return tuple(lines)


def offsets(check: StepCheck) -> str:
    """How far the parts can be off the axis when the press starts."""
    if not check.centring:
        return f"Offset at the start: {NOT_COMPUTED}."
    said = [
        f"{name_of(one.part)} {'floats' if one.offset_mm is None else mm(one.offset_mm)}"
        for one in check.centring
        if one.part in (check.pusher, check.support)
    ]
    return f"Greatest offset at the start in mm: {', '.join(said)}." if said else ""


def force_words(force_n: float) -> str:
    """A force to two figures, in newtons below a kilonewton."""
    return f"{_two(force_n)} N" if force_n < 1000.0 else f"{_two(force_n / 1000.0)} kN"


def force_band_words(band: Band | None) -> tuple[str, str]:
    """The force expected, and the band that it lies in."""
    if band is None:
        return NOT_COMPUTED, ""
    return force_words(band.expected), f"{force_words(band.low)} to {force_words(band.high)}"


def torque_band_words(band: Band | None) -> tuple[str, str]:
    """The torque expected, and the band that it lies in."""
    if band is None:
        return NOT_COMPUTED, ""
    return f"{_two(band.expected)} Nm", f"{_two(band.low)} to {_two(band.high)} Nm"


def _two(value: float) -> str:
    """Two figures, as exact as a press force is known."""
    if value >= 100.0:
        return f"{float(f'{value:.2g}'):.0f}"
    return f"{value:.2g}" if value >= 1e-3 else "0"


def _titles(job: Job, ids: tuple[str, ...]) -> str:
    return ", ".join(job.section.body(id).title for id in ids)
