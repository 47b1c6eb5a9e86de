"""The fit against other hands: numpy's lstsq on whitened data, the package `uncertainties`, Monte Carlo, refitting.

Random sheets of readings: sums of two or three quantities, some of them with the zero and the scale of one
instrument in common.
"""

import numpy as np
import pytest
from uncertainties import correlated_values_norm, ufloat
from uncertainties.umath import sqrt as usqrt

from geometry.readings.fit import fit
from geometry.readings.leverage import variance_fall_mm2
from tests.geometry.readings.observations import seen

NAMES = ("a", "b", "c", "d")
TRUE = {"a": 8.0, "b": 44.0, "c": 30.0, "d": 17.0}


def random_sheet(seed, count=9):
    """Observations with a full rank; the first four see one quantity each."""
    random = np.random.default_rng(seed)
    observations = []
    for place in range(count):
        names = [NAMES[place]] if place < 4 else list(random.choice(NAMES, size=random.integers(2, 4), replace=False))
        terms = {str(name): float(random.choice([-1.0, 1.0])) if place >= 4 else 1.0 for name in names}
        value = sum(factor * TRUE[name] for name, factor in terms.items()) + random.normal(0.0, 0.01)
        shared = (("zero", 1.0, 0.012), ("scale", value, 3e-5)) if random.random() < 0.6 else ()
        observations.append(seen(f"r{place}", value, float(random.uniform(0.003, 0.015)), shared, **terms))
    return observations


def matrices(observations):
    A = np.array([[dict(one.terms).get(name, 0.0) for name in NAMES] for one in observations])
    V = np.diag([one.uncertainty_mm**2 for one in observations])
    for cause in ("zero", "scale"):
        b = np.array(
            [sum(s.sensitivity * s.uncertainty for s in one.shared if s.cause == cause) for one in observations]
        )
        V += np.outer(b, b)
    return A, V, np.array([one.value_mm for one in observations])


@pytest.mark.parametrize("seed", range(12))
def test_against_lstsq_on_whitened_data(seed):
    observations = random_sheet(seed)
    A, V, y = matrices(observations)
    L = np.linalg.cholesky(V)
    expected, chi2, rank, _ = np.linalg.lstsq(np.linalg.solve(L, A), np.linalg.solve(L, y), rcond=None)

    fitted = fit(observations, dict.fromkeys(NAMES, 0.0))

    assert fitted.values_mm == pytest.approx(expected, abs=1e-9)
    assert fitted.chi2 == pytest.approx(chi2[0], rel=1e-7)
    assert (fitted.rank, fitted.dof) == (rank, len(observations) - rank)
    assert fitted.covariance == pytest.approx(np.linalg.inv(A.T @ np.linalg.inv(V) @ A), rel=1e-7)


@pytest.mark.parametrize("seed", range(5))
def test_shared_errors_as_unknowns_give_the_same_covariance(seed):
    fitted = fit(random_sheet(seed), dict.fromkeys(NAMES, 0.0))

    assert fitted.joint[:4, :4] == pytest.approx(fitted.covariance, rel=1e-7)


@pytest.mark.parametrize("seed", range(5))
def test_against_the_package_uncertainties(seed):
    observations = random_sheet(seed)
    A, V, _ = matrices(observations)
    zero, scale = ufloat(0.0, 1.0), ufloat(0.0, 1.0)
    read = []
    for one in observations:
        common = sum(
            s.sensitivity * s.uncertainty * (zero if s.cause == "zero" else scale) for s in one.shared
        )
        read.append(ufloat(one.value_mm, one.uncertainty_mm) + common)
    W = np.linalg.inv(V)
    gain = np.linalg.inv(A.T @ W @ A) @ A.T @ W
    expected = [sum(g * y for g, y in zip(row, read, strict=True)) for row in gain]

    fitted = fit(observations, dict.fromkeys(NAMES, 0.0))

    for name, one in zip(NAMES, expected, strict=True):
        assert fitted.value_mm({name: 1}) == pytest.approx(one.nominal_value, abs=1e-9)
        assert fitted.uncertainty_mm({name: 1}) == pytest.approx(one.std_dev, rel=1e-6)
    difference = expected[2] - expected[3]
    assert fitted.uncertainty_mm({"c": 1, "d": -1}) == pytest.approx(difference.std_dev, rel=1e-6)


def test_covariance_carries_through_a_formula_that_is_not_linear():
    fitted = fit(random_sheet(3), dict.fromkeys(NAMES, 0.0))
    u = np.sqrt(np.diag(fitted.covariance))
    pairs = list(zip(fitted.values_mm, u, strict=True))
    c, d = correlated_values_norm(pairs, fitted.covariance / np.outer(u, u))[2:]
    draws = np.random.default_rng(1).multivariate_normal(fitted.values_mm, fitted.covariance, size=200_000)

    expected = usqrt(c**2 - d**2)

    found = np.sqrt(draws[:, 2] ** 2 - draws[:, 3] ** 2)
    assert found.std() == pytest.approx(expected.std_dev, rel=0.01)  # 200,000 draws: 0.2 %


def test_against_monte_carlo():
    observations = random_sheet(7)
    A, V, y = matrices(observations)
    random = np.random.default_rng(2)
    exact = A @ np.array([TRUE[name] for name in NAMES])
    draws = random.multivariate_normal(exact, V, size=2000)
    fits = []
    for drawn in draws:
        moved = [
            seen(one.id, value, one.uncertainty_mm, [(s.cause, s.sensitivity, s.uncertainty) for s in one.shared],
                 **dict(one.terms))
            for one, value in zip(observations, drawn, strict=True)
        ]  # fmt: skip
        fits.append(fit(moved, TRUE).values_mm)

    fitted = fit(observations, TRUE)

    assert np.cov(np.array(fits).T) == pytest.approx(fitted.covariance, abs=0.1 * np.max(fitted.covariance))
    assert np.mean(fits, axis=0) == pytest.approx(list(TRUE.values()), abs=0.002)


@pytest.mark.parametrize("seed", range(8))
def test_worth_of_a_further_reading_against_fitting_again_with_it(seed):
    observations = random_sheet(seed)
    fitted = fit(observations, dict.fromkeys(NAMES, 0.0))
    same_tool = seen("again", 30.0, 0.0104, (("zero", 1.0, 0.012), ("scale", 30.0, 3e-5)), c=1)
    other_tool = seen("again", 30.0, 0.002, (("zero of the other", 1.0, 0.003),), c=1, d=-1)
    combination = {"c": 1.0, "d": -1.0}

    for further in (same_tool, other_tool):
        again = fit([*observations, further], dict.fromkeys(NAMES, 0.0))
        found = fitted.variance_mm2(combination) - variance_fall_mm2(fitted, combination, further)

        assert found == pytest.approx(again.variance_mm2(combination), rel=1e-6)
