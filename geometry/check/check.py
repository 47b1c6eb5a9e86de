"""The check of a step and of a job: from the scene to findings, forces and the verdict."""

from dataclasses import dataclass, replace
from math import inf
from typing import Any

from geometry.check.as_measured import check_at_readings, check_with_doubt
from geometry.check.ball_margin import ball_margins
from geometry.check.balls import LOADED_N, balls_findings, wrong_ring_findings
from geometry.check.bearing_fit import groove_findings, loose_spacer_findings, way_round_findings
from geometry.check.centring import centring_findings, centring_of, guides, least_chains
from geometry.check.collision import collision_findings, lead_in_findings, passage_findings, trapped_findings
from geometry.check.contact_path import (
    AT_ONCE_REACH_MM,
    Pair,
    Press,
    Run,
    facing_pairs,
    force_path,
    press_of,
    run,
)
from geometry.check.face_pressure import pressure_between_parts
from geometry.check.feel import feel_of
from geometry.check.finding import Finding, Place, in_order_of_truth, verdict_of, worst_verdict
from geometry.check.fit_findings import fit_findings
from geometry.check.fit_result import fits_of
from geometry.check.fixes import with_fixes
from geometry.check.force import force_band, force_travel_of, torque_band
from geometry.check.hanging import cup_findings, offset_findings
from geometry.check.home import home_in_words
from geometry.check.landing import Landing, is_hooked, landings
from geometry.check.landing_faces import landing_findings, loose_part_findings
from geometry.check.ledge import ledge_findings, narrowest
from geometry.check.ledge_view import ledge_views, with_ledges
from geometry.check.lever import with_levers
from geometry.check.member import Member
from geometry.check.order import (
    instruction_findings,
    never_push_findings,
    order_findings,
    refit_findings,
    stock_findings,
)  # fmt: skip
from geometry.check.preload import over_tightening_in_words
from geometry.check.result import (
    Band,
    BearingForces,
    Centring,
    FitResult,
    JobCheck,
    LedgeView,
    Moment,
    StepCheck,
    Thing,
    Travel,
)
from geometry.check.spacer_fit import spacer_findings
from geometry.check.strength import strength_findings, strength_of, utilisations
from geometry.check.travel import (
    STOPS_SHORT_MM,
    early_stop_finding,
    needed_travel_mm,
    rod_findings,
    rod_use,
    travel_of,
)
from geometry.check.way_in import no_way_findings
from geometry.check.wording import mm, name_of
from geometry.job.by_identity import kept_by_identity
from geometry.job.job import Job, Step
from geometry.job.measured import Measured
from geometry.job.sequence import Start, starts
from geometry.stack.scene import Scene
from geometry.stack.seating import seat

SLIDES_SHARE = 0.5
"""A bearing slides while it follows the nut by at least this share."""
REACHES_SHARE = 0.05
"""A bearing that carries less than this share of the force is not pressed."""
HELD_SQUARE_SHARE = 0.4
"""A flat landing wider than this share of the bearing holds the pushing part square."""

LOOSE_ROLES = ("axle", "spacer", "insert", "cover")
TOUCHES_MM = 1e-6
BEFORE_HOME_MM = 0.15
"""What is touched only this near to home is not loaded before (play of the balls, give of the faces)."""

CHECKED = (
    "order of the steps and of putting on",
    "seats and what passes in",
    "collision at the start",
    "travel of everything that moves, both sides",
    "contact path from nut to nut, and the balls of every bearing",
    "centring at the start and its consequences",
    "faces that parts land on, and their pressure",
    "rod length, thread and nuts",
    "strength of rod, threads, parts and shoulders",
    "fits and the clearance that they leave",
    "spacer against shoulders",
    "way round, lead-in, what is trapped afterwards",
)
LATER = ("travel", "way round", "spacer", "strength", "fits")
CHECKED_AT_ONCE = tuple(line for line in CHECKED if not line.startswith(LATER))


def check_job(job: Job) -> JobCheck:
    """The check of every step, and the verdict of the whole."""
    checks = tuple(check_step(job, index) for index in range(len(job.steps)))
    return JobCheck(job.title, worst_verdict(tuple(check.verdict for check in checks)), checks)


