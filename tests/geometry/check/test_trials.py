"""Trials against what is known: a made-up finding about one length of the section, normal as its readings make it."""

import pytest
from scipy.stats import norm

from geometry.check.finding import Finding
from geometry.check.slopes import chance_along, deciding_sum
from geometry.check.trial import Trial, by_key, key_of
from geometry.check.trials import EDGE_PAIRS, tried, tried_at_the_edge
from geometry.job.measured import fit_combinations, measured_section
from tests.findings.hubs import left_in
from tests.findings.reading_cases import read

MEASURED = measured_section(read(left_in(), "spacer.outside1", "18.00", instrument="outside jaws"))
"""With the outside of the spacer, on which nothing hangs, read with a caliper."""
U_MM = MEASURED.uncertainty_mm("spacer.outside1")
NOTE = Finding("galling", "note", ("rod",), "Grease it.")


def wide(section):
    """Outside of the spacer."""
    return section.body("spacer").shape.slices[0].outside_mm


def at_fault(limit_mm, *, with_figure=True):
    """A check that finds a spacer wider than the limit."""

    def findings(section):
        values = {"width_mm": wide(section)} if with_figure else {}
        found = Finding("cannot-pass", "fault", ("spacer",), "Too wide.", "sum", values=values)
        return (NOTE, found) if wide(section) > limit_mm else (NOTE,)

    return findings


def found_with(findings_of):
    """What the trials make of a check, without the note; and their number."""
    findings, trials = tried(MEASURED, findings_of(MEASURED.section), findings_of)
    assert NOTE in findings
    return [one for one in findings if one != NOTE], trials


def test_what_is_out_of_reach_is_as_it_was():
    assert found_with(at_fault(18.0 + 12 * U_MM)) == ([], 8)

    ((sure,), trials) = found_with(at_fault(18.0 - 12 * U_MM))
    assert (sure.certainty, trials) == ("certain", 8)
    assert "chance" not in sure.values


def test_every_check_is_asked_about_the_same_sections():
    asked = []

    def findings(section):
        asked.append(section)
        return at_fault(18.0 + 12 * U_MM)(section)

    tried_at_the_edge(MEASURED, (NOTE,), findings)
    tried(MEASURED, (NOTE,), findings)

    assert len(asked) == 2 * 2 * EDGE_PAIRS
    assert all(one is other for one, other in zip(asked, asked[2 * EDGE_PAIRS :], strict=False))


@pytest.mark.parametrize("away", [-1.5, -0.9, -0.2, 0.4, 1.0, 1.7])
def test_the_chance_is_that_of_the_figure(away):
    ((found,), trials) = found_with(at_fault(18.0 + away * U_MM))

    assert found.values["chance"] == pytest.approx(norm.sf(away), abs=0.025)
    assert found.hangs_on == pytest.approx({"spacer.outside1": 1.0}, abs=1e-6)
    assert trials == 20


def test_a_fault_that_is_not_there_as_measured_says_that_it_may_be():
    ((found,), _) = found_with(at_fault(18.0 + U_MM))

    assert found.certainty == "in doubt"
    assert found.message == "May be, by the readings: Too wide."


def test_a_fault_that_is_there_as_measured_keeps_its_words():
    ((found,), _) = found_with(at_fault(18.0 - U_MM))

    assert found.certainty == "likely"
    assert found.message == "Too wide."


def test_a_fault_at_the_far_end_of_the_doubt_is_not_told():
    found, _ = found_with(at_fault(18.0 + 2.2 * U_MM))

    assert norm.sf(2.2) < 0.025
    assert found == []


def test_without_a_figure_the_drawn_sections_count():
    ((found,), _) = found_with(at_fault(18.0, with_figure=False))

    assert found.values["chance"] * 12 == pytest.approx(6.0)  # drawn in pairs that lie opposite each other
    assert found.hangs_on == {"spacer.outside1": 1.0}


