"""A press that was driven: the moments that matter, what stands where then, and what each bearing bears."""

from geometry.check.contact_path import BEYOND_MM, Pair, Press, Run, press_of, run
from geometry.check.force import force_band
from geometry.check.landing import Landing, landings
from geometry.check.ledge_view import ledge_views, with_ledges
from geometry.check.result import Band, BearingForces, Centring, LedgeView, Moment
from geometry.check.travel import STOPS_SHORT_MM
from geometry.job.job import Job, Step
from geometry.record import Derived
from geometry.section.state import State
from geometry.stack.scene import Scene

SLIDES_SHARE = 0.5
"""A bearing slides while it follows the nut by at least this share."""
REACHES_SHARE = 0.05
"""A bearing that carries less than this share of the force is not pressed."""
BEFORE_HOME_MM = 0.15
"""What is touched only this near to home is not loaded before (play of the balls, give of the faces)."""


class Pressed(Derived, frozen=True):
    """A press that was driven, and the moments that matter."""

    press: Press
    run: Run
    sliding: Moment
    to_goal: tuple[Moment, ...]
    """Up to home with the firm stop there, or until the bearing is free."""
    carries: bool
    force: Band
    """Press force, as a band."""
    landed: tuple[Landing, ...]
    pusher: Landing | None
    support: Landing | None
    """The landings that carry most on the turned and on the standing side."""
    ledges: tuple[LedgeView, ...]
    """Ledges under hooked parts, at the press force expected."""

    @property
    def home_shift_mm(self) -> dict[str, float]:
        """Where every group has got to at the goal."""
        return self.to_goal[-1].shift_mm

    @property
    def face_forces_n(self) -> dict[tuple[str, str], float]:
        """Force between faces at the moment of sliding, by the two things."""
        return face_forces_n(self.sliding)


def pressed_by(
    job: Job,
    step: Step,
    scene: Scene,
    pairs: tuple[Pair, ...],
    centring: dict[str, Centring],
    *,
    needed_mm: float,
    to_the_end: bool,
    beyond_mm: float = BEYOND_MM,
) -> Pressed | None:
    """Drive the press of a step, to the first hard stop or only until something slides; None without two nuts.

    `beyond_mm`: how far it goes on after the goal to find that stop.
    """
    press = press_of(scene, job.section, step, pairs)
    if press is None:
        return None
    driven = run(press, needed_mm=needed_mm, to_the_end=to_the_end, beyond_mm=beyond_mm)
    sliding = _sliding_moment(driven, needed_mm)
    to_goal = _moments_to_goal(driven, step, needed_mm)
    force = force_band(job, step, sliding.force_n)
    landed = with_ledges(job, step, scene, landings(pairs, face_forces_n(sliding), centring))
    pusher, support = _pusher_and_support(step, landed)
    scale = force.expected / max(sliding.force_n, 1e-9)
    ledges = ledge_views(job, step, scene, landed, force_scale=scale)
    carries = _carries(step, sliding)
    return Pressed(press, driven, sliding, to_goal, carries, force, landed, pusher, support, ledges)


def bearing_forces(
    job: Job, step: Step, state: State, pressed: Pressed | None, *, needed_mm: float
) -> dict[str, BearingForces]:
    """The most that goes through the rings of each bearing that is there, and through its balls before home."""
    if pressed is None:
        return {}
    return {
        bearing.id: BearingForces(
            _most(pressed.to_goal, f"{bearing.id}.outer"),
            _most(pressed.to_goal, f"{bearing.id}.inner"),
            _balls_before_home_n(pressed, bearing.id, needed_mm),
            step.fates.get(bearing.id),
        )
        for bearing in job.section.bearings
        if bearing.id in state.present
    }


def _carries(step: Step, moment: Moment) -> bool:
    """Whether a face of one of the bearings of the step takes part of the press force."""
    rings = tuple(f"{id}." for id in step.bearings)
    pressed = [c.force_n for c in moment.contacts if any(one.startswith(rings) for one in c.between)]
    return bool(pressed) and max(pressed) > REACHES_SHARE * moment.force_n


def _pusher_and_support(step: Step, landed: tuple[Landing, ...]) -> tuple[Landing | None, Landing | None]:
    """The landings that carry most on the turned and on the standing side."""
    driving = step.stack.driving_side
    push = [one for one in landed if one.tool.side == driving and not one.tool.loose]
    hold = [one for one in landed if one.tool.side != driving and not one.tool.loose]
    return tuple(max(side, key=lambda one: one.force_n, default=None) for side in (push, hold))  # type: ignore[return-value]


def _balls_before_home_n(pressed: Pressed, id: str, needed_mm: float) -> float:
    before = [m for m in pressed.to_goal if m.travel_mm < needed_mm - BEFORE_HOME_MM] or [pressed.sliding]
    return max(moment.balls_n.get(id, 0.0) for moment in before)


def face_forces_n(moment: Moment) -> dict[tuple[str, str], float]:
    return {c.between: c.force_n for c in moment.contacts if c.by == "face"}


def _most(moments: tuple[Moment, ...], ring: str) -> float:
    """Largest force in any contact of a ring."""
    return max((c.force_n for m in moments for c in m.contacts if ring in c.between), default=0.0)


def _sliding_moment(driven: Run, needed_mm: float) -> Moment:
    """The moment of the largest force while the bearing follows the nut; the last one if it never does."""
    sliding = [
        after
        for before, after in zip(driven.moments, driven.moments[1:], strict=False)
        if after.travel_mm - before.travel_mm > SLIDES_SHARE * (after.nut_mm - before.nut_mm)
        and after.travel_mm < needed_mm - 0.02
    ]
    return max(sliding, key=lambda moment: moment.force_n, default=driven.moments[-1])


def _moments_to_goal(driven: Run, step: Step, needed_mm: float) -> tuple[Moment, ...]:
    """Moments up to the goal: with the firm stop at home going in, until the bearing is free going out."""
    if step.operation == "press in":
        return tuple(m for m in driven.moments if m.travel_mm <= needed_mm + 2 * STOPS_SHORT_MM) or driven.moments[:1]
    return tuple(m for m in driven.moments if m.travel_mm <= needed_mm) or driven.moments[:1]
