"""Contact path: which contacts carry the pull from nut to nut, by events along the travel.

The scene becomes a network: a node for each rigid group, a contact for each pair of faces that can meet, a
fit for each seat, the ball row between the rings. The driving nut is moved; the rest follows by balance.
"""

from functools import cached_property
from itertools import compress
from math import inf

from geometry.check.ball_row import law_of_row
from geometry.check.friction import SeatHold, inner_hold, outer_hold, press_friction
from geometry.check.result import ContactForce, Moment
from geometry.job.job import Step
from geometry.mechanics.balance import NOTHING_N, NetworkError
from geometry.mechanics.contact_network import Network, NetworkState, advance, reactions, rest
from geometry.mechanics.network_elements import Balls, Contact, Element, Fit
from geometry.profile.remembered import remembered
from geometry.profile.touch import Touch, closing
from geometry.record import Derived
from geometry.section.bearing import measures
from geometry.section.section import Section
from geometry.section.thing import Thing
from geometry.stack.scene import Scene

FACE_STIFFNESS_N_PER_MM = 1e6
SEAL_STIFFNESS_N_PER_MM = 1e3
"""A seal gives way; it must not hold up a press."""
OVERPRESS_N = 500.0
"""How much further than sliding the nut is tightened to see what a hard stop does (a firm turn by hand)."""
HARD_SHARE, HARD_AIM = 1.05, 1.01
"""The nut goes back from more than so much of the force that shows a hard stop, and aims for so much of it."""
FIRST_NUT_MM = 0.004
FIRST_NUT_AT_ONCE_MM = 0.06
"""First step where only the start is wanted: more than the play of the balls, so that something slides."""
LONGEST_NUT_MM = 1.0
FARTHEST_AT_ONCE_MM = 2.0
"""Where only the start is wanted the nut is turned no further, whether something slides or not."""
AT_ONCE_REACH_MM = 2 * (FARTHEST_AT_ONCE_MM + LONGEST_NUT_MM)
"""What stands further apart than this at the start cannot meet within that."""
SHORTEST_NUT_MM = 2e-4
BEYOND_MM = 80.0
"""How far the sweep goes on after the goal to find the first hard stop."""
CARRIES_SHARE = 1e-3
"""A contact with less than this share of the press force is idle."""
MOVES_MM = 0.02
CLOSED_MM = 5e-3
"""Contacts that close within this of each other close together: less than a face gives under a press."""


_closing = remembered(closing)


class Pair(Derived, frozen=True):
    """A contact that may come to carry: the two things, left and right, and where they would meet."""

    left: Thing
    right: Thing
    touch: Touch


class Link(Derived, frozen=True):
    """An element of the network: between which groups, as what."""

    element: Element
    groups: tuple[str, str]
    by: str
    pair: Pair | None = None
    bearing: str | None = None


class Press(Derived, frozen=True, dict=True):
    """A step as a network that can be driven."""

    scene: Scene
    nodes: dict[str, int]
    links: tuple[Link, ...]
    network: Network
    driver: str
    anchor: str
    nut_direction: int
    travel_of: tuple[str, str]
    """Groups whose relative displacement is the travel: the tight ring and what it leaves."""
    travel_direction: int
    slide_limit_n: float
    """All that the fits together can hold."""
    must_stay: tuple[tuple[str, str], ...] = ()
    """Outer rings that this step is not meant to move, each with the group that it sits in."""
    still: frozenset[str] = frozenset()
    """Groups that are meant to stand still: housings, other bearings, the parts of the standing side."""

    @cached_property
    def ball_rows(self) -> dict[str, int]:
        """Number of the link of each bearing's balls."""
        return {link.bearing: n for n, link in enumerate(self.links) if link.by == "balls" and link.bearing is not None}


class Run(Derived, frozen=True):
    """The moments of a press, and how it ended."""

    moments: tuple[Moment, ...]
    hard_stop: bool
    """The pull met something that does not slide, or that must not."""
    stopped_by: tuple[str, str] | None = None
    stop: int = -1
    """Number of the moment at which the contact that stopped it closed."""
    pushed_out: str | None = None
    """Outer ring of another bearing that began to leave its seat."""
    states: tuple[NetworkState, ...] = ()


