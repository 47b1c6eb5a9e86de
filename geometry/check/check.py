"""The check of a step and of a job: from the scene to findings, forces and the verdict."""

from math import inf
from typing import Any

from msgspec.structs import replace

from geometry.check.as_measured import TryOut, check_at_readings, check_with_doubt
from geometry.check.ball_margin import ball_margins
from geometry.check.balls import LOADED_N, balls_findings, wrong_ring_findings
from geometry.check.bearing_fit import groove_findings, loose_spacer_findings, way_round_findings
from geometry.check.centring import centring_findings, centring_of, guides, least_chains
from geometry.check.collision import collision_findings, lead_in_findings, passage_findings, trapped_findings
from geometry.check.contact_path import AT_ONCE_REACH_MM, BEYOND_MM, Pair, facing_pairs, force_path
from geometry.check.face_pressure import pressure_between_parts
from geometry.check.feel import feel_of
from geometry.check.finding import Finding, in_order_of_truth, verdict_of, worst_verdict
from geometry.check.fit_findings import fit_findings
from geometry.check.fit_result import fits_of
from geometry.check.fixes import with_fixes
from geometry.check.force import force_travel_of, torque_band
from geometry.check.hanging import cup_findings, offset_findings
from geometry.check.home import home_in_words
from geometry.check.landing import is_hooked
from geometry.check.landing_faces import landing_findings, loose_part_findings
from geometry.check.ledge import ledge_findings, narrowest
from geometry.check.lever import with_levers
from geometry.check.member import Member
from geometry.check.movement import ball_places, depth_findings, nothing_moves_finding, pushed_out_findings
from geometry.check.order import (
    instruction_findings,
    never_push_findings,
    order_findings,
    refit_findings,
    stock_findings,
)  # fmt: skip
from geometry.check.preload import over_tightening_in_words
from geometry.check.pressed import BEFORE_HOME_MM, Pressed, bearing_forces, pressed_by
from geometry.check.result import BearingForces, Centring, FitResult, JobCheck, StepCheck, Thing, Travel
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
from geometry.check.trials import tried, tried_at_the_edge
from geometry.check.way_in import no_way_findings
from geometry.job.by_identity import kept_by_identity
from geometry.job.job import Job, Step
from geometry.job.measured import Measured
from geometry.job.sequence import Start, starts
from geometry.section.section import Section
from geometry.stack.scene import Scene
from geometry.stack.seating import seat

OUT_BEYOND_MM = 0.1
"""One of many sections is driven no further than this after a bearing is out."""
HELD_SQUARE_SHARE = 0.4
"""A flat landing wider than this share of the bearing holds the pushing part square."""

LOOSE_ROLES = ("axle", "spacer", "insert", "cover")
TOUCHES_MM = 1e-6

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
    return _with_doubt(job, index, tried)


def check_step_at_the_edge(job: Job, index: int) -> StepCheck:
    """The whole check of one step, but all that changes at the edge of the doubt of the readings is in doubt.

    Never better than `check_step`, several times as fast where something changes there, and the same where nothing
    does.
    """
    return _with_doubt(job, index, tried_at_the_edge)


