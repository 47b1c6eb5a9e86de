"""Findings about the readings of a job: what is missing, disagrees, or looks like a slip."""

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from geometry.check.doubt import line_in_words, with_article
from geometry.check.finding import Certainty, Finding, Fix, Severity
from geometry.check.interference import BAND
from geometry.check.wording import mm
from geometry.errors import RingpathError
from geometry.job.by_identity import kept_by_identity
from geometry.job.impossible import ImpossibleSizesError
from geometry.job.job import Job, Step
from geometry.job.measured import Measured
from geometry.job.quantities import Quantity
from geometry.job.sequence import starts
from geometry.job.standard import Mismatch
from geometry.job.worksheet import quantities_needed
from geometry.readings.closure import Disagreement, Suspect
from geometry.readings.readings import Line
from geometry.readings.standard_size import bearings_offered
from geometry.readings.suspicion import Suspicion
from geometry.section.section import Section
from geometry.section.state import State
from geometry.units import format_mm

MOST_NAMED = 3
MOVED_MM = 0.005
"""What is not measured and moved by less is told as drawn."""
CLOSURE_SOURCE = "closure test of the least squares of all readings (JCGM 100); pointing beyond 3.29"


def reading_findings(job: Job, index: int, measured: Measured) -> list[Finding]:
    """What is wrong with the readings that one step rests on; a note says what is wrong with others.

    Parameters
    ----------
    job
        With its readings and the drawing that they refer to.
    measured
        `measured_section` of it.
    """
    wanted = wanted_quantities(job, index, measured)
    found = [_unusable(problem) for problem in measured.problems]
    found += [_disagreeing(measured, one, wanted) for one in measured.closure.disagreements]
    if not measured.closure.disagreements and not measured.closure.closes:
        found.append(_not_closing(measured))
    found += [_slip(measured, place, one, wanted) for place, one in measured.suspicions]
    found += [_mismatched(job, index, measured, one) for one in measured.mismatches]
    missing = missing_for(job, index, measured)
    if missing:
        found.append(_missing(measured, missing))
    return found