def press_of(scene: Scene, section: Section, step: Step, pairs: tuple[Pair, ...]) -> Press | None:
    """The network of a step; None when a side has no part to pull with."""
    if scene.driver is None or scene.anchor is None:
        return None
    driver, anchor = scene.thing(scene.driver).group, scene.thing(scene.anchor).group
    nodes = {group: number for number, group in enumerate(dict.fromkeys(t.group for t in scene.things))}
    links = [_contact_link(pair, nodes) for pair in pairs]
    limit = 0.0
    for bearing in section.bearings:
        if f"{bearing.id}.inner" not in nodes:
            continue
        rows, most = _bearing_links(section, step, scene, bearing.id, nodes)
        links += rows
        limit += most
    target = section.bearing(step.bearings[0])
    return Press(
        scene=scene,
        nodes=nodes,
        links=tuple(links),
        network=Network(len(nodes), tuple(link.element for link in links)),
        driver=driver,
        anchor=anchor,
        nut_direction=1 if step.stack.driving_side == "left" else -1,
        travel_of=(f"{target.id}.outer", section.rigid_group(target.housing)),
        travel_direction=1 if step.towards == "right" else -1,
        slide_limit_n=limit,
        still=_meant_to_stand_still(scene, section, step),
        must_stay=tuple(
            (f"{b.id}.outer", section.rigid_group(b.housing))
            for b in section.bearings
            if b.id not in step.bearings and {f"{b.id}.outer", section.rigid_group(b.housing)} <= nodes.keys()
        ),
    )


def _meant_to_stand_still(scene: Scene, section: Section, step: Step) -> frozenset[str]:
    housings = {section.rigid_group(bearing.housing) for bearing in section.bearings}
    others = {f"{b.id}.{ring}" for b in section.bearings if b.id not in step.bearings for ring in ("inner", "outer")}
    standing = {t.group for t in scene.things if t.side is not None and t.side != step.stack.driving_side}
    return frozenset(housings | others | standing)


def facing_pairs(scene: Scene, *, reach_mm: float = inf) -> tuple[Pair, ...]:
    """All pairs of things of different groups with the distance at which they would meet, as far as the reach goes."""
    things = [thing for thing in scene.things if thing.kind != "O-ring"]
    rows = [(t, t.profile, t.group, t.left_mm, t.right_mm, t.profile.r_min_mm, t.profile.r_max_mm) for t in things]
    pairs = []
    for left, left_profile, left_group, left_from, left_to, inner, outer in rows:
        farthest = left_to + reach_mm
        for right, profile, group, right_from, right_to, right_inner, right_outer in rows:
            if right_to < left_from or right_from > farthest or right_inner >= outer or right_outer <= inner:
                continue
            if left_group == group or scene.are_apart(left.id, right.id):
                continue
            touch = _closing(
                left_profile,
                profile,
                left_at_mm=left.at_mm,
                right_at_mm=right.at_mm,
                ignore=scene.fit_band(left.id, right.id),
            )
            if touch is not None and touch.distance_mm <= reach_mm:
                pairs.append(Pair(left, right, touch))
    return tuple(pairs)


def _contact_link(pair: Pair, nodes: dict[str, int]) -> Link:
    soft = "seals" in (pair.left.kind, pair.right.kind)
    element = Contact(
        nodes[pair.left.group],
        nodes[pair.right.group],
        pair.touch.distance_mm,
        SEAL_STIFFNESS_N_PER_MM if soft else FACE_STIFFNESS_N_PER_MM,
    )
    return Link(element, (pair.left.group, pair.right.group), "face", pair)


def _bearing_links(
    section: Section, step: Step, scene: Scene, id: str, nodes: dict[str, int]
) -> tuple[list[Link], float]:
    """Ball row and fits of one bearing, and the most that its fits can hold [N]."""
    bearing = section.bearing(id)
    inner, outer = f"{id}.inner", f"{id}.outer"
    law = law_of_row(measures(bearing))
    balls = Balls(nodes[inner], nodes[outer], law.play_mm, law.stiffness, law.exponent)
    links = [Link(balls, (inner, outer), "balls", None, id)]
    moves = id in step.bearings
    friction = press_friction(step.operation if moves else "press out")
    out = 1.0 if bearing.leaves == "right" else -1.0
    shift = scene.thing(outer).at_mm
    limit = 0.0
    housing = section.rigid_group(bearing.housing)
    seats: list[tuple[str, str, SeatHold | None]] = [(outer, housing, outer_hold(section, bearing))]
    if bearing.axle is not None:
        seats.append((inner, section.rigid_group(bearing.axle), inner_hold(section, bearing)))
    for ring, seat, hold in seats:
        if hold is None or seat not in nodes or hold.at(0.0) <= 0.0:
            continue
        scale = friction
        if moves and ring == outer and step.press_force_n is not None:
            scale = step.press_force_n / hold.at(0.0)
        away = (shift - scene_shift(scene, seat)) * out
        table = _fit_table(hold, away=away, out=out, scale=scale)
        links.append(Link(Fit(nodes[ring], nodes[seat], table), (ring, seat), "friction", None, id))
        limit += max(force for _, force in table)
    return links, limit


def scene_shift(scene: Scene, group: str) -> float:
    """How far a group of the assembly stands from home at the start."""
    return next((thing.at_mm for thing in scene.things if thing.group == group and thing.side is None), 0.0)


