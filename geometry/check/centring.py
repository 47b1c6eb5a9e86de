"""Centring: how far each part can be off the axis, and which chain of clearances locates it."""

from functools import lru_cache
from math import atan, degrees

from msgspec.structs import replace

from geometry.check.finding import Finding, Place
from geometry.check.result import Centring, Link, Thing
from geometry.check.wording import TOOL_MARK, mm, name_of
from geometry.job.job import Limits, Step
from geometry.profile.nesting import Nesting, nestings
from geometry.profile.profile import Profile, profile
from geometry.profile.remembered import remembered
from geometry.record import Derived
from geometry.section.section import Section
from geometry.section.things import inner_interference_mm
from geometry.stack.scene import Scene

NESTS_FROM_MM = 1.0
"""Nesting locates from this length (mechanics, section 10)."""


_nestings = remembered(nestings)


class Guide(Derived, frozen=True):
    """The inner group lies in the outer one with this radial clearance over a length."""

    inner: str
    outer: str
    inner_thing: str
    outer_thing: str
    clearance_mm: float
    from_z_mm: float
    to_z_mm: float
    bore_mm: float = 0.0
    """Bore in which the inner one lies; 0 for fits and ball rows."""


def guides(scene: Scene, section: Section, shift_mm: dict[str, float] | None = None) -> tuple[Guide, ...]:
    """All nestings of the scene, things moved by the shift of their group; fits and ball rows have no air."""
    shift = shift_mm or {}
    things = [
        _through_the_stack(thing, scene) if thing.id == "rod" else thing
        for thing in scene.things
        if thing.kind not in ("O-ring", "seals")
    ]
    rows = []
    for thing in things:
        at = thing.at_mm + shift.get(thing.group, 0.0)
        profile_ = thing.profile
        rows.append((thing, at, thing.group, profile_.z_min_mm + at, profile_.z_max_mm + at, profile_.r_min_mm))
    found: list[Guide] = []
    for outer, outer_at, outer_group, outer_from, outer_to, _ in rows:
        if not outer.profile.bores:
            continue
        outside = outer.profile.r_max_mm
        from_mm, to_mm = outer_from + NESTS_FROM_MM - 1e-9, outer_to - NESTS_FROM_MM + 1e-9
        for inner, inner_at, inner_group, inner_from, inner_to, radius in rows:
            if inner_from > to_mm or inner_to < from_mm or radius > outside or outer_group == inner_group:
                continue
            found += _nests(scene, outer, outer_at, inner, inner_at)
    return tuple(found) + _of_bearings(scene, section, found)


def _through_the_stack(rod: Thing, scene: Scene) -> Thing:
    """The rod as long as the stack: that it is too short is another finding."""
    tools = [thing for thing in scene.things if thing.side is not None]
    left = min([rod.left_mm, *(tool.left_mm for tool in tools)])
    right = max([rod.right_mm, *(tool.right_mm for tool in tools)])
    if left >= rod.left_mm - 1e-9 and right <= rod.right_mm + 1e-9:
        return rod
    return replace(rod, profile=_bar(right - left, rod.profile.r_max_mm), at_mm=left)


@lru_cache(maxsize=256)
def _bar(length_mm: float, radius_mm: float) -> Profile:
    """A plain rod, the same object each time."""
    return profile((((0.0, 0.0), (length_mm, 0.0), (length_mm, radius_mm), (0.0, radius_mm)),))


def tightest(
    outer: Thing, inner: Thing, *, outer_at_mm: float, inner_at_mm: float, may_be_tight: bool = False
) -> Nesting | None:
    """The tightest place in which one thing lies in another and locates it; with interference only where it may."""
    rows = _nestings(
        outer.profile, inner.profile, outer_at_mm=outer_at_mm, inner_at_mm=inner_at_mm, shortest_mm=NESTS_FROM_MM
    )
    return next((one for one in rows if one.radial_clearance_mm >= -1e-9 or may_be_tight), None)


