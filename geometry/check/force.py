"""Force and torque of a press before it is done, each as a band."""

from math import exp, hypot, inf, log
from typing import Literal

from geometry.check.friction import effective_mm, inner_strain_per_mm, outer_strain_per_mm
from geometry.check.interference import inner_interference_band_mm, outer_interference_band_mm
from geometry.check.nut_face import nut_face_mm
from geometry.check.result import Band, ForceTravel, Moment
from geometry.check.thread_friction import in_thread, under_nut
from geometry.errors import InputError
from geometry.facts.friction import friction
from geometry.facts.threads import thread
from geometry.job.job import Job, Step
from geometry.mechanics.thread import mean_face_diameter_mm, tightening_torque_nm
from geometry.record import Derived
from geometry.stack.scene import Scene

LEAST_LOSS, MOST_LOSS = 0.2, 1.5
"""Loss of interference to roughness as shares of the expected one: the spread of its sources (W21)."""


def force_band(job: Job, step: Step, expected_n: float) -> Band:
    """Press force with the band that friction, roughness and the doubt of the readings leave.

    Notes
    -----
    The force is the product of friction and of what the fits hold, and the causes are independent: the logarithms of
    their effects add in squares, each side by itself (GUM propagation of ln F, half-widths of 95 %): friction from its
    low to its high value, the loss to roughness over the spread of its sources, the interference over its band. Squares
    of the effects themselves would leave nothing where random trials leave a fifth (tests/against). What is beyond the
    hold of the fits, such as balls squeezed by a spacer that is too long, is no friction and has no part in that.
    """
    if step.press_force_n is not None:
        return Band(step.press_force_n, step.press_force_n, step.press_force_n)
    mu = friction("press in" if step.operation == "press in" else "pull out")
    holds = _holds(job, step)
    usual = _hold_n(holds)
    if usual <= 0.0:
        tightest = mu.expected * _hold_n(holds, at="high")
        return Band(expected_n, expected_n, max(expected_n, tightest))
    low = _together(
        mu.low / mu.expected, _hold_n(holds, loss_share=MOST_LOSS) / usual, _hold_n(holds, at="low") / usual
    )
    high = _together(
        mu.high / mu.expected, _hold_n(holds, loss_share=LEAST_LOSS) / usual, _hold_n(holds, at="high") / usual
    )
    fits_n = min(expected_n, mu.expected * usual)
    beside_n = expected_n - fits_n
    return Band(beside_n + fits_n / low, expected_n, beside_n + fits_n * high)


def _together(*factors: float) -> float:
    """How far independent factors, each at its own end, move their product: their logarithms add in squares; 1 or more.

    Infinite where one of them alone leaves nothing.
    """
    if min(factors) <= 0.0:
        return inf
    return exp(hypot(*(log(factor) for factor in factors)))


class _Hold(Derived, frozen=True):
    """A fit of a bearing at home: its interference, and the radial force of each millimetre that is effective."""

    interference_mm: Band
    n_per_mm: float


def _holds(job: Job, step: Step) -> tuple[_Hold, ...]:
    """The fits of the bearings that move; those that are loose at their tightest hold nothing."""
    found = []
    for id in step.bearings:
        bearing = job.section.bearing(id)
        outer = outer_interference_band_mm(job, bearing)
        if outer.high > 0.0:
            body = job.section.body(bearing.housing)
            found.append(_Hold(outer, outer_strain_per_mm(body, bearing).force_n))
        if bearing.axle is None:
            continue
        inner = inner_interference_band_mm(job, bearing)
        if inner.high > 0.0:
            found.append(_Hold(inner, inner_strain_per_mm(job.section.body(bearing.axle), bearing).force_n))
    return tuple(found)


def _hold_n(
    holds: tuple[_Hold, ...], *, at: Literal["low", "expected", "high"] = "expected", loss_share: float = 1.0
) -> float:
    """Radial force of the fits together, somewhere in the band of each interference."""
    return sum(effective_mm(getattr(one.interference_mm, at), loss_share) * one.n_per_mm for one in holds)


def torque_band(job: Job, step: Step, scene: Scene, force: Band) -> Band | None:
    """Torque at the turned nut (VDI 2230), over the friction of its thread and of its face, each in its own band.

    A thrust bearing beside it takes the friction of its face away; stainless rods rub harder.
    """
    if scene.driver is None or step.stack.rod is None:
        return None
    try:
        rod_thread = thread(job.part(step.stack.rod).thread or "")
    except InputError:
        return None
    mu_thread, mu_face = in_thread(job, step), under_nut(job, step, scene.driver)
    outside, inside = nut_face_mm(job.part(scene.driver.split("@")[0]))
    mean = mean_face_diameter_mm(outside_mm=outside, bore_mm=inside)

    def torque(force_n: float, of_thread: float, of_face: float) -> float:
        return tightening_torque_nm(
            force_n=force_n,
            nominal_mm=rod_thread.major_mm,
            pitch_mm=rod_thread.pitch_mm,
            face_mean_mm=mean,
            thread_friction=of_thread,
            face_friction=of_face,
        )

    return Band(
        torque(force.low, mu_thread.low, mu_face.low),
        torque(force.expected, mu_thread.expected, mu_face.expected),
        torque(force.high, mu_thread.high, mu_face.high),
    )


def force_travel_of(moments: tuple[Moment, ...]) -> ForceTravel:
    """Force against travel, and what of it crosses the balls of each bearing."""
    ids = moments[0].balls_n.keys() if moments else ()
    return ForceTravel(
        tuple(m.travel_mm for m in moments),
        tuple(m.force_n for m in moments),
        {id: tuple(m.balls_n[id] for m in moments) for id in ids},
    )