def _with_doubt(job: Job, index: int, try_out: TryOut) -> StepCheck:
    if job.readings is None:
        return _Check(job, index).whole()
    return check_with_doubt(
        job,
        index,
        lambda one, measured: _whole_as_measured(one, index, measured),
        lambda one, section: _findings_with(one, index, section),
        try_out=try_out,
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


@kept_by_identity
def _findings_with(job: Job, index: int, section: Section) -> tuple[Finding, ...]:
    """The findings of a step with another section; what was found at the edge of the doubt is asked for again."""
    return _Check(replace(job, section=section), index).findings()


def quick_check(job: Job, index: int) -> StepCheck:
    """What can be said within a frame: seats, collision, contact path at the start, centring.

    The travel is not swept, so that the verdict is never better than 'cannot tell'.
    """

    def at_once(one: Job, measured: Measured | None = None) -> StepCheck:
        return _Check(one, index, measured, reach_mm=AT_ONCE_REACH_MM).at_once()

    return at_once(job) if job.readings is None else check_at_readings(job, index, at_once)


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
        pressed = self._drive(to_the_end=True)
        fits = fits_of(self.job, self.step)
        members = self._members(pressed) if pressed is not None else ()
        findings, travel = self._all_findings(pressed, fits, members)
        check = self._result(pressed, findings, travel, CHECKED, ())
        return replace(check, fits=fits, strength=utilisations(members), **self._told(pressed, check))

    def findings(self) -> tuple[Finding, ...]:
        """The findings of the whole check alone, levers by the least chain: for one of many sections.

        No finding asks how far a bearing that is out could go on.
        """
        is_out = self.step.operation == "press out"
        pressed = self._drive(to_the_end=True, beyond_mm=OUT_BEYOND_MM if is_out else BEYOND_MM)
        members = self._members(pressed) if pressed is not None else ()
        return self._all_findings(pressed, fits_of(self.job, self.step), members)[0]

    def forces(self) -> dict[str, BearingForces]:
        """What goes through each bearing, as in the whole check; nothing is judged."""
        return self._forces(self._drive(to_the_end=True))

    def _forces(self, pressed: Pressed | None) -> dict[str, BearingForces]:
        return bearing_forces(self.job, self.step, self.start.state, pressed, needed_mm=self.needed_mm)

    def _all_findings(
        self, pressed: Pressed | None, fits: tuple[FitResult, ...], members: tuple[Member, ...]
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

    def _members(self, pressed: Pressed) -> tuple[Member, ...]:
        force = pressed.force
        torque = torque_band(self.job, self.step, self.scene, force)
        return strength_of(self.job, self.step, self.scene, pressed.sliding, force, torque, pressed.landed, self.pairs)

    def _told(self, pressed: Pressed | None, check: StepCheck) -> dict[str, Any]:
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
        pressed = self._drive(to_the_end=False)
        findings = tuple(self._findings_at_once(pressed))
        return self._result(pressed, findings, None, CHECKED_AT_ONCE, ("travel",))

    def _drive(self, *, to_the_end: bool, beyond_mm: float = BEYOND_MM) -> Pressed | None:
        return pressed_by(
            self.job,
            self.step,
            self.scene,
            self.pairs,
            self.centring,
            needed_mm=self.needed_mm,
            to_the_end=to_the_end,
            beyond_mm=beyond_mm,
        )

    def _findings_at_once(self, pressed: Pressed | None) -> list[Finding]:
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
        findings += pressure_between_parts(job, self.pairs, pressed.face_forces_n, share)
        findings += offset_findings(job, scene, pusher.tool if pusher else None, pusher, pressed.home_shift_mm)
        through_balls = balls_findings(job, step, pressed.to_goal, self.needed_mm - BEFORE_HOME_MM, ball_places(scene))
        findings += through_balls + wrong_ring_findings(job, through_balls, landed)
        return findings

    def _travel_findings(self, pressed: Pressed, travel: Travel) -> list[Finding]:
        job, step, scene = self.job, self.step, self.scene
        early = early_stop_finding(scene, job.section, step, travel, None, pressed.carries)
        findings = [early] if early is not None else []
        end = pressed.run.moments[-1]
        if not pressed.run.hard_stop and end.travel_mm < self.needed_mm - STOPS_SHORT_MM:
            findings.append(nothing_moves_finding(step, pressed, self.root))
        if any(f.code == "no-contact" for f in findings):
            findings += no_way_findings(job, step, scene)
        if step.operation == "press in" and early is None:
            findings += depth_findings(step, scene, pressed, self.needed_mm)
        if step.operation == "press in":
            findings += loose_spacer_findings(job, step, scene, self.start.state, pressed.home_shift_mm)
        findings += pushed_out_findings(step, scene, pressed)
        if step.operation == "press out" and not self._hooks(pressed):
            findings += cup_findings(scene, pressed.support, pressed.home_shift_mm)
        findings += trapped_findings(job, step, scene, pressed.home_shift_mm)
        return findings

    def _hooks(self, pressed: Pressed) -> bool:
        """Whether the pull is taken by a part that is hooked in on one side: off the axis on purpose."""
        return pressed.pusher is not None and is_hooked(self.job, pressed.pusher.tool)

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

    def _outside_mm(self) -> float:
        return 2 * self.scene.thing(f"{self.step.bearings[0]}.outer").profile.r_max_mm

    def _pulled_before(self) -> frozenset[str]:
        """Bearings that go in again in this step and were pulled out through their balls before."""
        pulled = set()
        for earlier in range(self.index) if self.step.refitted else ():
            if self.job.steps[earlier].operation == "press out":
                bearings = _Check(self.job, earlier).forces()
                pulled |= {id for id, forces in bearings.items() if forces.balls_n > LOADED_N}
        return frozenset(pulled & set(self.step.refitted))

    def _result(
        self,
        pressed: Pressed | None,
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
            bearings=self._forces(pressed),
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


def _working_z(thing: Thing) -> float:
    """The end of a thing that faces the work; its middle for a body of the assembly."""
    if thing.side == "left":
        return thing.right_mm
    return thing.left_mm if thing.side == "right" else (thing.left_mm + thing.right_mm) / 2
