"""A check as data for other programs, and as text for people."""

from collections.abc import Iterator
from math import isfinite

from msgspec import Struct
from msgspec.structs import asdict

from geometry.check.finding import Finding
from geometry.check.in_words import fit_line, member_line, most_used
from geometry.check.ledge_words import ledge_lines
from geometry.check.result import Band, Centring, ContactForce, JobCheck, StepCheck

FORMAT = "ringpath-check"
VERSION = 1
MEMBERS_TOLD = 3
DIGITS = 6  # a nanometre and a micronewton: rounding noise goes, nothing else

GOVERNS = (
    "A calculation, not a permission: the instructions of the hub's maker govern, and whoever is unsure asks"
    " a qualified mechanic. Wear eye protection; stand out of the line of the rod."
)


def check_as_json(check: JobCheck, *, program: str = "ringpath") -> dict[str, object]:
    """The check as plain data: lengths in mm, diameters, forces in N; null where there is no figure."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "program": program,
        "job": check.title,
        "verdict": check.verdict,
        "steps": [_step(step) for step in check.steps],
    }


def _step(step: StepCheck) -> dict[str, object]:
    return {
        "step": step.step,
        "title": step.title,
        "verdict": step.verdict,
        "checked": list(step.checked),
        "findings": [_finding(finding) for finding in step.findings],
        "bearings": {id: _tidy(forces) for id, forces in step.bearings.items()},
        "contacts": [_contact(contact) for contact in step.contacts],
        "centring": [_tidy(centring) for centring in step.centring],
        "travel": _tidy(step.travel),
        "rod": _rod(step),
        "force_n": _tidy(step.force_n),
        "torque_nm": _tidy(step.torque_nm),
        "force_travel": _tidy(step.force_travel),
        "feel": step.feel,
        "strength": [_tidy(one) for one in step.strength],
        "fits": [_tidy(fit) for fit in step.fits],
        "readings": _tidy(step.readings),
        "ball_margins": {id: _tidy(margin) for id, margin in step.ball_margins.items()},
        "ledge": _tidy(step.ledge),
    }


def _finding(finding: Finding) -> dict[str, object]:
    return {
        "code": finding.code,
        "severity": finding.severity,
        "certainty": finding.certainty,
        "bodies": list(finding.bodies),
        "place": _tidy(finding.place),
        "message": finding.message,
        "sum": finding.sum,
        "source": finding.source,
        "way_out": finding.way_out,
        "values": _tidy(finding.values),
        "line": finding.line or None,
    }


def _contact(contact: ContactForce) -> dict[str, object]:
    figures = ("z_mm", "inner_diameter_mm", "outer_diameter_mm", "force_n")
    return {"between": list(contact.between)} | {name: _tidy(getattr(contact, name)) for name in figures}


def _rod(step: StepCheck) -> object:
    if step.rod is None:
        return None
    return _tidy({name: value for name, value in asdict(step.rod).items() if name != "nut_stops_at_mm"})


def _tidy(value: object) -> object:
    """Plain data: floats rounded, no infinity, lists for tuples."""
    if isinstance(value, float):
        return round(value, DIGITS) + 0.0 if isfinite(value) else None
    if isinstance(value, Struct):
        value = asdict(value)
    if isinstance(value, dict):
        return {key: _tidy(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_tidy(item) for item in value]
    return value


def check_as_text(check: JobCheck) -> str:
    """The check as lines for a terminal, worst findings first."""
    lines = [f"{check.title}: {check.verdict.upper()}"]
    if not check.steps:
        lines.append("The job has no step to check.")
    for step in check.steps:
        lines += ["", f"Step {step.step}, {step.title}: {step.verdict.upper()}", *_lines_of(step)]
    for checked in dict.fromkeys(step.checked for step in check.steps):
        lines += ["", "Checked:", *(f"  {what}" for what in checked or ("nothing",))]
    return "\n".join([*lines, "", GOVERNS])


def _lines_of(step: StepCheck) -> Iterator[str]:
    order = ("fault", "caution", "note")
    for finding in sorted(step.findings, key=lambda finding: order.index(finding.severity)):
        doubt = "" if finding.certainty == "certain" else f", {finding.certainty}"
        yield f"  {finding.severity}{doubt}  {finding.code}: {finding.message}"
        if finding.sum:
            yield f"      sum: {finding.sum}" + (f" [{finding.source}]" if finding.source else "")
        if finding.way_out:
            yield f"      way out: {finding.way_out}"
    if step.force_path:
        yield f"  force path: {' > '.join(step.force_path)}"
    if step.force_n:
        yield f"  force: {_band(step.force_n)} N"
    if step.torque_nm:
        yield f"  torque: {_band(step.torque_nm)} Nm"
    if step.feel:
        yield f"  feel: {step.feel}"
    if step.ledge is not None:
        yield from (f"  ledge: {line.text}" for line in ledge_lines(step.ledge))
    yield from (f"  strength: {member_line(one)}" for one in most_used(step, MEMBERS_TOLD))
    yield from (f"  fit: {fit_line(fit)}" for fit in step.fits)
    if step.readings is not None and step.readings.trials:
        yield f"  readings: checked in {step.readings.trials} sections drawn from their doubt"
    for id, forces in step.bearings.items():
        yield f"  bearing {id} ({forces.fate or 'fate not given'}): {forces.balls_n:.0f} N through the balls"
    yield from (f"  balls of {id}: {margin.words}" for id, margin in step.ball_margins.items())
    yield from _travel_lines(step)
    working = (step.pusher, step.support)
    yield from (_centring_line(centring) for centring in step.centring if centring.part in working)
    if step.home:
        yield f"  home: {step.home}"


def _travel_lines(step: StepCheck) -> Iterator[str]:
    if (travel := step.travel) is not None:
        stop = "" if travel.stops_at_mm is None else f", stops at {travel.stops_at_mm:.2f}"
        by = f" ({' on '.join(travel.stopped_by)})" if travel.stopped_by else ""
        room = "" if travel.room_left_mm is None else f", room left {travel.room_left_mm:.2f}"
        yield f"  travel: {travel.needed_mm:.2f} mm needed{stop}{by}{room}"
    if (rod := step.rod) is not None:
        between = f"{rod.between_nuts_start_mm:.1f} to {rod.between_nuts_end_mm:.1f} mm between the nuts"
        length = f"{rod.needed_mm:.1f} needed of {rod.length_mm:.1f}"
        yield f"  rod: {between}, {length}, {rod.spare_mm:.1f} to spare"


def _centring_line(centring: Centring) -> str:
    if centring.offset_mm is None:
        return f"  {centring.part}: nothing holds it central"
    chain = ", ".join(f"{link.inner} in {link.outer} {link.clearance_mm:.3f}" for link in centring.chain)
    offset = f"  {centring.part}: at most {centring.offset_mm:.3f} mm off centre"
    return f"{offset} ({chain})" if chain else offset


def _band(band: Band) -> str:
    return f"{_three(band.expected)} expected, {_three(band.low)} to {_three(band.high)}"


def _three(value: float) -> str:
    """Three figures, thousands written out."""
    return f"{float(f'{value:.3g}'):.0f}" if value >= 1000.0 else f"{value:.3g}"
