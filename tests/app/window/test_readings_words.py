"""How sure things are, in the words of the window: findings, fits, and the head of the readings sheet."""

import pytest
from msgspec.structs import replace
from PySide6.QtTest import QSignalSpy

from app.window.findings_panel import FindingsPanel, certainty_words
from app.window.force_words import fit_words
from app.window.readings_lines import doubtful_text, lines_shown, next_wanted
from app.window.readings_words import again_words, closure_words, completeness_words
from geometry.check.finding import Finding
from geometry.check.result import Band, FitResult, ReadingAgain
from geometry.job.measured import measured_section
from geometry.job.reading_changes import add_line, skip_line, start_readings, type_reading
from geometry.readings.readings import Line, Term
from tests.plain_hub import plain_hub

FIT = FitResult(
    bearing="BL",
    ring="outer",
    interference_mm=Band(-0.01, 0.006, 0.022),
    state="right",
    clearance_left_um=None,
    free_at_k=None,
    hoop_mpa=None,
    source="readings",
)


def _finding(**more):
    return Finding(code="fit-loose", severity="caution", bodies=("BL",), message="Loose.", **more)


@pytest.mark.parametrize(
    ("finding", "words"),
    (
        (_finding(), ""),
        (_finding(certainty="likely", values={"chance": 0.83}), " · likely, 83 % chance"),
        (_finding(certainty="in doubt"), " · cannot tell"),
        (_finding(certainty="in doubt", values={"chance": 0.41}), " · cannot tell, 41 % chance"),
    ),
)
def test_a_finding_says_how_sure_it_is(finding, words):
    assert certainty_words(finding) == words


def test_a_finding_goes_to_the_line_that_it_asks_for(qtbot):
    panel = FindingsPanel()
    qtbot.addWidget(panel)
    spy = QSignalSpy(panel.line_asked)
    asking = _finding(line="shell.bore1", instrument="bore gauge")
    panel.show_findings((asking, replace(_finding(), message="Another.")), words_when_empty="")
    first, second = panel.cards
    first.read.click()

    assert spy.at(0) == ["shell.bore1", "bore gauge"]
    assert second.read.isHidden()


def test_a_fit_says_its_chance_of_being_loose():
    found = fit_words(replace(FIT, loose_probability=0.072), "mm")

    assert "By the readings a 7 % chance of being loose" in found
    assert not any("chance" in line for line in fit_words(FIT, "mm"))


def test_a_doubt_is_twice_the_standard_uncertainty():
    assert doubtful_text(28.0, 0.015, "mm") == "28 ± 0.03 mm"
    assert doubtful_text(28.0, 0.0031, "mm") == "28 ± 0.006 mm"
    assert doubtful_text(25.4, 0.0127, "in") == "1 ± 0.001 in (25.4 ± 0.03 mm)"


def _hub(**typed):
    job = start_readings(plain_hub())
    for line, text in typed.items():
        job = type_reading(job, line=line.replace("__", "."), typed=text)
    return job


def test_closure_names_the_reading_where_two_loops_meet():
    """The shoulders read from left and from right, and their distance: the overall length is in both loops."""
    job = _hub(shell__z3="60.3±0.02", shell__z1="9±0.02")
    terms = {
        "right": (Term("shell.z3"), Term("shell.z2", -1.0)),
        "left of right": (Term("shell.z2"),),
        "left from right": (Term("shell.z3"), Term("shell.z1", -1.0)),
    }
    typed = {"right": "9±0.02", "left of right": "51±0.02", "left from right": "51±0.02"}
    for id, one in terms.items():
        job = add_line(job, line=Line(id, id, one, "depth blade", "depth"))
        job = type_reading(job, line=id, typed=typed[id])
    measured = measured_section(job)
    words = closure_words(measured, "mm")

    said = "The readings disagree: Hub shell: overall length reads 0.3 mm too much. The section is drawn without it."
    assert words == said
    assert measured.value_mm("shell.z3") == pytest.approx(60.0, abs=0.001)  # 51 and 9, not the 60.3 that was read


def test_completeness_counts_what_the_step_needs():
    job = skip_line(_hub(shell__z3="60.02"), line="shell.bore1")
    lines = lines_shown(job, 0, measured_section(job), "mm")
    count = sum(1 for one in lines if one.is_needed)

    assert completeness_words(lines) == f"1 of {count} that this step needs; 1 skipped."
    assert next_wanted(lines, "shell.z3") == "shell.z1"
    assert next_wanted(lines, "shell.z2 from the right") == "shell.bore3"  # the skipped one is passed over


def test_what_the_check_would_have_read_again_goes_first():
    measured = measured_section(_hub(shell__z3="60.02"))
    question = "whether the outer ring of BL is held"
    again = ReadingAgain("shell.bore1", "bore gauge", "fit-loose", question, 0.052, 0.0113)
    words = again_words(again, measured, "mm")

    assert words.line == "shell.bore1"
    assert "with the bore gauge" in words.words
    assert words.words.endswith(f"tells most about {question}: the doubt falls from ±0.05 mm to ±0.011 mm.")
    assert words.instrument == "bore gauge"
    assert again_words(None, measured, "mm") is None