def _nests(scene: Scene, outer: Thing, outer_at: float, inner: Thing, inner_at: float) -> list[Guide]:
    tight = scene.fit_band(outer.id, inner.id) is not None or "rod" in (outer.id, inner.id)
    nest = tightest(outer, inner, outer_at_mm=outer_at, inner_at_mm=inner_at, may_be_tight=tight)
    if nest is None:
        return []
    clearance = max(nest.radial_clearance_mm, 0.0)
    bore = _bore_mm(outer, outer_at, nest.from_z_mm, nest.to_z_mm)
    ends = (nest.from_z_mm, nest.to_z_mm)
    return [Guide(inner.group, outer.group, inner.id, outer.id, clearance, *ends, bore)]


def _bore_mm(outer: Thing, at: float, from_z: float, to_z: float) -> float:
    """Smallest bore of a thing over a length."""
    bores = [min(r0, r1) for z0, z1, r0, r1 in outer.profile.bores if z0 + at < to_z and z1 + at > from_z]
    return 2 * min(bores, default=0.0)


def _of_bearings(scene: Scene, section: Section, nested: list[Guide]) -> tuple[Guide, ...]:
    """Bearings: the outer ring is central in its housing, even at the mouth; the balls centre the inner."""
    present = {thing.id for thing in scene.things}
    found = []
    for bearing in section.bearings:
        inner, outer = f"{bearing.id}.inner", f"{bearing.id}.outer"
        if outer not in present:
            continue
        ring = scene.thing(outer)
        z0, z1 = ring.left_mm, ring.right_mm
        housing = section.rigid_group(bearing.housing)
        found.append(Guide(outer, housing, outer, bearing.housing, 0.0, z0, z1))
        found.append(Guide(inner, outer, inner, outer, 0.0, z0, z1))
        if bearing.axle is not None:
            axle = section.rigid_group(bearing.axle)
            if any({guide.inner, guide.outer} == {inner, axle} for guide in nested):
                air = max(-inner_interference_mm(section, bearing), 0.0) / 2
                found.append(Guide(axle, inner, bearing.axle, inner, air, z0, z1))
    return tuple(found)


def least_chains(all_guides: tuple[Guide, ...], root: str) -> dict[str, tuple[float, tuple[Guide, ...]]]:
    """For each group the least sum of clearances over any chain to the root, and that chain from the part on.

    Of equal sums the shorter chain counts, of these the one that lets the part tilt least.
    """
    edges: dict[str, list[tuple[str, Guide]]] = {}
    for guide in all_guides:
        edges.setdefault(guide.inner, []).append((guide.outer, guide))
        edges.setdefault(guide.outer, []).append((guide.inner, guide))
    chains: dict[str, tuple[float, tuple[Guide, ...]]] = {root: (0.0, ())}
    costs: dict[str, tuple[float, int, float]] = {root: (0.0, 0, 0.0)}
    done: set[str] = set()
    while waiting := [group for group in chains if group not in done]:
        here = min(waiting, key=costs.__getitem__)
        done.add(here)
        total, length, tilt = costs[here]
        for there, guide in edges.get(here, ()):
            slope = guide.clearance_mm / max(guide.to_z_mm - guide.from_z_mm, 1e-9)
            offer = (round(total + guide.clearance_mm, 12), length + 1, tilt + slope)
            if there not in done and (there not in costs or offer < costs[there]):
                costs[there] = offer
                chains[there] = (offer[0], (guide, *chains[here][1]))
    return chains


def centring_of(thing: Thing, chains: dict[str, tuple[float, tuple[Guide, ...]]], z_mm: float) -> Centring:
    """Offset of a part by its least chain; with the lever of short guides at z, and the tilt, beside it.

    Notes
    -----
    Lever: sum of c (|z - z1| + |z2 - z|)/(z2 - z1); tilt: sum of 2 c/(z2 - z1) (mechanics, section 4).
    """
    if thing.group not in chains:
        return Centring(thing.id, None, None, None, ())
    offset, chain = chains[thing.group]
    levered = tilt = 0.0
    for guide in chain:
        length = guide.to_z_mm - guide.from_z_mm
        levered += guide.clearance_mm * (abs(z_mm - guide.from_z_mm) + abs(guide.to_z_mm - z_mm)) / length
        tilt += 2 * guide.clearance_mm / length
    links = tuple(Link(g.inner_thing, g.outer_thing, g.clearance_mm, g.bore_mm) for g in chain if g.clearance_mm > 1e-9)
    return Centring(thing.id, offset, levered, degrees(atan(tilt)), links)


