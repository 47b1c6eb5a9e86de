"""Force and torque of a press before it is done, each as a band."""

from geometry.check.friction import SeatHold, inner_hold, outer_hold, press_friction
from geometry.check.result import Band, ForceTravel, Moment
from geometry.errors import InputError
from geometry.facts.friction import friction
from geometry.facts.threads import thread
from geometry.job.job import Job, Step
from geometry.mechanics.thread import mean_face_diameter_mm, tightening_torque_nm
from geometry.stack.scene import Scene

LEAST_LOSS, MOST_LOSS = 0.2, 1.5
"""Loss of interference to roughness as shares of the expected one: the spread of its sources (W21)."""


def force_band(job: Job, step: Step, expected_n: float) -> Band:
    """Press force with the band of friction and of what roughness leaves of the fit."""
    if step.press_force_n is not None:
        return Band(step.press_force_n, step.press_force_n, step.press_force_n)
    mu = friction("press in" if step.operation == "press in" else "pull out")
    expected_hold = _hold_n(job, step, 1.0)
    if expected_hold <= 0.0:
        return Band(expected_n, expected_n, expected_n)
    low = mu.low / mu.expected * _hold_n(job, step, MOST_LOSS) / expected_hold
    high = mu.high / mu.expected * _hold_n(job, step, LEAST_LOSS) / expected_hold
    return Band(low * expected_n, expected_n, high * expected_n)


def _hold_n(job: Job, step: Step, loss_share: float) -> float:
    """Radial force of the fits of the bearings that move, all at home."""
    holds: list[SeatHold | None] = []
    for id in step.bearings:
        bearing = job.section.bearing(id)
        holds += [
            outer_hold(job.section, bearing, loss_share=loss_share),
            inner_hold(job.section, bearing, loss_share=loss_share),
        ]
    return press_friction(step.operation) * sum(hold.at(0.0) for hold in holds if hold is not None)


def torque_band(job: Job, step: Step, scene: Scene, force: Band) -> Band | None:
    """Torque at the turned nut; a thrust bearing beside it takes the friction of its face away (VDI 2230)."""
    if scene.driver is None or step.stack.rod is None:
        return None
    try:
        rod_thread = thread(job.part(step.stack.rod).thread or "")
    except InputError:
        return None
    nut = scene.thing(scene.driver)
    on_thrust_bearing = _stands_on_thrust_bearing(job, step)
    face = "thrust bearing" if on_thrust_bearing else "thread lubricated"
    mu_thread, mu_face = friction("thread lubricated"), friction(face)
    mean = mean_face_diameter_mm(outside_mm=2 * nut.profile.r_max_mm, bore_mm=rod_thread.major_mm)

    def torque(force_n: float, in_thread: float, under_nut: float) -> float:
        return tightening_torque_nm(
            force_n=force_n,
            nominal_mm=rod_thread.major_mm,
            pitch_mm=rod_thread.pitch_mm,
            face_mean_mm=mean,
            thread_friction=in_thread,
            face_friction=under_nut,
        )

    return Band(
        torque(force.low, mu_thread.low, mu_face.low),
        torque(force.expected, mu_thread.expected, mu_face.expected),
        torque(force.high, mu_thread.high, mu_face.high),
    )


def _stands_on_thrust_bearing(job: Job, step: Step) -> bool:
    clamped = [job.part(p.part) for p in step.stack.parts if p.side == step.stack.driving_side and not p.loose]
    inward = clamped if step.stack.driving_side == "left" else clamped[::-1]
    return len(inward) > 1 and inward[1].kind == "thrust bearing"


def force_travel_of(moments: tuple[Moment, ...]) -> ForceTravel:
    """Force against travel, and what of it crosses the balls of each bearing."""
    ids = moments[0].balls_n.keys() if moments else ()
    return ForceTravel(
        tuple(m.travel_mm for m in moments),
        tuple(m.force_n for m in moments),
        {id: tuple(m.balls_n[id] for m in moments) for id in ids},
    )
