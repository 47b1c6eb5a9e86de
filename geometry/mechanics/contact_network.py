"""Forces between bodies that move along one axis and touch, rub or spring: the unilateral contact network.

    driver --contact--> drift --contact--> ring --contact--> shoulder of the housing (ground)
                                            |----fit-------> bore of the housing
                                            |----balls-----> other ring

Each body is a node with one axial displacement u [mm], positive along +z. An element between node i (left)
and node j (right) acts on e = u_i - u_j, positive when i closes on j; its force [N] is positive in
compression.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

DRAG_N_PER_MM = 1e-4
"""Holds loose bodies where they were last."""
NOTHING_N = 1e-3
"""Forces below this have no meaning: the drag is let be if it carries no more."""
BALANCED_N = 1e-5
"""Imbalance of a body that is let be however small the forces are."""

_RESIDUAL_SHARE = 1e-7
_NEWTON_STEPS = 60
_LINE_STEPS = 40
_HALVINGS = 7


class NetworkError(RuntimeError):
    """No equilibrium was found, not even in small steps."""


@dataclass(frozen=True, slots=True)
class Contact:
    """Two faces that can press but not pull; they meet when e reaches the gap."""

    i: int
    j: int
    gap_mm: float
    stiffness_n_per_mm: float = 1e6

    def respond(self, e: float, slip: float) -> tuple[float, float]:
        """Force [N] and tangent [N/mm] at closing e [mm]."""
        closed = e - self.gap_mm
        if closed <= 0.0:
            return 0.0, 0.0
        return self.stiffness_n_per_mm * closed, self.stiffness_n_per_mm


@dataclass(frozen=True, slots=True)
class Fit:
    """A press fit: sticks elastically up to its friction limit, then slides at the limit.

    Parameters
    ----------
    limit
        Rows (e [mm], friction force [N]), e rising: the limit of the fit once i has moved by e against j.
        Linear between the rows, constant outside; one row is a constant limit.
    """

    i: int
    j: int
    limit: tuple[tuple[float, float], ...]
    stiffness_n_per_mm: float = 1e6

    def respond(self, e: float, slip: float) -> tuple[float, float]:
        """Force [N] and tangent [N/mm], which is held at zero where the fit loses hold on its way out."""
        limit, slope = _interpolated(self.limit, e)
        trial = self.stiffness_n_per_mm * (e - slip)
        if -limit < trial < limit:
            return trial, self.stiffness_n_per_mm
        if trial >= 0.0:
            return limit, max(slope, 0.0)
        return -limit, max(-slope, 0.0)


@dataclass(frozen=True, slots=True)
class Balls:
    """The ball row between two rings: free play to both sides, then F = K (|e| - play)^p."""

    i: int
    j: int
    play_mm: float
    stiffness: float
    """K [N/mm^p]."""
    exponent: float

    def respond(self, e: float, slip: float) -> tuple[float, float]:
        """Force [N], with the sign of e, and tangent [N/mm]."""
        past_play = abs(e) - self.play_mm
        if past_play <= 0.0:
            return 0.0, 0.0
        force = self.stiffness * past_play**self.exponent
        return (force if e > 0.0 else -force), self.exponent * force / past_play


@dataclass(frozen=True, slots=True)
class Bar:
    """A spring that presses and pulls, such as the two ends of one spacer."""

    i: int
    j: int
    stiffness_n_per_mm: float

    def respond(self, e: float, slip: float) -> tuple[float, float]:
        """Force [N] and tangent [N/mm]."""
        return self.stiffness_n_per_mm * e, self.stiffness_n_per_mm


Element: TypeAlias = Contact | Fit | Balls | Bar


@dataclass(frozen=True, slots=True)
class Network:
    """Nodes 0 to `node_count` - 1 and the elements between them."""

    node_count: int
    elements: tuple[Element, ...]

    def __post_init__(self) -> None:
        for element in self.elements:
            if element.i == element.j or not (
                0 <= element.i < self.node_count and 0 <= element.j < self.node_count
            ):
                raise ValueError(f"{element} does not join two of {self.node_count} nodes")


@dataclass(frozen=True, slots=True)
class NetworkState:
    """Where the bodies are, how far the fits have slid, and what the elements carry."""

    displacements_mm: tuple[float, ...]
    slips_mm: tuple[float, ...]
    """One per fit, in the order of the elements: the e at which the fit carries nothing."""
    forces_n: tuple[float, ...]
    """One per element."""


def rest(network: Network) -> NetworkState:
    """Everything where it is drawn, fits without force.

    A contact with a negative gap presses already here; the first `advance` lets it come to balance.
    """
    u = (0.0,) * network.node_count
    slips = tuple(0.0 for element in network.elements if isinstance(element, Fit))
    return NetworkState(u, slips, _forces(network, u, slips))


def advance(
    network: Network,
    state: NetworkState,
    prescribed: Mapping[int, float],
    *,
    guess_mm: Sequence[float] | None = None,
) -> NetworkState:
    """The balance after the prescribed nodes have moved to their places.

    Parameters
    ----------
    prescribed
        Absolute displacement [mm] of each node that is held or driven: ground, driver. All others are free.
    guess_mm
        Where the nodes may be expected, shape (node_count,): where the search starts, not what it finds. Left out:
        where they are.

    Raises
    ------
    NetworkError
        If no balance is found, not even in steps of a hundredth of the way.

    Notes
    -----
    Balance is the least energy of all elements plus a drag of 1e-4 N/mm on each free body's way. Forces are
    unique but for contacts in parallel, where only the sum counts; places of loose bodies follow from the
    drag alone. Found by semi-smooth Newton steps, with damping where a body is loose and a search along
    each step; then the drag is let go, so that elements balance by themselves. Friction is implicit in the
    step: a fit that slides there and back within one step is not seen to do so.
    """
    return _advance(network, state, prescribed, guess_mm, halvings=_HALVINGS)


def node_imbalance(network: Network, state: NetworkState) -> tuple[float, ...]:
    """Sum of the element forces on each node [N], positive along +z: zero at free nodes."""
    total = [0.0] * network.node_count
    for element, force in zip(network.elements, state.forces_n, strict=True):
        total[element.i] -= force
        total[element.j] += force
    return tuple(total)


def reactions(network: Network, state: NetworkState, nodes: Iterable[int]) -> dict[int, float]:
    """Force [N] that must act from outside on each of the nodes to hold it, positive along +z."""
    total = node_imbalance(network, state)
    return {node: -total[node] for node in nodes}


def _advance(
    network: Network,
    state: NetworkState,
    prescribed: Mapping[int, float],
    guess_mm: Sequence[float] | None,
    *,
    halvings: int,
) -> NetworkState:
    try:
        return _step(network, state, prescribed, guess_mm)
    except NetworkError:
        if halvings == 0:
            raise
    halfway = {node: (state.displacements_mm[node] + target) / 2 for node, target in prescribed.items()}
    middle = _advance(network, state, halfway, None, halvings=halvings - 1)
    return _advance(network, middle, prescribed, None, halvings=halvings - 1)


def _step(
    network: Network, state: NetworkState, prescribed: Mapping[int, float], guess_mm: Sequence[float] | None
) -> NetworkState:
    u = list(state.displacements_mm)
    reach_mm = max((abs(target - u[node]) for node, target in prescribed.items()), default=0.0)
    slips = _slip_of_each_element(network, state.slips_mm)
    near = _elements_within_reach(network, u, reach_mm)
    start = u if guess_mm is None else list(guess_mm)
    for node, target in prescribed.items():
        u[node] = start[node] = target
    free = [node for node in range(network.node_count) if node not in prescribed]
    while True:
        elements = [(network.elements[index], slips[index]) for index in near]
        solved = _Balance(elements, free, longest_step_mm=2 * reach_mm + 1.0).found(u, start)
        woken = _closed_contacts(network, solved) - set(near)
        if not woken:
            break
        near = sorted(woken.union(near))
    forces = _forces(network, solved, state.slips_mm)
    return NetworkState(tuple(solved), _slips_after(network, solved, forces), forces)


def _elements_within_reach(network: Network, u: Sequence[float], reach_mm: float) -> list[int]:
    """Indices of all elements but contacts that stand too far open to close in this step."""
    allowance = 2 * reach_mm + 0.05
    return [
        index
        for index, element in enumerate(network.elements)
        if type(element) is not Contact or u[element.i] - u[element.j] + allowance > element.gap_mm
    ]


def _closed_contacts(network: Network, u: Sequence[float]) -> set[int]:
    return {
        index
        for index, element in enumerate(network.elements)
        if type(element) is Contact and u[element.i] - u[element.j] > element.gap_mm
    }


def _slip_of_each_element(network: Network, slips_mm: Sequence[float]) -> list[float]:
    of_fits = iter(slips_mm)
    return [next(of_fits) if type(element) is Fit else 0.0 for element in network.elements]


def _forces(network: Network, u: Sequence[float], slips_mm: Sequence[float]) -> tuple[float, ...]:
    slips = _slip_of_each_element(network, slips_mm)
    return tuple(
        element.respond(u[element.i] - u[element.j], slip)[0]
        for element, slip in zip(network.elements, slips, strict=True)
    )


def _slips_after(network: Network, u: Sequence[float], forces: Sequence[float]) -> tuple[float, ...]:
    return tuple(
        u[element.i] - u[element.j] - force / element.stiffness_n_per_mm
        for element, force in zip(network.elements, forces, strict=True)
        if isinstance(element, Fit)
    )


def _interpolated(table: tuple[tuple[float, float], ...], x: float) -> tuple[float, float]:
    """Value and slope of a table of (x, y) at x; constant outside."""
    x0, y0 = table[0]
    if x < x0:
        return y0, 0.0
    for x1, y1 in table[1:]:
        if x < x1:
            slope = (y1 - y0) / (x1 - x0)
            return y0 + slope * (x - x0), slope
        x0, y0 = x1, y1
    return y0, 0.0


class _Balance:
    """The search for the displacements at which every free node is in balance."""

    def __init__(
        self, elements: list[tuple[Element, float]], free: list[int], *, longest_step_mm: float
    ) -> None:
        self.laws = [(element.i, element.j, element.respond, slip) for element, slip in elements]
        self.free = free
        self.longest_step_mm = longest_step_mm

    def found(self, u: list[float], start: list[float]) -> list[float]:
        """Solve from a start with the drag anchored at u, then move the anchor along until the drag carries nothing."""
        anchor = found = u
        if start is not u and self._residual(start, u)[1]:  # where nothing carries there is nothing to go by
            found = start
        for _ in range(12):
            found, tolerance_n = self._newton(anchor, found)
            if all(abs(found[n] - anchor[n]) * DRAG_N_PER_MM <= max(tolerance_n, NOTHING_N) for n in self.free):
                return found
            anchor = found
        raise NetworkError("The loose bodies find no place to rest.")

    def _newton(self, anchor: list[float], start: list[float]) -> tuple[list[float], float]:
        u, damping = start, 0.0
        residual, tangents, largest_n = self._residual(u, anchor)
        for _ in range(_NEWTON_STEPS):
            tolerance_n = max(_RESIDUAL_SHARE * largest_n, BALANCED_N)
            if all(abs(value) <= tolerance_n for value in residual):
                return u, tolerance_n
            step, damping = self._direction(residual, tangents, damping)
            share, u, (residual, tangents, largest_n) = self._along(u, step, residual, anchor)
            damping = damping / 100 if share > 0.5 else max(10 * damping, 1.0)
            if damping < 1e-3:
                damping = 0.0
        raise NetworkError(f"No balance of forces after {_NEWTON_STEPS} steps.")

    def _residual(
        self, u: list[float], anchor: list[float]
    ) -> tuple[list[float], list[tuple[int, int, float]], float]:
        """Force left over at each free node [N], the tangents that are not zero, and the largest force."""
        total, tangents, largest = [0.0] * len(u), [], 0.0
        for i, j, respond, slip in self.laws:
            force, tangent = respond(u[i] - u[j], slip)
            if force:
                total[i] += force
                total[j] -= force
                largest = max(largest, force, -force)
            if tangent:
                tangents.append((i, j, tangent))
        return [total[n] + DRAG_N_PER_MM * (u[n] - anchor[n]) for n in self.free], tangents, largest

    def _direction(
        self, residual: list[float], tangents: list[tuple[int, int, float]], damping: float
    ) -> tuple[list[float], float]:
        """The Newton step [mm] of each free node, damped as far as needed to stay within the longest step."""
        place = {node: position for position, node in enumerate(self.free)}
        n = len(self.free)
        flat = [0.0] * (n * n)
        for i, j, tangent in tangents:
            a, b = place.get(i), place.get(j)
            if a is not None:
                flat[a * n + a] += tangent
            if b is not None:
                flat[b * n + b] += tangent
            if a is not None and b is not None:
                flat[a * n + b] -= tangent
                flat[b * n + a] -= tangent
        diagonal = flat[:: n + 1]
        right = np.array(residual)
        while True:
            flat[:: n + 1] = [value + (DRAG_N_PER_MM + damping) for value in diagonal]
            step: list[float] = np.linalg.solve(np.array(flat).reshape(n, n), -right).tolist()
            if max(map(abs, step)) <= self.longest_step_mm:
                return step, damping
            damping = max(10 * damping, 1.0)

    def _along(
        self, u: list[float], step: list[float], residual: list[float], anchor: list[float]
    ) -> tuple[float, list[float], tuple[list[float], list[tuple[int, int, float]], float]]:
        """Where along the step the energy no longer falls: the share taken, the place and its residual.

        The slope of the energy along the step is the residual times the step. The whole step is taken if
        the slope there is still downhill or at most half as steep as at the start; else the zero is
        bracketed by the Illinois rule: an end that stays twice counts half.
        """
        slope_0 = sum(map(float.__mul__, step, residual))
        low, slope_low, high, slope_high = 0.0, slope_0, 1.0, 0.0
        share, was_low = 1.0, True
        for _ in range(_LINE_STEPS):
            there = list(u)
            for node, distance in zip(self.free, step, strict=True):
                there[node] += share * distance
            found = self._residual(there, anchor)
            slope = sum(map(float.__mul__, step, found[0]))
            if abs(slope) <= 0.5 * abs(slope_0) or (slope < 0.0 and share == 1.0):
                break
            if slope > 0.0:
                high, slope_high, slope_low = share, slope, slope_low if was_low else slope_low / 2
            else:
                low, slope_low, slope_high = share, slope, slope_high / 2 if was_low else slope_high
            was_low = slope <= 0.0
            secant = low - slope_low * (high - low) / (slope_high - slope_low)
            width = high - low
            share = min(max(secant, low + 0.1 * width), high - 0.1 * width)
        return share, there, found