def _fit_table(hold: SeatHold, *, away: float, out: float, scale: float) -> tuple[tuple[float, float], ...]:
    """Friction against the displacement of the ring from its start: rows of (e, F), e rising."""
    last = hold.rows[-1][0]
    points = sorted({out * (place - away) for place, _ in hold.rows} | {out * (last - away)})
    return tuple((e, scale * hold.at(away + out * e)) for e in points)


def run(press: Press, *, needed_mm: float, to_the_end: bool = True, beyond_mm: float = BEYOND_MM) -> Run:
    """Drive the nut until the goal is reached and on to the first hard stop, or only until something slides.

    `beyond_mm`: how far it goes on after the goal.

    Steps grow from event to event and shrink where the force jumps. A bearing that is not meant to move and begins to
    leave its seat ends the run like a hard stop.
    """
    nodes = press.nodes
    driver, anchor = nodes[press.driver], nodes[press.anchor]
    cap = 1.05 * press.slide_limit_n + OVERPRESS_N
    state = rest(press.network)
    nut, step_mm, hard = 0.0, FIRST_NUT_MM if to_the_end else FIRST_NUT_AT_ONCE_MM, False
    pushed_out: str | None = None
    moments = [_moment(press, state, 0.0, 0.0)]
    states = [state]
    rates: list[float] | None = None
    while True:
        nut_step = step_mm if rates is None else min(step_mm, _next_event(press, state, rates, step_mm))
        try:
            driven = {anchor: 0.0, driver: press.nut_direction * (nut + nut_step)}
            after = advance(press.network, state, driven)
        except NetworkError:
            if nut_step <= SHORTEST_NUT_MM:
                break
            step_mm = nut_step / 4
            continue
        force = abs(reactions(press.network, after, (driver,))[driver])
        if force > HARD_SHARE * cap and nut_step > SHORTEST_NUT_MM:
            share = (HARD_AIM * cap - moments[-1].force_n) / (force - moments[-1].force_n)
            step_mm = max(min(share, 0.5) * nut_step, SHORTEST_NUT_MM)
            continue
        rates = [(b - a) / nut_step for a, b in zip(state.displacements_mm, after.displacements_mm, strict=True)]
        nut += nut_step
        state = after
        moments.append(_moment(press, state, nut, force))
        states.append(state)
        pushed_out = _leaving_its_seat(press, state)
        hard = force > cap or pushed_out is not None
        if hard and nut_step <= SHORTEST_NUT_MM:
            break
        if hard:  # a hair further shows what turning on does
            step_mm = SHORTEST_NUT_MM
            continue
        travel = moments[-1].travel_mm
        if travel > needed_mm + (beyond_mm if to_the_end else 0.0) or nut > needed_mm + 2 * BEYOND_MM:
            break
        if not to_the_end and (travel > MOVES_MM or nut > FARTHEST_AT_ONCE_MM):
            break
        if force < NOTHING_N and travel > needed_mm:  # nothing holds any more, up to the next event
            step_mm = BEYOND_MM
        elif nut_step >= step_mm - 1e-12:
            step_mm = min(2 * nut_step, LONGEST_NUT_MM)
        else:
            step_mm = max(FIRST_NUT_MM, nut_step)
    pair, stop = _blocking_pair(press, states) if hard else (None, -1)
    return Run(tuple(moments), hard, pair, stop, pushed_out, tuple(states))


def _leaving_its_seat(press: Press, state: NetworkState) -> str | None:
    """The outer ring that has moved in its seat although it must stay."""
    u = state.displacements_mm
    for ring, seat in press.must_stay:
        if abs(u[press.nodes[ring]] - u[press.nodes[seat]]) > MOVES_MM:
            return ring
    return None


def _next_event(press: Press, state: NetworkState, rates: list[float], longest_mm: float) -> float:
    """Nut travel until the next contact closes at the present rates, a little less than the first guess."""
    nearest = press.network.contacts.next_closing(state.displacements_mm, rates)
    return max(min(nearest, longest_mm), FIRST_NUT_MM / 2)


def _moment(press: Press, state: NetworkState, nut_mm: float, force: float) -> Moment:
    u = state.displacements_mm
    moving, fixed = (press.nodes[group] for group in press.travel_of)
    shift = {group: u[node] for group, node in press.nodes.items()}
    least = max(CARRIES_SHARE * force, 0.05)
    contacts = [
        _contact_force(press.scene, link, value, shift)
        for link, value in compress(zip(press.links, state.forces_n, strict=True), state.forces_n)
        if abs(value) > least
    ]
    balls = {bearing: abs(state.forces_n[number]) for bearing, number in press.ball_rows.items()}
    travel = press.travel_direction * (u[moving] - u[fixed])
    return Moment(nut_mm, travel, shift, force, tuple(contacts), balls)


