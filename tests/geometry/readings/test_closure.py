"""The closure test: which reading disagrees, and when the loops cannot tell."""

from random import Random

import numpy as np
import pytest

from geometry.readings.closure import chi2_limit, closure
from geometry.readings.fit import fit
from geometry.readings.missing import missing
from tests.geometry.readings.observations import seen

CALIPER_MM = 0.0104  # own uncertainty of one caliper reading (mechanics.md, section 7)
PLANTED_MM = 0.3


def test_two_readings_of_one_length_cannot_tell_which_is_wrong():
    fitted = fit([seen("first", 30.0, 0.01, a=1), seen("second", 30.3, 0.01, a=1)], {"a": 30.0})

    found = closure(fitted)

    assert not found.closes
    assert {one.id for one in found.disagreements[0].suspects} == {"first", "second"}
    assert not found.disagreements[0].is_named


def test_third_reading_names_the_one_that_disagrees_and_by_how_much():
    readings = [seen("first", 30.0, 0.01, a=1), seen("second", 30.3, 0.01, a=1), seen("third", 30.0, 0.01, a=1)]

    found = closure(fit(readings, {"a": 30.0}))

    (suspect,) = found.disagreements[0].suspects
    assert suspect.id == "second"
    assert suspect.size_mm == pytest.approx(0.3)  # by hand: against the mean of the other two


def test_chain_of_depths_is_one_loop():
    readings = [
        seen("overall", 60.0, 0.01, left=1, wall=1, right=1),
        seen("left depth", 8.0, 0.01, left=1),
        seen("wall", 44.0, 0.01, wall=1),
        seen("right depth", 8.2, 0.01, right=1),
    ]

    found = closure(fit(readings, {"left": 8.0, "wall": 44.0, "right": 8.0}))

    assert {one.id for one in found.disagreements[0].suspects} == {"overall", "left depth", "wall", "right depth"}


def test_reading_in_no_loop_is_said_to_be_unchecked():
    readings = [seen("first", 30.0, 0.01, a=1), seen("second", 30.0, 0.01, a=1), seen("bore", 9.0, 0.01, b=1)]

    found = closure(fit(readings, {"a": 30.0, "b": 10.0}))

    assert found.closes
    assert found.unchecked == ("bore",)


def test_zero_error_that_all_share_does_not_open_a_loop():
    zero = (("zero", 1.0, 0.012),)
    readings = [
        seen(id, value + 0.03, 0.0104, zero, a=1) for id, value in (("first", 30.0), ("second", 30.01), ("third", 30.0))
    ]

    assert closure(fit(readings, {"a": 30.0})).closes


def random_loops(random):
    """A redundant set of chain readings, with which ones any other set of readings can tell apart."""
    stations = random.randint(3, 6)
    names = [f"z{place}" for place in range(1, stations)]
    spans = [(low, high) for low in range(stations) for high in range(low + 1, stations)]
    chosen = random.sample(spans, k=min(len(spans), stations + random.randint(2, 4)))
    true = {name: 8.0 * place + random.random() for place, name in enumerate(names, start=1)}
    readings = []
    for low, high in chosen:
        terms = {f"z{high}": 1.0} | ({f"z{low}": -1.0} if low else {})
        value = sum(factor * true[name] for name, factor in terms.items()) + random.gauss(0.0, CALIPER_MM)
        readings.append((f"{low}-{high}", value, terms))
    return readings, true


def separable(readings, true):
    """Readings whose error no single other one can imitate: by leaving pairs out and counting ranks."""
    A = np.array([[terms.get(name, 0.0) for name in true] for _, _, terms in readings])
    rows = range(len(readings))

    def loops(*out):
        kept = np.delete(A, out, axis=0)
        return len(kept) - np.linalg.matrix_rank(kept)

    whole = loops()
    checked = [row for row in rows if loops(row) == whole - 1]
    return [row for row in checked if all(loops(row, other) == whole - 2 for other in checked if other != row)]


def test_planted_error_is_named_in_95_of_100_redundant_sets():
    random, named, tried = Random(4), 0, 0
    while tried < 100:
        readings, true = random_loops(random)
        candidates = separable(readings, true)
        if not candidates or np.linalg.matrix_rank([[t.get(n, 0.0) for n in true] for _, _, t in readings]) < len(true):
            continue
        tried += 1
        wrong = random.choice(candidates)
        observations = [
            seen(id, value + (PLANTED_MM if row == wrong else 0.0), CALIPER_MM, **terms)
            for row, (id, value, terms) in enumerate(readings)
        ]

        found = closure(fit(observations, true))

        first = found.disagreements[0] if found.disagreements else None
        if first and first.is_named and first.suspects[0].place == wrong:
            named += abs(first.suspects[0].size_mm - PLANTED_MM) < 0.08  # five times its own uncertainty, at most

    assert named >= 95


def test_two_errors_are_named_one_after_the_other():
    readings = [seen(f"r{place}", 30.0 + off, 0.01, a=1) for place, off in enumerate((0, 0, 0, 0.3, 0, -0.5, 0, 0.01))]

    found = closure(fit(readings, {"a": 30.0}))

    assert [one.suspects[0].id for one in found.disagreements] == ["r5", "r3"]


def test_quantities_read_in_sums_only_are_missing_together():
    fitted = fit([seen("wall", 44.0, 0.01, right=1, left=-1), seen("bore", 9.0, 0.01, bore=1)],
                 {"left": 8.0, "right": 52.4, "bore": 10.0, "lip": 1.0})  # fmt: skip

    found = {one.quantity: one.only_together_with for one in missing(fitted)}

    assert found == {"left": ("right",), "right": ("left",), "lip": ()}
    assert fitted.is_determined({"right": 1.0, "left": -1.0})
    assert fitted.value_mm({"right": 1.0, "left": -1.0}) == pytest.approx(44.0)


@pytest.mark.parametrize("dof", [1, 2, 5, 10, 40])
def test_limit_of_chi_square(dof):
    from scipy.stats import chi2

    assert chi2_limit(dof) == pytest.approx(chi2.ppf(0.999, dof), rel=0.025)  # an approximation, worst at two