def check_step(job: Job, index: int) -> StepCheck:
    """The whole check of one step, counted from 0.

    With readings it is that of the section as measured, and of sections drawn from their doubt.
    """
    if job.readings is None:
        return _Check(job, index).whole()
    return check_with_doubt(
        job,
        index,
        lambda one, measured: _whole_as_measured(one, index, measured),
        lambda one: _Check(one, index).findings(),
    )


def check_step_once(job: Job, index: int) -> StepCheck:
    """The whole check of one step with the section as measured alone.

    What the doubt of the readings can change is not looked at, so that a verdict is never better than 'cannot tell'
    where there are readings; without them it is `check_step`.
    """
    if job.readings is None:
        return _Check(job, index).whole()
    return check_at_readings(job, index, lambda one, measured: _whole_as_measured(one, index, measured))


@kept_by_identity
def _whole_as_measured(job: Job, index: int, measured: Measured) -> StepCheck:
    return _Check(job, index, measured).whole()


def quick_check(job: Job, index: int) -> StepCheck:
    """What can be said within a frame: seats, collision, contact path at the start, centring.

    The travel is not swept, so that the verdict is never better than 'cannot tell'.
    """

    def at_once(one: Job, measured: Measured | None = None) -> StepCheck:
        return _Check(one, index, measured, reach_mm=AT_ONCE_REACH_MM).at_once()

    return at_once(job) if job.readings is None else check_at_readings(job, index, at_once)


@dataclass(frozen=True, slots=True)
class _Pressed:
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


