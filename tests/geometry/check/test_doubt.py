"""Chances, certainties, and the reading that would tell most."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.check.deciding import question_of
from geometry.check.doubt import certainty_of, chance_below, figure_of, line_in_words, repeat_for, repeat_in_words
from geometry.check.finding import Finding, verdict_of
from geometry.check.in_words import chance_in_words, fit_line
from geometry.check.result import Band, FitResult
from geometry.check.spacer_fit import measured_excess
from geometry.job.from_readings import job_from_readings
from geometry.job.measured import fit_combinations, measured_section
from geometry.job.sequence import starts
from tests.findings.hubs import left_in, over_axle_in
from tests.findings.reading_cases import read


@pytest.mark.parametrize(
    ("chance", "expected"),
    [(1.0, "certain"), (0.975, "certain"), (0.97, "likely"), (0.75, "likely"), (0.7, "in doubt"), (0.03, "in doubt"),
     (0.02, None), (0.0, None)],
)  # fmt: skip
def test_how_sure_a_chance_makes_a_finding(chance, expected):
    assert certainty_of(chance) == expected


def test_without_doubt_a_chance_is_all_or_nothing():
    assert chance_below(0.006, value=0.005, uncertainty=0.0) == 1.0
    assert chance_below(0.006, value=0.007, uncertainty=0.0) == 0.0


@given(st.floats(-0.1, 0.1), st.floats(0.001, 0.1))
def test_chances_of_both_sides_are_one(value, uncertainty):
    below = chance_below(0.006, value=value, uncertainty=uncertainty)
    above = chance_below(-0.006, value=-value, uncertainty=uncertainty)

    assert below + above == pytest.approx(1.0)


def test_a_figure_of_the_section_follows_from_its_quantities():
    """Room between the shoulders of the shell: z2 - z1, whatever else is measured."""
    measured = measured_section(job_from_readings(left_in()))

    found = figure_of(measured, lambda section: section.body("shell").shape.slices[1].to_z_mm
                      - section.body("shell").shape.slices[1].from_z_mm)  # fmt: skip

    assert found.combination == pytest.approx({"shell.z1": -1.0, "shell.z2": 1.0}, abs=1e-6)
    assert found.uncertainty_mm == pytest.approx(measured.fit.uncertainty_mm({"shell.z1": -1.0, "shell.z2": 1.0}))


@pytest.mark.parametrize(
    ("before_mm", "after_mm", "words"),
    [(0.006, 0.003, "from ±0.012 to ±0.006 mm"), (0.00214, 0.00198, "from ±0.0042 to ±0.0039 mm")],
)
def test_a_doubt_that_falls_is_told_with_two_different_figures(before_mm, after_mm, words):
    measured = measured_section(job_from_readings(left_in()))
    repeat = next(iter(measured.worth_repeating({"shell.z2": 1.0})))

    assert words in repeat_in_words(measured, replace(repeat, before_mm=before_mm, after_mm=after_mm))


@pytest.mark.parametrize("base", [left_in, over_axle_in])
def test_a_spacer_is_too_long_by_what_its_gap_is_too_small(base):
    """The gap closes the ring of contacts; its sum comes from the layout, the excess from pushing profiles together."""
    job = job_from_readings(base(), seed=2, noise_mm=0.01)
    measured = measured_section(job)
    (gap,) = measured.gaps

    found = measured_excess(measured, starts(job)[0].state, "BL", "BR")

    assert found.value_mm == pytest.approx(-measured.gap_mm(gap), abs=1e-6)
    assert found.uncertainty_mm == pytest.approx(measured.fit.uncertainty_mm(gap.along.combination()), rel=1e-6)


def test_a_figure_that_rests_on_an_assumed_size_is_not_told():
    measured = measured_section(read(left_in(), "shell.z1"))

    assert figure_of(measured, lambda section: section.body("shell").shape.slices[0].to_z_mm) is None


def test_the_reading_that_tells_most_is_named_with_its_instrument():
    measured = measured_section(read(left_in(), "shell.bore1", "27.97", instrument="inside jaws"))

    repeat = repeat_for(measured, fit_combinations(left_in().section)["BL.outer"])

    assert repeat.line.id == "shell.bore1"
    assert repeat.instrument.id == "bore gauge"
    words = repeat_in_words(measured, repeat)
    assert words.startswith("Measure bore of the left seat (shell) again with a bore gauge: ")
    assert repeat.after_mm < 0.2 * repeat.before_mm


def test_what_the_standard_gives_is_not_measured_again():
    measured = measured_section(read(left_in(), "shell.bore1", "27.97 27.97 27.97", instrument="bore gauge"))

    repeat = repeat_for(measured, {"BL.outside": 1.0})

    assert repeat_in_words(measured, repeat).startswith("Measure outside (Bearing BL) with a micrometer: ")


def test_no_reading_is_named_where_none_helps():
    measured = measured_section(job_from_readings(left_in()))

    assert repeat_for(measured, {"spacer.z1": 0.0}) is None


def test_a_line_within_a_sentence():
    assert line_in_words("shell: bore of the left seat") == "bore of the left seat (shell)"
    assert line_in_words("my own line") == "my own line"


@pytest.mark.parametrize(
    ("severity", "certainty", "expected"),
    [("fault", "certain", "not good"), ("fault", "likely", "cannot tell"), ("fault", "in doubt", "cannot tell"),
     ("caution", "certain", "caution"), ("caution", "likely", "caution"), ("caution", "in doubt", "cannot tell"),
     ("note", "certain", "good")],
)  # fmt: skip
def test_verdict_of_what_is_not_sure(severity, certainty, expected):
    found = Finding("off-centre", severity, ("D28@left",), "It hangs.", certainty=certainty)

    assert verdict_of((found,)) == expected


def test_a_certain_fault_counts_whatever_else_is_in_doubt():
    certain = Finding("rod-short", "fault", ("rod",), "Too short.")
    doubtful = Finding("fit-loose", "caution", ("BL.outer",), "Loose?", certainty="in doubt")

    assert verdict_of((doubtful, certain)) == "not good"


def test_a_fit_says_its_chance_of_being_loose():
    fit = FitResult("BL", "outer", Band(-0.004, 0.012, 0.028), "right", None, None, None, "", 0.07)

    assert fit_line(fit) == "outer ring of BL: right, 0.012 tight ± 0.016, 7 % chance of being loose"


def test_a_ring_that_may_slide_says_no_chance():
    fit = FitResult("BL", "inner", Band(-0.018, -0.011, -0.004), "right", None, None, None, "", 0.999)

    assert fit_line(fit) == "inner ring of BL: right, 0.011 loose ± 0.007"


@pytest.mark.parametrize(
    ("chance", "expected"),
    [(0.0, "less than 1 % chance"), (0.07, "7 % chance"), (0.999, "more than 99 % chance")],
)
def test_a_chance_in_words_claims_nothing_it_cannot(chance, expected):
    assert chance_in_words(chance) == expected


@pytest.mark.parametrize(
    ("finding", "question"),
    [
        (Finding("fit-loose", "caution", (), "Loose.", question="whether it is held"), "whether it is held"),
        (Finding("collides", "fault", (), "D28 (left) and shell share 0.3 mm. Both are hard."),
         "whether “D28 (left) and shell share 0.3 mm” is so"),
        (Finding("collides", "fault", (), "May be, by the readings: D28 meets the shell."),
         "whether “D28 meets the shell” is so"),
    ],
)  # fmt: skip
def test_what_a_finding_leaves_open_is_said_in_words(finding, question):
    assert question_of(finding) == question