def chain_in_words(centring: Centring) -> str:
    """The sum behind an offset: 'rod in axle 0.10 + D28 on rod 0.10 = 0.20'."""
    if centring.offset_mm is None:
        return "no chain of nestings reaches the housing"
    terms = [f"{name_of(link.inner)} in {name_of(link.outer)} {mm(link.clearance_mm)}" for link in centring.chain]
    return (" + ".join(terms) or "held without air") + f" = {mm(centring.offset_mm)}"


def centring_findings(
    step: Step,
    limits: Limits,
    centring: dict[str, Centring],
    pusher: Thing | None,
    support: Thing | None,
    *,
    held_square: bool,
) -> list[Finding]:
    """Judge the offset of the part that pushes and of the one that supports."""
    found: list[Finding] = []
    source = "least sum of radial clearances; limits of the settings (common practice)"
    if pusher is not None and pusher.id in centring:
        c, place = centring[pusher.id], Place(_working_z(pusher), 2 * pusher.profile.r_max_mm)
        way_out = _guide_in_words(c)
        if c.offset_mm is None:
            found.append(
                Finding(
                    "floating",
                    "fault",
                    (pusher.id,),
                    f"Nothing centres {name_of(pusher.id)}.",
                    chain_in_words(c),
                    source,
                    way_out,
                    place,
                )
            )
        elif c.offset_mm > limits.offset_good_mm + 1e-9:
            fault = c.offset_mm > limits.offset_caution_mm + 1e-9
            found.append(
                Finding(
                    "off-centre",
                    "fault" if fault else "caution",
                    (pusher.id, *_chain_bodies(c)),
                    f"{name_of(pusher.id)} can sit {mm(c.offset_mm)} mm to one side at the start.",
                    f"{chain_in_words(c)}; good up to {mm(limits.offset_good_mm)}",
                    source,
                    way_out,
                    place,
                    values={"offset_mm": c.offset_mm},
                )
            )
        levered = c.levered_offset_mm
        if not held_square and levered is not None and levered > limits.offset_caution_mm:
            found.append(
                Finding(
                    "tilted-start",
                    "caution",
                    (pusher.id,),
                    f"Nothing holds {name_of(pusher.id)} square: tilted, its face is up to {mm(levered)} mm off.",
                    f"tilt {c.tilt_deg or 0.0:.2f} degrees over the overhang",
                    "clearances of the guides times their lever",
                    "Guide the rod at both ends and look from two sides.",
                    place,
                )
            )
    if support is not None and support.id in centring:
        c, place = centring[support.id], Place(_working_z(support), 2 * support.profile.r_max_mm)
        if c.offset_mm is None or c.offset_mm > limits.offset_caution_mm + 1e-9:
            offset = "anywhere" if c.offset_mm is None else f"{mm(c.offset_mm)} mm to one side"
            found.append(
                Finding(
                    "off-centre",
                    "caution",
                    (support.id, *_chain_bodies(c)),
                    f"The support {name_of(support.id)} can sit {offset}.",
                    chain_in_words(c),
                    source,
                    "Hold it central by hand, or use a guide.",
                    place,
                )
            )
    return found


def _guide_in_words(centring: Centring) -> str:
    """The guide that would take up the largest clearance of a chain."""
    widest = max(centring.chain, key=lambda link: link.clearance_mm, default=None)
    if widest is None or widest.bore_mm <= 0.0:
        return "Use a guide in a bore of the hub, bored for the rod."
    if TOOL_MARK in widest.outer:
        fits = widest.bore_mm - 2 * widest.clearance_mm
        return f"Use one bored {mm(fits + 0.02)} to {mm(fits + 0.2)} mm instead of {name_of(widest.outer)}."
    return (
        f"Use a guide of {mm(widest.bore_mm - 0.15)} to {mm(widest.bore_mm - 0.02)} mm"
        f" in the bore of {name_of(widest.outer)}, or a rod that fits it."
    )


def _chain_bodies(centring: Centring) -> tuple[str, ...]:
    return tuple(dict.fromkeys(link.outer for link in centring.chain))


def _working_z(thing: Thing) -> float:
    return thing.right_mm if thing.side == "left" else thing.left_mm