class _Check:
    def __init__(self, job: Job, index: int, measured: Measured | None = None, *, reach_mm: float = inf) -> None:
        """`reach_mm`: what stands further apart at the start is not asked whether it meets."""
        self.job, self.index, self.measured = job, index, measured
        self.step: Step = job.steps[index]
        self.start: Start = starts(job)[index]
        parts = {part.id: part for part in job.parts}
        self.scene: Scene = seat(
            job.section,
            self.start.state,
            self.step.stack,
            parts,
            pushed_aside=frozenset(self.step.pushed_aside_mm),
        )
        self.pairs: tuple[Pair, ...] = facing_pairs(self.scene, reach_mm=reach_mm)
        self.needed_mm = needed_travel_mm(job.section, self.step, self._pushed_along())
        self.root = job.section.rigid_group(job.section.bearing(self.step.bearings[0]).housing)
        self._guides = guides(self.scene, job.section)
        self.centring = self._centring()

    def _pushed_along(self) -> frozenset[str]:
        """Loose bodies that the parts of the turned side touch at the start: they go along."""
        pushed = set()
        for pair in self.pairs:
            for tool, body in ((pair.left, pair.right), (pair.right, pair.left)):
                drives = tool.side == self.step.stack.driving_side and not tool.loose
                if drives and body.kind in LOOSE_ROLES and pair.touch.distance_mm < TOUCHES_MM:
                    pushed.add(body.group)
        return frozenset(pushed)

    def whole(self) -> StepCheck:
        self._refine_levers()
        pressed = self._pressed(to_the_end=True)
        fits = fits_of(self.job, self.step)
        members = self._members(pressed) if pressed is not None else ()
        findings, travel = self._all_findings(pressed, fits, members)
        check = self._result(pressed, findings, travel, CHECKED, ())
        return replace(check, fits=fits, strength=utilisations(members), **self._told(pressed, check))

    def findings(self) -> tuple[Finding, ...]:
        """The findings of the whole check alone, levers by the least chain: for one of many sections."""
        pressed = self._pressed(to_the_end=True)
        members = self._members(pressed) if pressed is not None else ()
        return self._all_findings(pressed, fits_of(self.job, self.step), members)[0]

    def _all_findings(
        self, pressed: _Pressed | None, fits: tuple[FitResult, ...], members: tuple[Member, ...]
    ) -> tuple[tuple[Finding, ...], Travel | None]:
        findings = self._findings_at_once(pressed)
        travel = None
        if pressed is not None:
            travel = travel_of(pressed.press, pressed.run, self.step, self.needed_mm)
            findings += self._travel_findings(pressed, travel)
        findings += way_round_findings(self.job.section, self.step, self.start.state)
        findings += spacer_findings(self.job, self.step, self.start.state, self.measured)
        findings += groove_findings(self.job.section, self.step)
        findings += refit_findings(self.step, self._pulled_before())
        findings += lead_in_findings(self.job, self.step, self.scene)
        findings += fit_findings(self.job, self.step, fits)
        if pressed is not None:
            findings += strength_findings(self.job, self.step, self.scene, pressed.force, members)
        return tuple(findings), travel

    def _members(self, pressed: _Pressed) -> tuple[Member, ...]:
        force = pressed.force
        torque = torque_band(self.job, self.step, self.scene, force)
        return strength_of(self.job, self.step, self.scene, pressed.sliding, force, torque, pressed.landed, self.pairs)

    def _told(self, pressed: _Pressed | None, check: StepCheck) -> dict[str, Any]:
        """What the balls bear and what the hand feels, for the result."""
        if pressed is None:
            return {}
        loads = {id: forces.balls_n for id, forces in check.bearings.items()}
        feel = feel_of(self.step, pressed.to_goal, check.force_n, self.needed_mm, check.torque_nm)
        if self.step.operation == "press in" and pressed.run.hard_stop:
            further = over_tightening_in_words(pressed.to_goal, stop=pressed.run.stop)
            feel = f"{feel} {further}".strip()
        return {"ball_margins": ball_margins(self.job, self.step, loads), "feel": feel}

    def at_once(self) -> StepCheck:
        pressed = self._pressed(to_the_end=False)
        findings = tuple(self._findings_at_once(pressed))
        return self._result(pressed, findings, None, CHECKED_AT_ONCE, ("travel",))

    def _pressed(self, *, to_the_end: bool) -> _Pressed | None:
        press = press_of(self.scene, self.job.section, self.step, self.pairs)
        if press is None:
            return None
        driven = run(press, needed_mm=self.needed_mm, to_the_end=to_the_end)
        sliding = _sliding_moment(driven, self.needed_mm)
        to_goal = _moments_to_goal(driven, self.step, self.needed_mm)
        force = force_band(self.job, self.step, sliding.force_n)
        landed = with_ledges(
            self.job, self.step, self.scene, landings(self.pairs, _face_forces(sliding), self.centring)
        )
        pusher, support = self._pusher_and_support(landed)
        scale = force.expected / max(sliding.force_n, 1e-9)
        ledges = ledge_views(self.job, self.step, self.scene, landed, force_scale=scale)
        carries = self._carries(sliding)
        return _Pressed(press, driven, sliding, to_goal, carries, force, landed, pusher, support, ledges)

    def _carries(self, moment: Moment) -> bool:
        """Whether a face of one of the bearings of the step takes part of the press force."""
        rings = tuple(f"{id}." for id in self.step.bearings)
        pressed = [c.force_n for c in moment.contacts if any(one.startswith(rings) for one in c.between)]
        return bool(pressed) and max(pressed) > REACHES_SHARE * moment.force_n

    def _findings_at_once(self, pressed: _Pressed | None) -> list[Finding]:
        job, step, scene = self.job, self.step, self.scene
        use = rod_use(scene, job.part(step.stack.rod), self.needed_mm) if step.stack.rod else None
        findings = order_findings(job, step, self.start) + instruction_findings(job, self.index)
        findings += passage_findings(job, step, scene) + collision_findings(job, scene)
        findings += rod_findings(job, step, scene, use) + stock_findings(job, step)
        if pressed is None:
            return findings
        landed, pusher, support = pressed.landed, pressed.pusher, pressed.support
        held = pusher is not None and pusher.flat and pusher.outer_mm > HELD_SQUARE_SHARE * self._outside_mm()
        centred = pusher is not None and not is_hooked(job, pusher.tool)
        findings += centring_findings(
            step,
            job.limits,
            self.centring,
            pusher.tool if pusher and centred else None,
            support.tool if support else None,
            held_square=held,
        )
        findings += landing_findings(job, landed, pressed.force.expected, pressed.sliding.force_n)
        findings += loose_part_findings(scene, pressed.sliding.contacts, pressed.sliding.force_n)
        findings += never_push_findings(job, tuple(landing.on.id for landing in landed))
        findings += ledge_findings(job, pressed.ledges, {one.on.id: one.place for one in landed})
        share = pressed.force.expected / max(pressed.sliding.force_n, 1e-9)
        findings += pressure_between_parts(job, self.pairs, _face_forces(pressed.sliding), share)
        findings += offset_findings(job, scene, pusher.tool if pusher else None, pusher, self._home_shift(pressed))
        through_balls = balls_findings(job, step, pressed.to_goal, self.needed_mm - BEFORE_HOME_MM, self._ball_rows())
        findings += through_balls + wrong_ring_findings(job, through_balls, landed)
        return findings

    def _travel_findings(self, pressed: _Pressed, travel: Travel) -> list[Finding]:
        job, step, scene = self.job, self.step, self.scene
        early = early_stop_finding(scene, job.section, step, travel, None, pressed.carries)
        findings = [early] if early is not None else []
        end = pressed.run.moments[-1]
        if not pressed.run.hard_stop and end.travel_mm < self.needed_mm - STOPS_SHORT_MM:
            findings.append(self._nothing_moves(pressed, end))
        if any(f.code == "no-contact" for f in findings):
            findings += no_way_findings(job, step, scene)
        if step.operation == "press in" and early is None:
            findings += self._depth_findings(pressed, travel)
        if step.operation == "press in":
            findings += loose_spacer_findings(job, step, scene, self.start.state, self._home_shift(pressed))
        findings += self._pushed_out_findings(pressed)
        if step.operation == "press out" and not self._hooks(pressed):
            findings += cup_findings(scene, pressed.support, self._home_shift(pressed))
        findings += trapped_findings(job, step, scene, self._home_shift(pressed))
        return findings

    def _nothing_moves(self, pressed: _Pressed, end: Moment) -> Finding:
        housing_moved = abs(end.shift_mm.get(self.root, 0.0)) > 1.0
        target = self.step.bearings[0]
        if housing_moved:
            return Finding(
                "no-reaction",
                "fault",
                (self.root,),
                f"Nothing holds {name_of(self.root)} against the pull: it moves with the bearing.",
                source="contact network",
                way_out="Put a cup or plate against the housing on the standing side.",
            )
        return Finding(
            "no-contact",
            "fault",
            (target,),
            f"Nothing presses bearing {target}: the nut runs on without moving it.",
            source="contact network",
            way_out=f"Use a drift that reaches the face of a ring of {target}.",
        )

    def _depth_findings(self, pressed: _Pressed, travel: Travel) -> list[Finding]:
        beyond = pressed.run.moments[-1].travel_mm - self.needed_mm
        if beyond <= 2 * STOPS_SHORT_MM:
            return []
        target = self.job.section.bearing(self.step.bearings[0])
        far = f"it goes {mm(beyond)} mm too far"
        if not pressed.run.hard_stop:
            far = f"nothing stops it within {mm(beyond)} mm"
        return [
            Finding(
                "no-depth-stop",
                "fault",
                (f"{target.id}.outer",),
                f"Nothing stops {target.id} at home: {far}.",
                f"home after {mm(self.needed_mm)}; first hard stop after {mm(pressed.run.moments[-1].travel_mm)}",
                "sweep of the travel",
                "Use a depth stop, or press by steps and measure.",
                self._ball_rows().get(target.id),
            )
        ]

    def _hooks(self, pressed: _Pressed) -> bool:
        """Whether the pull is taken by a part that is hooked in on one side: off the axis on purpose."""
        return pressed.pusher is not None and is_hooked(self.job, pressed.pusher.tool)

    def _pushed_out_findings(self, pressed: _Pressed) -> list[Finding]:
        """A bearing that this step is not meant to move, and does."""
        ring = pressed.run.pushed_out
        if ring is None:
            return []
        id = ring.split(".")[0]
        after = mm(pressed.run.moments[pressed.run.stop].travel_mm)
        return [
            Finding(
                "collides",
                "fault",
                (ring,),
                f"After {after} mm this step begins to push {id} out of its seat.",
                f"{id} is not among the bearings of this step ({', '.join(self.step.bearings)})",
                "contact network, swept over the travel",
                "Support that bearing, or clear what pushes it.",
                self._ball_rows().get(id),
            )
        ]

    def _centring(self) -> dict[str, Centring]:
        chains = least_chains(self._guides, self.root)
        wanted = [
            t
            for t in self.scene.things
            if (t.side is not None and t.kind != "O-ring") or t.kind in ("rod", "spacer", "axle")
        ]
        return {thing.id: centring_of(thing, chains, _working_z(thing)) for thing in wanted}

    def _refine_levers(self) -> None:
        """Lever and tilt of the tool parts from all guides together, where some of them form a loop."""
        wanted = tuple((t, _working_z(t)) for t in self.scene.things if t.side is not None and t.id in self.centring)
        self.centring = with_levers(self.centring, self._guides, self.root, wanted)

    def _pusher_and_support(self, landed: tuple[Landing, ...]) -> tuple[Landing | None, Landing | None]:
        """The landings that carry most on the turned and on the standing side."""
        driving = self.step.stack.driving_side
        push = [one for one in landed if one.tool.side == driving and not one.tool.loose]
        hold = [one for one in landed if one.tool.side != driving and not one.tool.loose]
        return tuple(max(side, key=lambda one: one.force_n, default=None) for side in (push, hold))  # type: ignore[return-value]

    def _outside_mm(self) -> float:
        return 2 * self.scene.thing(f"{self.step.bearings[0]}.outer").profile.r_max_mm

    def _pulled_before(self) -> frozenset[str]:
        """Bearings that go in again in this step and were pulled out through their balls before."""
        pulled = set()
        for earlier in range(self.index) if self.step.refitted else ():
            if self.job.steps[earlier].operation == "press out":
                check = check_step(self.job, earlier)
                pulled |= {id for id, forces in check.bearings.items() if forces.balls_n > LOADED_N}
        return frozenset(pulled & set(self.step.refitted))

    def _home_shift(self, pressed: _Pressed) -> dict[str, float]:
        return pressed.to_goal[-1].shift_mm

    def _ball_rows(self) -> dict[str, Place]:
        rows = {}
        for thing in self.scene.things:
            if thing.kind == "outer ring":
                rows[thing.id.split(".")[0]] = Place((thing.left_mm + thing.right_mm) / 2, 2 * thing.profile.r_min_mm)
        return rows

    def _result(
        self,
        pressed: _Pressed | None,
        findings: tuple[Finding, ...],
        travel: Travel | None,
        checked: tuple[str, ...],
        unchecked: tuple[str, ...],
    ) -> StepCheck:
        scene, step = self.scene, self.step
        findings = with_fixes(self.job, self.index, findings)
        findings = in_order_of_truth(findings)
        path: tuple[str, ...] = ()
        force = None
        if pressed is not None:
            groups = {thing.id: thing.group for thing in scene.things}
            path = force_path(pressed.sliding, start=pressed.press.driver, end=pressed.press.anchor, groups=groups)
            force, pusher, support = pressed.force, pressed.pusher, pressed.support
        else:
            pusher = support = None
        return StepCheck(
            step=self.index + 1,
            title=step.title,
            verdict=verdict_of(findings, unchecked=unchecked),
            checked=checked,
            findings=findings,
            things=scene.things,
            moments=pressed.run.moments if pressed else (),
            force_path=path,
            contacts=pressed.sliding.contacts if pressed else (),
            bearings=self._bearing_forces(pressed),
            centring=tuple(self.centring.values()),
            travel=travel,
            rod=rod_use(scene, self.job.part(step.stack.rod), self.needed_mm) if step.stack.rod else None,
            force_n=force,
            torque_nm=torque_band(self.job, step, scene, force) if force else None,
            force_travel=force_travel_of(pressed.to_goal) if pressed else None,
            home=home_in_words(self.job.section, step),
            pusher=pusher.tool.id if pusher else None,
            support=support.tool.id if support else None,
            ledge=narrowest(pressed.ledges) if pressed else None,
        )

    def _balls_before_home_n(self, pressed: _Pressed, id: str) -> float:
        before = [m for m in pressed.to_goal if m.travel_mm < self.needed_mm - BEFORE_HOME_MM] or [pressed.sliding]
        return max(moment.balls_n.get(id, 0.0) for moment in before)

    def _bearing_forces(self, pressed: _Pressed | None) -> dict[str, BearingForces]:
        if pressed is None:
            return {}
        forces = {}
        for bearing in self.job.section.bearings:
            if bearing.id in self.start.state.present:
                forces[bearing.id] = BearingForces(
                    _most(pressed.to_goal, f"{bearing.id}.outer"),
                    _most(pressed.to_goal, f"{bearing.id}.inner"),
                    self._balls_before_home_n(pressed, bearing.id),
                    self.step.fates.get(bearing.id),
                )
        return forces


def _face_forces(moment: Moment) -> dict[tuple[str, str], float]:
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


def _working_z(thing: Thing) -> float:
    """The end of a thing that faces the work; its middle for a body of the assembly."""
    if thing.side == "left":
        return thing.right_mm
    return thing.left_mm if thing.side == "right" else (thing.left_mm + thing.right_mm) / 2
