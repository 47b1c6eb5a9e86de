"""Preload: what a wrong spacer leaves in the balls of its two bearings, and what over-tightening adds."""

from collections.abc import Iterable
from functools import lru_cache
from math import pi

from geometry.check.ball_row import ball_row
from geometry.check.contact_path import FACE_STIFFNESS_N_PER_MM
from geometry.check.fit_result import clearance_left_um
from geometry.check.friction import outer_hold, press_friction
from geometry.check.result import Band, Moment
from geometry.check.wording import newtons
from geometry.facts.materials import material
from geometry.job.job import Job
from geometry.mechanics.balls import AxialLaw, axial_law
from geometry.mechanics.preload import preload_left_n
from geometry.profile.wall import spans_at
from geometry.section.bearing import Bearing, Measures, measures
from geometry.section.body import Body, profile_of

AXLE_CLAMPS_N = 10_000.0
"""Most that an axle pulls its inner rings together with (common practice: through axles clamp with 5 to 15 kN)."""
COUNTS_N = 5.0
"""Less than this is no load on the balls."""


def preload_left(job: Job, left: Bearing, right: Bearing, *, excess_mm: float, chain: Iterable[str]) -> Band:
    """Axial force that a spacer too long or too short leaves in the balls of both its bearings [N].

    Parameters
    ----------
    excess_mm
        Length between the inner rings less the room for it; negative: too short, felt when the axle is tightened.
    chain
        Ids of the bodies between the inner rings, as `spacer_excess_mm` gives them.

    Notes
    -----
    The two ball rows and the spacer as springs in series over what goes beyond the summed play, at most what the looser
    of the outer fits holds (mechanics notes, section 3 (e)). Low, expected and high: clearance left at the high end, as
    expected, and at the low end of its band.
    """
    bodies = [job.section.body(id) for id in chain]
    faces = len(bodies) + 3
    give = sum(_give_mm_per_n(body) for body in bodies) + faces / FACE_STIFFNESS_N_PER_MM
    most = AXLE_CLAMPS_N
    if excess_mm > 0.0:
        most = press_friction("press out") * min(outer_hold(job.section, one).at(0.0) for one in (left, right))
    bands = [clearance_left_um(job, one) or Band(0.0, 10.0, 20.0) for one in (left, right)]

    def force(clearances_um: list[float]) -> float:
        rows = [_law(measures(b), round(max(um, 0.0), 1)) for b, um in zip((left, right), clearances_um, strict=True)]
        return preload_left_n(error_mm=abs(excess_mm), rows=rows, give_mm_per_n=give, most_n=most)

    return Band(
        force([band.high for band in bands]),
        force([band.expected for band in bands]),
        force([band.low for band in bands]),
    )


def balls_per_newton(moments: tuple[Moment, ...], *, stop: int) -> dict[str, float]:
    """Share of each further newton at the nut that goes through the balls of each bearing, once the pull stands firm.

    `stop` is the number of the moment at which the stop closed (`Run.stop`); empty where nothing stopped the pull.
    """
    if stop < 0 or stop >= len(moments) - 1:
        return {}
    before, after = moments[-2], moments[-1]
    pulled = after.force_n - before.force_n
    if pulled <= 0.0:
        return {}
    return {
        id: (after.balls_n[id] - before.balls_n.get(id, 0.0)) / pulled if after.balls_n[id] > COUNTS_N else 0.0
        for id in after.balls_n
    }


def over_tightening_in_words(moments: tuple[Moment, ...], *, stop: int) -> str:
    """What turning on after the stop does; empty where nothing stops the pull."""
    shares = balls_per_newton(moments, stop=stop)
    if not shares:
        return ""
    through = {id: share for id, share in shares.items() if share > 0.005}
    if not through:
        return "Turning on after home adds nothing to the balls; it only squeezes faces and thread: stop."
    words = ", ".join(f"{100 * share:.0f} N through the balls of {id}" for id, share in through.items())
    last = moments[-1]
    load = ", ".join(f"{newtons(last.balls_n[id])} in {id}" for id in through)
    return (
        f"Turning on after home puts {words} for each further 100 N ({load} at {newtons(last.force_n)}): stop at home."
    )


@lru_cache(maxsize=1024)
def _law(m: Measures, clearance_um: float) -> AxialLaw:
    return axial_law(ball_row(m), radial_clearance_mm=clearance_um / 1000)


def _give_mm_per_n(body: Body) -> float:
    """How much a body shortens per newton along its axis: sum of L/(E A)."""
    profile = profile_of(body.shape)
    heights = sorted({z for ring in profile.rings for z, _ in ring})
    modulus = material(body.material).youngs_modulus_mpa
    give = 0.0
    for z0, z1 in zip(heights, heights[1:], strict=False):
        area = pi * sum(outer**2 - inner**2 for inner, outer in spans_at(profile, (z0 + z1) / 2))
        if area > 0.0:
            give += (z1 - z0) / (modulus * area)
    return give