def standing_on(measured: Measured, findings: Iterable[Finding], wrong: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings; those that stand on readings which disagree are in doubt, whatever their figures say.

    Parameters
    ----------
    wrong
        Findings about the readings.
    """
    suspects = [suspect for one in measured.closure.disagreements for suspect in one.suspects]
    shaky = {name for suspect in suspects for name, _ in measured.tested.observations[suspect.place].terms}
    bodies = {body for one in wrong if one.code == "readings-disagree" for body in one.bodies}

    def stands(finding: Finding) -> bool:
        named = {body.partition(".")[0] for body in finding.bodies}
        return not (bodies.isdisjoint(named) and shaky.isdisjoint(finding.hangs_on))

    return tuple(
        replace(one, certainty="in doubt") if one.severity != "note" and stands(one) else one for one in findings
    )


def missing_for(job: Job, index: int, measured: Measured) -> tuple[str, ...]:
    """The quantities that a step rests on and that are taken as drawn, because nothing measures them."""
    wanted = wanted_quantities(job, index, measured)
    return tuple(name for name, state in measured.states.items() if state == "assumed" and name in wanted)


def wanted_quantities(job: Job, index: int, measured: Measured) -> frozenset[str]:
    """The quantities that a step rests on, of the bodies and bearings that are there."""
    return _wanted(job.section, job.steps[index], measured, starts(job)[index].state)


@kept_by_identity
def _wanted(section: Section, step: Step, measured: Measured, state: State) -> frozenset[str]:
    present = state.present
    needed = quantities_needed(section, step)
    return frozenset(one.name for one in measured.quantities if one.name in needed and one.of in present)


def _missing(measured: Measured, names: tuple[str, ...]) -> Finding:
    quantities = [measured.quantity(name) for name in names]
    named = [line_in_words(one.title) for one in quantities[:MOST_NAMED]]
    if len(names) > MOST_NAMED:
        named.append(f"{len(names) - MOST_NAMED} more")
    line = _line_for(measured, names[0])
    together = next((one.only_together_with for one in measured.missing if one.quantity == names[0]), ())
    return Finding(
        "reading-missing",
        "caution",
        tuple(dict.fromkeys(one.of for one in quantities)),
        f"Not measured, but this step rests on it: {_listed(named)}.",
        "taken as drawn: " + ", ".join(_taken(measured, one) for one in quantities),
        "readings of this job, and what the check of this step follows from",
        "Add a line for it to the reading sheet."
        if line is None
        else f"Measure {line_in_words(line.title)} with {with_article(line.instrument)}."
        + (" So far it is read together with others only." if together else ""),
        certainty="in doubt",
        values={"missing": float(len(names))},
        line="" if line is None else line.id,
    )


def _taken(measured: Measured, one: Quantity) -> str:
    value_mm = measured.value_mm(one.name)
    moved = ", moved along with what was read" if abs(value_mm - one.drawn_mm) > MOVED_MM else ""
    return f"{line_in_words(one.title)} {mm(value_mm)}{moved}"


def _disagreeing(measured: Measured, one: Disagreement, wanted: frozenset[str]) -> Finding:
    suspects = one.suspects
    terms = {name for suspect in suspects for name, _ in measured.tested.observations[suspect.place].terms}
    severity, certainty = _if_wanted(not wanted.isdisjoint(terms))
    titles = [_title_of(measured, suspect) for suspect in suspects]
    first = suspects[0]
    if one.is_named:
        amount = f"{mm(abs(first.size_mm))} mm too {'much' if first.size_mm > 0.0 else 'little'}"
        is_read = measured.tested.observations[first.place].reading is not None
        left_out = " The section is drawn without it." if is_read else ""
        message = f"{_capital(titles[0])} reads about {amount}: the readings do not close.{left_out}"
        way_out = f"Measure {titles[0]} again, or set that reading aside and say why."
    else:
        message = (
            f"The readings disagree by {mm(abs(first.size_mm))} mm. One loop alone cannot tell which of them is wrong:"
            f" {_listed(titles)}."
        )
        way_out = f"Measure these again, {titles[0]} first, or add a line that parts the loop."
    closure = measured.closure
    return Finding(
        "readings-disagree",
        severity,
        _bodies(measured, terms),
        message,
        f"closure: chi-square {closure.chi2:.1f} with {closure.dof} to check, at most {closure.limit:.1f}; "
        + ", ".join(f"{t} {s.size_mm:+.3f} ({abs(s.pointing):.1f})" for t, s in zip(titles, suspects, strict=True)),
        CLOSURE_SOURCE,
        way_out,
        certainty=certainty,
        values={"off_mm": first.size_mm, "pointing": first.pointing, "suspects": float(len(suspects))},
        line=first.id,
    )


def _not_closing(measured: Measured) -> Finding:
    closure = measured.closure
    return Finding(
        "readings-disagree",
        "caution",
        (),
        "Together the readings differ more than their instruments explain, and no single one stands out.",
        f"closure: chi-square {closure.chi2:.1f} with {closure.dof} to check, at most {closure.limit:.1f}",
        CLOSURE_SOURCE,
        "Check the zero of the instruments, and that each line says which one was used.",
        certainty="in doubt",
        values={"chi2": closure.chi2, "limit": closure.limit},
    )


def _slip(measured: Measured, place: int, slip: Suspicion, wanted: frozenset[str]) -> Finding:
    reading = measured.readings.readings[place]
    line = measured.readings.line(reading.line)
    title = line_in_words(line.title)
    terms = {term.quantity for term in line.terms}
    used = [k for k, one in enumerate(measured.readings.readings) if one.line == line.id and not one.set_aside]
    fix = None
    if used[-1:] == [place]:
        typed = f"{slip.proposed_mm:.3f} mm"
        if slip.meant == "inches" and not any(sign.isalpha() or sign in "\"'″′" for sign in reading.typed):
            typed = f"{reading.typed.strip()} in"  # what was read stays as it was read
        fix = Fix(f"Take it as {format_mm(slip.proposed_mm)} mm", "type_reading", {"line": line.id, "typed": typed})
    return Finding(
        "mixed-units-suspected",
        "note" if wanted.isdisjoint(terms) else "caution",
        _bodies(measured, terms),
        f"{_capital(title)}: {slip.sentence} It is not used so far.",
        f"typed '{reading.typed.strip()}': {format_mm(slip.typed_mm)} mm, expected about {format_mm(slip.expected_mm)};"
        f" as {slip.meant} {format_mm(slip.proposed_mm)}",
        "sizes of the drawing and of what fits there; within 4 % (common practice)",
        f"Type {title} again with its unit, or say that it is meant.",
        values={"typed_mm": slip.typed_mm, "proposed_mm": slip.proposed_mm},
        fix=fix,
        line=line.id,
    )


def _mismatched(job: Job, index: int, measured: Measured, one: Mismatch) -> Finding:
    quantity = measured.quantity(one.quantity)
    what = quantity.title.partition(": ")[2]
    sizes = {short: measured.value_mm(f"{one.bearing}.{short}") for short in ("bore", "outside", "width")}
    offered = bearings_offered(bore_mm=sizes["bore"], outside_mm=sizes["outside"], width_mm=sizes["width"])
    others = [size.designation for size in offered if size.designation != one.designation][:MOST_NAMED]
    measure_again = f"Read the marking of {one.bearing} again, and measure its {what} again."
    return Finding(
        "designation-mismatch",
        "fault" if one.bearing in job.steps[index].bearings else "note",
        (f"{one.bearing}.outer", f"{one.bearing}.inner"),
        f"{one.bearing} is said to be a {one.designation}, its {what} about {mm(one.standard_mm)} mm; measured"
        f" {mm(one.measured_mm)} mm.",
        f"measured {one.measured_mm:.3f} ± {BAND * one.uncertainty_mm:.3f} (95 %), {one.designation}"
        f" {one.standard_mm:.3f}: {one.measured_mm - one.standard_mm:+.3f}",
        "boundary dimensions ISO 15, limits ISO 492 class Normal (geometry/facts/bearings.csv, tolerances.csv)",
        f"{measure_again} By its measures it may be {_listed(others, 'or')}." if others else measure_again,
        values={"measured_mm": one.measured_mm, "standard_mm": one.standard_mm},
        line=one.quantity,
    )


def _unusable(problem: RingpathError) -> Finding:
    message, way_out, line = f"A reading cannot be used. {problem}", "Type it again.", ""
    if isinstance(problem, ImpossibleSizesError):
        message = f"The readings make no section; it stays as drawn. {problem}"
        way_out = "Measure again what is named."
        if problem.lines:
            line = problem.lines[0].id
            way_out = f"Measure again: {_listed([line_in_words(one.title) for one in problem.lines])}."
    return Finding(
        "reading-missing",
        "caution",
        (),
        message,
        source="readings of this job",
        way_out=way_out,
        certainty="in doubt",
        line=line,
    )


def _if_wanted(wanted: bool) -> tuple[Severity, Certainty]:
    return ("caution", "in doubt") if wanted else ("note", "certain")


def _line_for(measured: Measured, name: str) -> Line | None:
    """The line of the sheet that measures a quantity, alone if there is one."""
    lines = [line for line in measured.readings.lines if any(term.quantity == name for term in line.terms)]
    return min(lines, key=lambda line: len(line.terms), default=None)


def _title_of(measured: Measured, suspect: Suspect) -> str:
    """Of its line, or of the standard size."""
    line = next((line for line in measured.readings.lines if line.id == suspect.id), None)
    return line_in_words(measured.quantity(suspect.id).title if line is None else line.title)


def _bodies(measured: Measured, quantities: set[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.of for one in measured.quantities if one.name in quantities))


def _listed(words: Sequence[str], last: str = "and") -> str:
    """'a, b and c'."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