def test_what_hangs_on_a_fit_hangs_on_neither_ring_nor_seat_alone():
    """So tight as ring and seat are only together: each of them would have to be off by more than three times its u."""
    measured = measured_section(read(left_in(), "shell.bore1", "27.98 27.98 27.98", instrument="bore gauge"))
    fit = fit_combinations(measured.drawn)["BL.outer"]
    tight_mm = measured.fit.value_mm(fit) + 2.6 * measured.fit.uncertainty_mm(fit)
    assert all(2.6 * measured.fit.uncertainty_mm(fit) > 3.1 * measured.uncertainty_mm(name) for name in fit)

    def findings(section):
        ring, bore = section.bearing("BL").outside_mm, section.body("shell").shape.slices[0].bore_mm
        return (Finding("cannot-pass", "fault", ("shell",), "Too tight."),) if ring - bore > tight_mm else ()

    centre = measured.closed_values_mm
    trials = [
        Trial(values, (values - centre) / 3.0, by_key(findings(section)))
        for values, section in measured.sections_drawn(12, seed=1, wider=3.0)
        if section is not None
    ]
    expected = Trial(centre, 0.0 * centre, by_key(findings(measured.section)))

    found = deciding_sum(measured, ("cannot-pass", ("shell",)), 2, (expected, *trials), findings)

    assert found == fit


def test_a_finding_is_told_at_its_gravest():
    def findings(section):
        severity = "fault" if wide(section) > 18.0 + U_MM else "caution"
        return (NOTE, Finding("off-centre", severity, ("spacer",), "Aside.", values={"offset_mm": wide(section)}))

    ((found,), _) = found_with(findings)

    assert (found.severity, found.certainty) == ("fault", "in doubt")
    assert found.values["chance"] == pytest.approx(norm.sf(1.0), abs=0.025)


def test_a_caution_stays_where_the_fault_can_be_ruled_out():
    def findings(section):
        severity = "fault" if wide(section) > 18.0 + 2.3 * U_MM else "caution"
        return (NOTE, Finding("off-centre", severity, ("spacer",), "Aside.", values={"offset_mm": wide(section)}))

    ((found,), _) = found_with(findings)

    assert (found.severity, found.certainty) == ("caution", "certain")


def test_both_sides_of_a_window_count():
    found = Finding("cannot-pass", "fault", ("spacer",), "Not right.")

    def outside(section):
        return (found,) if abs(wide(section) - 18.0) > U_MM else ()

    chance = chance_along(MEASURED, key_of(found), 2, {"spacer.outside1": 1.0}, outside)

    assert chance == pytest.approx(2 * norm.sf(1.0), abs=0.04)


def test_a_finding_that_waits_for_an_answer_is_left_alone():
    waits = Finding("balls-loaded", "fault", ("BL.inner",), "Kept or scrap?", certainty="in doubt")

    found, trials = tried(MEASURED, (waits,), lambda section: (waits,))

    assert (found, trials) == ((waits,), 8)


def test_values_that_make_no_section_are_no_trial():
    assert MEASURED.section_at_values(-MEASURED.closed_values_mm) is None


class MostlyImpossible:
    """Readings whose doubt makes sections of which only a few are possible."""

    fit, closed_values_mm = MEASURED.fit, MEASURED.closed_values_mm

    def __init__(self, possible):
        self.possible = possible

    def sections_drawn(self, pairs, *, seed, wider):
        drawn = MEASURED.sections_drawn(pairs, seed=seed, wider=wider)
        for number, (values, section) in enumerate(drawn):
            yield values, section if number < self.possible else None


@pytest.mark.parametrize(
    ("possible", "counted"), [(0, 0), (EDGE_PAIRS, 0), (EDGE_PAIRS + 1, EDGE_PAIRS + 1), (8, 8)]
)
def test_at_the_edge_too_few_possible_sections_do_not_count_as_looked_at(possible, counted):
    nothing = at_fault(99.0)

    found = tried_at_the_edge(MostlyImpossible(possible), nothing(MEASURED.section), nothing)

    assert found == ((NOTE,), counted)
