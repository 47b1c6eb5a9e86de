"""Deciding: the one reading that would tell most about what is in doubt."""

from collections.abc import Iterable

from msgspec.structs import replace

from geometry.check.doubt import line_in_words, repeat_for, repeat_in_words
from geometry.check.finding import Finding, in_order_of_truth, verdict_of
from geometry.check.fit_findings import MEASURE_AGAIN
from geometry.check.interference import BAND
from geometry.check.result import ReadingAgain
from geometry.check.trial import MAY_BE
from geometry.job.measured import Measured
from geometry.readings.leverage import Repeat


def with_deciding(measured: Measured, findings: Iterable[Finding]) -> tuple[tuple[Finding, ...], ReadingAgain | None]:
    """The findings, each in doubt with the reading that would tell most about it, and what decides the step.

    The last is the reading for the first finding that keeps the step from an answer; it is a finding of its own.
    With a certain fault the answer is there, and nothing decides any more.
    """
    found: list[Finding] = []
    deciding: tuple[Finding, Repeat] | None = None
    for finding in in_order_of_truth(findings):
        repeat = None
        if finding.certainty != "certain" and finding.hangs_on:
            repeat = repeat_for(measured, finding.hangs_on)
        found.append(finding if repeat is None else _with_repeat(measured, finding, repeat))
        if repeat is not None and deciding is None and keeps_from_an_answer(finding):
            deciding = finding, repeat
    if deciding is None or verdict_of(tuple(found)) == "not good":
        return tuple(found), None
    about, repeat = deciding
    before_mm, after_mm = BAND * repeat.before_mm, BAND * repeat.after_mm
    again = ReadingAgain(
        repeat.line.id, repeat.instrument.id, about.code, question_of(about), before_mm, after_mm
    )
    return (*found, _decides(measured, about, repeat)), again


def keeps_from_an_answer(finding: Finding) -> bool:
    """Whether a finding makes a step one of which nobody can tell."""
    return finding.certainty == "in doubt" or (finding.severity == "fault" and finding.certainty == "likely")


def question_of(finding: Finding) -> str:
    """What a finding that is not certain leaves open, in words: 'whether the outer ring of BL is held'."""
    said = finding.message.removeprefix(MAY_BE).split(". ")[0].rstrip(".")
    return finding.question or f"whether “{said}” is so"


def _with_repeat(measured: Measured, finding: Finding, repeat: Repeat) -> Finding:
    sentence = repeat_in_words(measured, repeat)
    if finding.certainty == "in doubt":
        return replace(finding, way_out=sentence, line=repeat.line.id, instrument=repeat.instrument.id)
    rest = finding.way_out.replace(MEASURE_AGAIN, "").strip()
    way_out = f"{sentence} {rest}".strip()
    return replace(finding, way_out=way_out, line=repeat.line.id, instrument=repeat.instrument.id)


def _decides(measured: Measured, about: Finding, repeat: Repeat) -> Finding:
    before, after = BAND * repeat.before_mm, BAND * repeat.after_mm
    line = line_in_words(repeat.line.title)
    quantities = {term.quantity for term in repeat.line.terms}
    return Finding(
        "reading-decides",
        "caution",
        tuple(dict.fromkeys(one.of for one in measured.quantities if one.name in quantities)),
        f"One reading tells most about {question_of(about)}: {line}.",
        f"doubt of the figure ±{before:.3f} now, ±{after:.3f} with one more reading of it (95 %)",
        "leverage of a further reading on the figure, shared errors kept (least squares, JCGM 100)",
        repeat_in_words(measured, repeat),
        about.place,
        "in doubt",
        values={"before_mm": before, "after_mm": after},
        line=repeat.line.id,
        instrument=repeat.instrument.id,
    )
