"""Generate: invented but consistent assemblies with their steps, from standard bearing sizes; the same for a seed.

Shares and lengths are common practice for small hubs. Nothing here is the measure of an existing product.
"""

from collections.abc import Callable
from random import Random

from geometry.facts.bearings import BearingSize, bearing_size
from geometry.job.job import Job
from geometry.planning.press_steps import (
    job_of,
    steps_of_link,
    steps_of_three,
    steps_over_axle,
    steps_with_captive_spacer,
    steps_with_spacer,
)
from geometry.planning.shells import Seat, inner_shoulder_mm, shell_body, stepped_axle
from geometry.section.bearing import Bearing
from geometry.section.body import Body, Shape, Side, cylinder

HUB_BEARINGS = ("6802", "6803", "6804", "6902", "6903", "6904", "63803")
STEPPED_PAIRS = (("6903", "6902"), ("6803", "6802"), ("6804", "6803"), ("6904", "6903"), ("6804", "6903"))
FREEHUB_BEARINGS = ("6802", "6803", "6902", "6903", "63803")
LINK_BEARINGS = ("6800", "6801", "6802", "6900", "6901", "6902", "6903")
WIDE_BEARINGS = ("6805", "6806", "6904", "6905")


def generated_job(kind: str, seed: int) -> Job:
    """One assembly of a kind (see KINDS) with all its steps and empty stacks."""
    return KINDS[kind](Random(f"{kind} {seed}"))


def generated_library(counts: dict[str, int], *, seed: int) -> dict[str, Job]:
    """So many assemblies of each kind, by the name of their file; no two of a kind are equal."""
    library: dict[str, Job] = {}
    for kind, count in counts.items():
        made: list[Job] = []
        attempt = seed
        while len(made) < count:
            job = generated_job(kind, attempt)
            attempt += 1
            if all(job.title != other.title for other in made):
                made.append(job)
        stem = kind.replace(",", "").replace(" ", "-")
        library |= {f"{stem}-{number:02}.json": job for number, job in enumerate(made, start=1)}
    return library


def _shouldered_hub(random: Random) -> Job:
    size = _size(random, HUB_BEARINGS)
    left, right = _pair_of_seats(random, size, size)
    axle = stepped_axle(random, left, right)
    shell, keep_off = shell_body(random, left, right, disc_side="left")
    bearings = _bearings(random, left, right, axle="axle")
    return job_of(
        "rear hub", f"Rear hub {_names(left, right)}, shouldered axle", (shell, axle), bearings,
        steps_over_axle("right"), keep_off=keep_off, landmark="disc on the left",
        summary="A shoulder of the axle stands against each inner ring.",
    )  # fmt: skip


def _stepped_hub(random: Random) -> Job:
    large, small = (bearing_size(one) for one in random.choice(STEPPED_PAIRS))
    left, right = _pair_of_seats(random, large, small)
    axle = stepped_axle(random, left, right)
    shell, keep_off = shell_body(random, left, right, disc_side="left")
    bearings = _bearings(random, left, right, axle="axle")
    return job_of(
        "rear hub", f"Rear hub {_names(left, right)}, stepped axle", (shell, axle), bearings,
        steps_over_axle("left"), keep_off=keep_off, landmark="disc on the left",
        summary="The axle is thicker on the left and leaves with the larger bearing.",
    )  # fmt: skip


def _plain_hub(random: Random) -> Job:
    size = _size(random, HUB_BEARINGS)
    left, right = _pair_of_seats(random, size, size)
    shell, keep_off = shell_body(random, left, right, disc_side=random.choice(("left", None)))
    bore_mm = size.bore_mm - random.choice((1.4, 1.9, 2.4))
    spacer = _spacer(left, right, bore_mm=bore_mm, outside_mm=inner_shoulder_mm(size))
    return job_of(
        "front hub", f"Front hub {_names(left, right)}, spacer", (shell, spacer), _bearings(random, left, right),
        steps_with_spacer(), keep_off=keep_off, landmark="valve hole between the flanges",
        summary="A spacer with a smaller bore than the bearings stands between the inner rings.",
    )  # fmt: skip


