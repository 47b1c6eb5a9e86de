"""The contact network as a whole: balance, mirror image, idle bodies, and the least energy found by scipy."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from msgspec.structs import replace
from scipy.optimize import minimize

from geometry.mechanics.balance import NOTHING_N
from geometry.mechanics.contact_network import Network, advance, node_imbalance, reactions, rest
from geometry.mechanics.network_elements import Balls, Bar, Contact, Fit

GROUND, DRIVER = 0, 1


@st.composite
def networks(draw, limits_n=(0.0, 300.0, 1500.0), largest=9):
    """A chain from driver to ground, so that something is pressed, with more elements anywhere."""
    count = draw(st.integers(3, largest))
    chain = [DRIVER, *range(2, count), GROUND]
    elements = [
        Contact(i, j, draw(st.sampled_from([0.0, 0.02, 1.0]))) for i, j in zip(chain, chain[1:], strict=False)
    ]
    for _ in range(draw(st.integers(0, 3 * count))):
        i = draw(st.integers(0, count - 1))
        j = draw(st.integers(0, count - 1).filter(lambda n, i=i: n != i))
        kind = draw(st.sampled_from(["contact", "idle", "fit", "balls", "bar"]))
        if kind in ("contact", "idle"):
            elements.append(Contact(i, j, draw(st.floats(0.0, 0.2)) if kind == "contact" else 50.0))
        elif kind == "fit":
            limit = draw(st.sampled_from(limits_n))
            rows = draw(st.sampled_from([((0.0, limit),), ((0.0, 0.0), (7.0, limit))]))
            elements.append(Fit(i, j, rows))
        elif kind == "balls":
            elements.append(Balls(i, j, 0.044, 6.4e5, draw(st.sampled_from([2.0, 2.5]))))
        else:
            elements.append(Bar(i, j, 187e3))
    return Network(count, tuple(elements))


ways = st.lists(st.sampled_from([0.01, 0.5, 2.0, 7.0, 7.01, 1.0]), min_size=1, max_size=3)


def after(network, way_mm):
    state = rest(network)
    for way in way_mm:
        state = advance(network, state, {GROUND: 0.0, DRIVER: way})
    return state


@given(network=networks(), way_mm=ways)
def test_free_nodes_are_in_balance(network, way_mm):
    state = after(network, way_mm)

    imbalance = [abs(force) for force in node_imbalance(network, state)[2:]]
    assert max(imbalance) <= max(NOTHING_N, 1e-6 * max(map(abs, state.forces_n)))


@given(network=networks(), way_mm=ways)
def test_what_the_driver_gives_the_ground_takes(network, way_mm):
    state = after(network, way_mm)

    outside = reactions(network, state, (GROUND, DRIVER))
    assert outside[GROUND] + outside[DRIVER] == pytest.approx(
        0.0, abs=max(network.node_count * NOTHING_N, 1e-5 * max(map(abs, state.forces_n)))
    )


@given(network=networks(limits_n=(1500.0,)), way_mm=st.sampled_from([0.05, 0.5, 7.0]))
def test_the_mirror_image_carries_the_same(network, way_mm):
    def mirrored(element):
        return replace(element, i=element.j, j=element.i)

    image = Network(network.node_count, tuple(mirrored(element) for element in network.elements))

    state = advance(network, rest(network), {GROUND: 0.0, DRIVER: way_mm})
    turned = advance(image, rest(image), {GROUND: 0.0, DRIVER: -way_mm})

    largest = max(1.0, *map(abs, state.forces_n))
    assert turned.forces_n == pytest.approx(state.forces_n, abs=1e-4 * largest)
    assert turned.displacements_mm == pytest.approx([-u for u in state.displacements_mm], abs=1e-3)


@given(network=networks(), way_mm=ways)
def test_a_body_that_nothing_reaches_changes_no_force(network, way_mm):
    idle = network.node_count
    larger = Network(idle + 1, (*network.elements, Contact(idle, GROUND, 30.0), Contact(DRIVER, idle, 90.0)))

    alone, with_idle = after(network, way_mm), after(larger, way_mm)

    largest = max(1.0, *map(abs, alone.forces_n))
    assert with_idle.forces_n[:-2] == pytest.approx(alone.forces_n, abs=1e-4 * largest)
    assert with_idle.forces_n[-2:] == (0.0, 0.0)


def energy_and_slope(network, free, u):
    """Stored energy of the elements from rest, limits constant: written out anew, apart from the code."""
    energy, slope = 0.0, np.zeros(len(u))
    for element in network.elements:
        e = u[element.i] - u[element.j]
        match element:
            case Contact(gap_mm=gap, stiffness_n_per_mm=k):
                x = max(e - gap, 0.0)
                force, stored = k * x, k * x * x / 2
            case Fit(limit=((_, limit),), stiffness_n_per_mm=k):
                force = min(max(k * e, -limit), limit)
                stored = k * e * e / 2 if abs(k * e) < limit else limit * abs(e) - limit**2 / (2 * k)
            case Balls(play_mm=play, stiffness=K, exponent=p):
                x = max(abs(e) - play, 0.0)
                force, stored = np.sign(e) * K * x**p, K * x ** (p + 1) / (p + 1)
            case Bar(stiffness_n_per_mm=k):
                force, stored = k * e, k * e * e / 2
        energy += stored
        slope[element.i] += force
        slope[element.j] -= force
    return energy, slope[free]


@pytest.mark.parametrize("number", range(25))
def test_least_energy(number):
    random = np.random.default_rng(number)
    count = int(random.integers(3, 7))
    elements = [Contact(i, j, 0.0) for i, j in zip([1, *range(2, count)], [*range(2, count), 0], strict=True)]
    for _ in range(2 * count):
        i, j = (int(n) for n in random.choice(count, 2, replace=False))
        elements.append(
            (
                Contact(i, j, float(random.choice([0.0, 0.01, 0.05])), 1e5),
                Fit(i, j, ((0.0, float(random.choice([300.0, 1500.0]))),), 1e5),
                Balls(i, j, 0.02, 6.4e5, 2.0),
                Bar(i, j, 5e4),
            )[random.integers(4)]
        )
    network, free = Network(count, tuple(elements)), list(range(2, count))
    held = np.zeros(count)
    held[DRIVER] = 0.06

    def placed(x):
        u = held.copy()
        u[free] = x / 1000  # micrometres, so that the search is well scaled
        return u

    def objective(x):
        energy, slope = energy_and_slope(network, free, placed(x))
        return energy, slope / 1000

    best = minimize(objective, np.full(len(free), 20.0), jac=True, method="BFGS", options={"gtol": 1e-7})
    found = advance(network, rest(network), {GROUND: 0.0, DRIVER: 0.06})

    energy, _ = energy_and_slope(network, free, np.array(found.displacements_mm))
    assert energy <= best.fun * (1 + 1e-6) + 1e-9
    assert energy == pytest.approx(best.fun, rel=1e-3, abs=1e-6)


def test_a_drift_that_flies_seven_millimetres_pushes_loose_bodies_before_it():
    network = Network(
        5,
        (
            Contact(1, 2, 1.0),
            Contact(2, 3, 2.0),
            Contact(3, 4, 1.0),
            Contact(4, 0, 2.0),
            Fit(4, 0, ((0.0, 400.0),)),
        ),
    )

    state = advance(network, rest(network), {0: 0.0, 1: 5.0})

    assert state.forces_n == pytest.approx((400.0, 400.0, 400.0, 0.0, 400.0), abs=NOTHING_N)
    assert state.displacements_mm == pytest.approx((0.0, 5.0, 4.0, 2.0, 1.0), abs=0.002)


def test_a_fit_keeps_its_grip_when_the_drift_goes_back():
    network = Network(3, (Contact(1, 2, 0.0), Fit(2, 0, ((0.0, 0.0), (7.0, 1400.0)))))

    pressed = advance(network, rest(network), {0: 0.0, 1: 3.5})
    released = advance(network, pressed, {0: 0.0, 1: 0.0})

    assert pressed.forces_n == pytest.approx((700.0, 700.0), rel=0.001)
    assert released.forces_n == pytest.approx((0.0, 0.0), abs=1e-6)
    assert released.displacements_mm[2] == pytest.approx(3.5, abs=0.002)


def test_a_spacer_too_long_presses_from_the_start():
    network = Network(3, (Contact(0, 2, -0.01), Contact(2, 1, -0.01)))

    state = advance(network, rest(network), {0: 0.0, 1: 0.0})

    assert state.forces_n == pytest.approx((1e4, 1e4), rel=1e-9)


@pytest.mark.parametrize("ends", [(0, 0), (0, 3), (-1, 1)])
def test_an_element_must_join_two_nodes_of_the_network(ends):
    with pytest.raises(ValueError, match="does not join"):
        Network(3, (Contact(*ends, 0.0),))


@given(network=networks(), way_mm=st.floats(0.0, 7.0))
def test_contacts_never_pull_and_fits_never_exceed_their_limit(network, way_mm):
    assume(network.elements)
    state = after(network, [way_mm])

    u = state.displacements_mm
    for element, force in zip(network.elements, state.forces_n, strict=True):
        if isinstance(element, Contact):
            assert force >= 0.0
        if isinstance(element, Fit):
            e = u[element.i] - u[element.j]
            limit = np.interp(e, *zip(*element.limit, strict=True))
            assert abs(force) <= limit + 1e-6
