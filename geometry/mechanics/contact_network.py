"""Forces between bodies that move along one axis and touch, rub or spring: the unilateral contact network.

    driver --contact--> drift --contact--> ring --contact--> shoulder of the housing (ground)
                                            |----fit-------> bore of the housing
                                            |----balls-----> other ring

Each body is a node with one axial displacement u [mm], positive along +z. An element between node i (left)
and node j (right) acts on e = u_i - u_j, positive when i closes on j; its force [N] is positive in
compression.
"""

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from itertools import compress

from geometry.mechanics.balance import Balance, NetworkError
from geometry.mechanics.contacts import Contacts
from geometry.mechanics.network_elements import Contact, Element, Fit
from geometry.mechanics.pushed_along import pushed_along
from geometry.record import Derived

_HALVINGS = 7


class Network(Derived, frozen=True, dict=True):
    """Nodes 0 to `node_count` - 1 and the elements between them."""

    node_count: int
    elements: tuple[Element, ...]

    def __post_init__(self) -> None:
        for element in self.elements:
            if element.i == element.j or not (
                0 <= element.i < self.node_count and 0 <= element.j < self.node_count
            ):
                raise ValueError(f"{element} does not join two of {self.node_count} nodes")

    @cached_property
    def contacts(self) -> Contacts:
        """Its contacts: most elements, and most of them stand open."""
        return Contacts(self.elements)

    @cached_property
    def others(self) -> tuple[tuple[int, Element], ...]:
        """All other elements, each with its number."""
        return tuple((number, one) for number, one in enumerate(self.elements) if type(one) is not Contact)


class NetworkState(Derived, frozen=True):
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
    forces = _forces(network, network.contacts.closed(u), u, _with_slips(network, slips))
    return NetworkState(u, slips, forces)


def advance(network: Network, state: NetworkState, prescribed: Mapping[int, float]) -> NetworkState:
    """The balance after the prescribed nodes have moved to their places.

    Parameters
    ----------
    prescribed
        Absolute displacement [mm] of each node that is held or driven: ground, driver. All others are free.

    Raises
    ------
    NetworkError
        If no balance is found, not even in steps of a hundredth of the way.

    Notes
    -----
    Balance is the least energy of all elements plus a drag of 1e-4 N/mm on each free body's way. Forces are
    unique but for contacts in parallel, where only the sum counts; places of loose bodies follow from the
    drag alone. Found by semi-smooth Newton steps from where rigid bodies would be pushed to, with damping where
    a body is loose and a search along each step; then the drag is let go, so that elements balance by
    themselves. Friction is implicit in the step: a fit that slides there and back within one step is not seen to
    do so.
    """
    return _advance(network, state, prescribed, halvings=_HALVINGS)


def node_imbalance(network: Network, state: NetworkState) -> tuple[float, ...]:
    """Sum of the element forces on each node [N], positive along +z: zero at free nodes."""
    total = [0.0] * network.node_count
    for element, force in compress(zip(network.elements, state.forces_n, strict=True), state.forces_n):
        total[element.i] -= force
        total[element.j] += force
    return tuple(total)


def reactions(network: Network, state: NetworkState, nodes: Iterable[int]) -> dict[int, float]:
    """Force [N] that must act from outside on each of the nodes to hold it, positive along +z."""
    total = node_imbalance(network, state)
    return {node: -total[node] for node in nodes}


def _advance(
    network: Network, state: NetworkState, prescribed: Mapping[int, float], *, halvings: int
) -> NetworkState:
    try:
        return _step(network, state, prescribed)
    except NetworkError:
        if halvings == 0:
            raise
    halfway = {node: (state.displacements_mm[node] + target) / 2 for node, target in prescribed.items()}
    middle = _advance(network, state, halfway, halvings=halvings - 1)
    return _advance(network, middle, prescribed, halvings=halvings - 1)


def _step(network: Network, state: NetworkState, prescribed: Mapping[int, float]) -> NetworkState:
    u = list(state.displacements_mm)
    reach_mm = max((abs(target - u[node]) for node, target in prescribed.items()), default=0.0)
    contacts, others = network.contacts, _with_slips(network, state.slips_mm)
    near = contacts.above(-2 * reach_mm - 0.05, u)
    start, pressing = pushed_along(contacts.rows(near), others, u, prescribed)
    for node, target in prescribed.items():
        u[node] = start[node] = target
    while True:
        balance = Balance(contacts.rows(near), others, held=prescribed, longest_step_mm=2 * reach_mm + 1.0)
        solved = balance.found(u, start, pressing)
        closed = contacts.closed(solved)
        woken = set(closed).difference(near)
        if not woken:
            break
        near = sorted(woken.union(near))
    forces = _forces(network, closed, solved, others)
    return NetworkState(tuple(solved), _slips_after(network, solved, forces), forces)


def _with_slips(network: Network, slips_mm: Sequence[float]) -> list[tuple[Element, float]]:
    """All elements but contacts, each with its slip."""
    of_fits = iter(slips_mm)
    return [(element, next(of_fits) if type(element) is Fit else 0.0) for _, element in network.others]


def _forces(
    network: Network, closed: Iterable[int], u: Sequence[float], others: Iterable[tuple[Element, float]]
) -> tuple[float, ...]:
    """Force of each element [N]; `closed`: the contacts that are, `others`: all other elements with their slips."""
    forces = [0.0] * len(network.elements)
    for number, force in network.contacts.forces_n(closed, u):
        forces[number] = force
    for (number, element), (_, slip) in zip(network.others, others, strict=True):
        forces[number] = element.respond(u[element.i] - u[element.j], slip)[0]
    return tuple(forces)


def _slips_after(network: Network, u: Sequence[float], forces: Sequence[float]) -> tuple[float, ...]:
    return tuple(
        u[element.i] - u[element.j] - forces[number] / element.stiffness_n_per_mm
        for number, element in network.others
        if type(element) is Fit
    )