def _freehub_of_two(random: Random) -> Job:
    size = _size(random, FREEHUB_BEARINGS)
    left, right = _pair_of_seats(random, size, size, between_mm=(20.0, 32.0))
    body, _ = shell_body(random, left, right, disc_side=None, name="Freehub body", flanges=False)
    spacer = _spacer(left, right, bore_mm=size.bore_mm, outside_mm=inner_shoulder_mm(size))
    return job_of(
        "freehub body", f"Freehub {_names(left, right)}, two bearings", (body, spacer),
        _bearings(random, left, right), steps_with_captive_spacer(spacer), landmark="pawls on the left",
        summary="The spacer is as wide as the bearings: no edge shows until it is pushed aside.",
    )  # fmt: skip


def _freehub_of_three(random: Random) -> Job:
    large, small = (bearing_size(one) for one in random.choice(STEPPED_PAIRS[:3]))
    left, right = _pair_of_seats(random, large, small, between_mm=(22.0, 34.0), in_left=2)
    body, _ = shell_body(random, left, right, disc_side=None, name="Freehub body", flanges=False)
    spacer = _spacer(left, right, bore_mm=small.bore_mm + 0.1, outside_mm=inner_shoulder_mm(small) + 1.0)
    outer, right_one = _bearings(random, left, right)
    inner_from = outer.outer_from_z_mm + large.width_mm
    bearings = (
        _with_id(outer, "BA", outer.outer_from_z_mm), _with_id(outer, "BB", inner_from), right_one,
    )  # fmt: skip
    return job_of(
        "freehub body", f"Freehub {_names(left, right)}, three bearings", (body, spacer), bearings, steps_of_three(),
        landmark="pawls on the left", summary="Two bearings side by side on the left, a smaller one on the right.",
    )  # fmt: skip


def _link(random: Random) -> Job:
    size = _size(random, LINK_BEARINGS)
    d, width = size.outside_mm, size.width_mm
    groove = (0.4, 1.5)
    seat_to = groove[1] + 2 * width
    outside = d + random.choice((8.0, 10.0, 12.0))
    lip = round(size.outer_face_inside_mm - random.uniform(0.6, 1.2), 1)
    slices = (
        cylinder(0.0, groove[0], outside_mm=outside, bore_mm=d),
        cylinder(*groove, outside_mm=outside, bore_mm=d + 1.0),
        cylinder(groove[1], seat_to, outside_mm=outside, bore_mm=d),
        cylinder(seat_to, seat_to + random.choice((1.5, 2.0, 3.0)), outside_mm=outside, bore_mm=lip),
    )
    link = Body(id="link", role="housing", shape=Shape(slices=slices), name="Suspension link")
    ring = Shape(slices=(cylinder(0.5, 1.5, outside_mm=d + 0.9, bore_mm=d - 2.6),))
    circlip = Body(id="circlip", role="circlip", shape=ring, name="Circlip", material="spring steel", joined_to="link")
    tight = round(random.uniform(0.010, 0.016), 3)
    bearings = tuple(
        Bearing(id=id, outer_from_z_mm=groove[1] + place * width, housing="link", leaves="left", mouth_z_mm=0.3,
                designation=size.designation, width_mm=width, corner_mm=size.corner_min_mm,
                outer_interference_mm=tight)
        for place, id in enumerate(("B1", "B2"))
    )  # fmt: skip
    return job_of(
        "suspension link", f"Link 2 x {size.designation}, outside {outside:g}, lip {lip:g}", (link, circlip), bearings,
        steps_of_link(), landmark="circlip on the left",
        summary="Two bearings in one bore, between a lip and a circlip.",
    )  # fmt: skip


def _wide_shell(random: Random) -> Job:
    size = _size(random, WIDE_BEARINGS)
    left, right = _pair_of_seats(random, size, size, between_mm=(52.0, 76.0))
    shell, _ = shell_body(random, left, right, disc_side=None, name="Wide shell", flanges=False)
    sleeve = _spacer(left, right, bore_mm=size.bore_mm - random.choice((1.5, 2.5)), outside_mm=inner_shoulder_mm(size))
    return job_of(
        "wide shell", f"Wide shell {_names(left, right)}, sleeve", (shell, sleeve), _bearings(random, left, right),
        steps_with_spacer(), landmark="drive side on the right",
        summary="A wide shell; a sleeve keeps the inner rings apart.",
    )  # fmt: skip