def _contact_force(scene: Scene, link: Link, force: float, shift: dict[str, float]) -> ContactForce:
    if link.pair is not None:
        annuli = link.pair.touch.annuli
        moved = shift[link.pair.right.group]
        return ContactForce(
            (link.pair.left.id, link.pair.right.id),
            annuli[0].z_inner_mm + moved,
            2 * annuli[0].inner_radius_mm,
            2 * annuli[-1].outer_radius_mm,
            force,
        )
    ring = scene.thing(link.groups[0])
    z = (ring.left_mm + ring.right_mm) / 2 + shift[ring.group]
    if link.by == "balls":
        other = scene.thing(link.groups[1])
        pair = link.groups if force > 0 else link.groups[::-1]
        return ContactForce(pair, z, 2 * ring.profile.r_max_mm, 2 * other.profile.r_min_mm, abs(force), "balls")
    diameter = 2 * (ring.profile.r_max_mm if ring.kind == "outer ring" else ring.profile.r_min_mm)
    seat = _seat_thing(scene, link.groups[1], z)
    pair = (ring.id, seat) if force > 0 else (seat, ring.id)
    return ContactForce(pair, z, diameter, diameter, abs(force), "friction")


def _seat_thing(scene: Scene, group: str, z: float) -> str:
    """The body of a group in which a ring sits at z: the group's own body if it reaches there."""
    of_group = [thing for thing in scene.things if thing.group == group]
    named = next((thing for thing in of_group if thing.id == group), of_group[0])
    return named.id


def _blocking_pair(press: Press, states: list[NetworkState]) -> tuple[tuple[str, str] | None, int]:
    """The contact that stopped the press, and when it closed: of those that carry now, the one that closed last.

    Where several closed at once, as when nothing moves at all, it is the one between what should move and what holds.
    """
    last = states[-1].forces_n
    force = max((abs(value) for value in last), default=0.0)
    closed_at: list[tuple[int, float, Pair]] = []
    for number, link in enumerate(press.links):
        if link.pair is None or last[number] <= 0.05 * force:
            continue
        first = next(k for k, state in enumerate(states) if _is_closed(link, state))
        closed_at.append((first, last[number], link.pair))
    if not closed_at:
        return None, -1
    latest = max(first for first, _, _ in closed_at)
    pair = max((row for row in closed_at if row[0] == latest), key=lambda row: (_parts_ways(press, row[2]), row[1]))[2]
    return (pair.left.id, pair.right.id), latest


def _parts_ways(press: Press, pair: Pair) -> bool:
    """Whether one of the two is meant to move and the other to stand still: where what moves meets what holds."""
    return (pair.left.group in press.still) != (pair.right.group in press.still)


def _is_closed(link: Link, state: NetworkState) -> bool:
    element, u = link.element, state.displacements_mm
    return type(element) is Contact and u[element.i] - u[element.j] > element.gap_mm - CLOSED_MM


def force_path(moment: Moment, *, start: str, end: str, groups: dict[str, str]) -> tuple[str, ...]:
    """Ids along the path that carries most, from the turned nut to the standing nut.

    Parameters
    ----------
    start, end
        Groups of the two nuts.
    groups
        Group of each thing.
    """
    edges: dict[str, list[tuple[str, ContactForce]]] = {}
    for contact in moment.contacts:
        a, b = groups[contact.between[0]], groups[contact.between[1]]
        edges.setdefault(a, []).append((b, contact))
        edges.setdefault(b, []).append((a, contact))
    best: dict[str, tuple[float, int]] = {start: (float("inf"), 0)}
    came: dict[str, tuple[str, ContactForce]] = {}
    queue = [start]
    while queue:
        queue.sort(key=lambda group: (best[group][0], -best[group][1]))
        here = queue.pop()
        for there, contact in edges.get(here, ()):
            offer = (min(best[here][0], contact.force_n), best[here][1] + 1)
            known = best.get(there)
            if known is None or offer[0] > known[0] + 1e-9:
                best[there] = offer
                came[there] = (here, contact)
                queue.append(there)
    if end not in came:
        return ()
    hops: list[ContactForce] = []
    group = end
    while group != start:
        group, contact = came[group]
        hops.append(contact)
    return _names(list(reversed(hops)), start, groups)


def _names(hops: list[ContactForce], start: str, groups: dict[str, str]) -> tuple[str, ...]:
    """The things along the hops, with `BL.balls` where a hop goes through the balls."""
    names: list[str] = []
    group = start
    for hop in hops:
        near, far = hop.between if groups[hop.between[0]] == group else hop.between[::-1]
        if not names or names[-1] != near:
            names.append(near)
        if hop.by == "balls":
            names.append(f"{near.split('.')[0]}.balls")
        names.append(far)
        group = groups[far]
    return tuple(names)