KINDS: dict[str, Callable[[Random], Job]] = {
    "rear hub, shouldered axle": _shouldered_hub,
    "front hub, plain": _plain_hub,
    "rear hub, stepped axle": _stepped_hub,
    "freehub, two bearings": _freehub_of_two,
    "freehub, three bearings": _freehub_of_three,
    "suspension link": _link,
    "wide shell": _wide_shell,
}
"""Kinds of assemblies by name."""


def _size(random: Random, designations: tuple[str, ...]) -> BearingSize:
    return bearing_size(random.choice(designations))


def _pair_of_seats(
    random: Random,
    left: BearingSize,
    right: BearingSize,
    *,
    between_mm: tuple[float, float] = (38.0, 62.0),
    in_left: int = 1,
) -> tuple[Seat, Seat]:
    """A seat at each end of a shell that begins at 0, with so much between their shoulders."""
    sunk = random.choice((0.5, 0.6, 1.0, 1.5, 2.0))
    left_to = round(sunk + in_left * left.width_mm, 2)
    right_from = round(left_to + round(2 * random.uniform(*between_mm)) / 2, 2)
    right_to = round(right_from + right.width_mm, 2)
    end = round(right_to + random.choice((0.5, 1.0, 1.5)), 2)
    return Seat(left, 0.0, sunk, left_to), Seat(right, end, right_to, right_from)


def _bearings(random: Random, left: Seat, right: Seat, *, axle: str | None = None) -> tuple[Bearing, Bearing]:
    tight = round(random.uniform(0.010, 0.020), 3)
    on_axle = round(-random.uniform(0.004, 0.012), 3) if axle is not None else None

    def bearing(id: str, seat: Seat, leaves: Side, inward: float) -> Bearing:
        size = seat.size
        return Bearing(
            id=id, outer_from_z_mm=min(seat.outer_z_mm, seat.shoulder_z_mm), housing="shell", leaves=leaves,
            mouth_z_mm=round(seat.end_z_mm + inward * 0.5, 2), designation=size.designation, width_mm=size.width_mm,
            corner_mm=size.corner_min_mm, axle=axle, outer_interference_mm=tight, inner_interference_mm=on_axle,
        )  # fmt: skip

    return bearing("BL", left, "left", 1.0), bearing("BR", right, "right", -1.0)


def _with_id(bearing: Bearing, id: str, outer_from_z_mm: float) -> Bearing:
    return Bearing(
        id=id, outer_from_z_mm=round(outer_from_z_mm, 2), housing=bearing.housing, leaves=bearing.leaves,
        mouth_z_mm=bearing.mouth_z_mm, designation=bearing.designation, width_mm=bearing.width_mm,
        corner_mm=bearing.corner_mm, outer_interference_mm=bearing.outer_interference_mm,
    )  # fmt: skip


def _spacer(left: Seat, right: Seat, *, bore_mm: float, outside_mm: float) -> Body:
    """A loose spacer between the inner rings; it can be pushed aside until it meets the shell."""
    shape = Shape(
        slices=(cylinder(left.shoulder_z_mm, right.shoulder_z_mm, outside_mm=outside_mm, bore_mm=round(bore_mm, 1)),)
    )
    room = min(left.shoulder_bore_mm, right.shoulder_bore_mm) - outside_mm
    return Body(id="spacer", role="spacer", shape=shape, name="Inner spacer", side_play_mm=round(room / 2, 2))


def _names(left: Seat, right: Seat) -> str:
    """The bearings, and the distance of their shoulders: what tells two assemblies of a kind apart."""
    apart = right.shoulder_z_mm - left.shoulder_z_mm
    return f"{left.size.designation}/{right.size.designation}, {apart:g} apart"
