"""Search: stacks from the parts at hand, each checked in full, the most promising first."""

from collections import Counter
from collections.abc import Callable, Iterable

from msgspec.structs import replace

from geometry.check.check import check_step, check_step_at_the_edge, check_step_once
from geometry.check.deciding import keeps_from_an_answer
from geometry.check.finding import Finding, verdict_of
from geometry.check.result import StepCheck
from geometry.check.wording import mm, name_of
from geometry.job.job import Job, Step
from geometry.parts.part import ToolPart
from geometry.planning.candidates import MOST_TRIES, Candidate, Candidates, Dropped
from geometry.planning.faces_at_hand import Faces, faces_of
from geometry.planning.parallel import never
from geometry.planning.score import VERDICTS, Score, score_of
from geometry.planning.situation import Situation, situation_of
from geometry.record import Derived
from geometry.stack.stack import Stack

Progress = Callable[[str, float], None]
"""Told what is being done, and what share of it is done (0 to 1)."""

Shown = Callable[[tuple["Suggested", ...]], None]
"""Shown the best set-ups that are found by then, best first."""

LIMIT = 5
CHECKS_MORE = 30
"""Full checks that may be spent beyond the number of set-ups that is wanted."""
DOUBTS_MORE = 3
"""Checks with the doubt of the readings that may be spent beyond the number of set-ups that is wanted."""
EDGES_MORE = 8
"""The same where only the edge of the doubt is looked at."""
CERTAIN = ("good", "caution")
MOST_ALIKE = 5
"""With so many set-ups that are in doubt alike no other is looked at."""
REFUSALS = 3
"""A part that the check refused this often by itself is not tried again."""
WITHOUT_PARTS = frozenset(
    ("wrong-order", "spacer-long", "spacer-short", "against-shoulder", "back-to-front", "groove-not-reached",
     "differs-from-instructions", "no-lead-in", "fit-loose", "fit-tight", "clearance-lost", "no-press-possible")
)  # fmt: skip
"""Findings that no other stack would change."""


class Suggested(Derived, frozen=True):
    """A set-up for a step, with its check."""

    stack: Stack
    parts: tuple[ToolPart, ...]
    """The parts that it uses, the rod first."""
    check: StepCheck
    score: Score
    weak_point: str
    """In one line: what limits it."""


class NearMiss(Derived, frozen=True):
    """What is missing where nothing works: in words, and the part or dimension."""

    words: str
    part: ToolPart | None = None
    """The part of the set that comes nearest."""
    dimension: str = ""
    """The dimension of its form that is wrong."""
    has_mm: float | None = None
    needs_mm: float | None = None
    verified: bool = False
    """Whether the full check accepts a stack with that dimension changed."""


class Search(Derived, frozen=True):
    """What a search came to: stacks that the check accepts, and the refusals."""

    stacks: tuple[Suggested, ...]
    refused: tuple[tuple[Candidate, StepCheck], ...]
    dropped: tuple[Dropped, ...] = ()
    """Pairs of faces of which no stack was made, the most promising first."""


def search(
    job: Job,
    step: int,
    parts: tuple[ToolPart, ...],
    *,
    limit: int = LIMIT,
    most_checks: int | None = None,
    any_good: bool = False,
    enough_certain: int | None = None,
    progress: Progress | None = None,
    show: Shown | None = None,
    cancelled: Callable[[], bool] = never,
) -> Search:
    """Full checks of the most promising stacks until the best `limit` are certain or `most_checks` are spent.

    With readings each is checked as measured first; what their doubt does to it takes many checks more, which only
    those get that are then among the best, and no more than DOUBTS_MORE beyond the number that is wanted.

    `any_good`: the first that are good will do, whether there are better ones or not. `enough_certain`: with so many
    that the doubt cannot touch, it is not followed up what it does to the others, which then cannot be told.

    What is found when it is cancelled comes back; `show` is shown it whenever there is more.
    """
    bare = bare_job(job, step, parts)
    situation = situation_of(bare, step)
    tell = progress or _silent
    tell(f"step {step + 1}: faces", 0.0)
    usable = tuple(part for part in bare.parts if part.stock > 0)
    faces = faces_of(situation, usable)
    return checked(
        situation, usable, faces, limit=limit, most_checks=most_checks, any_good=any_good,
        enough_certain=enough_certain, progress=progress, show=show, cancelled=cancelled,
    )  # fmt: skip


def checked(
    situation: Situation,
    parts: tuple[ToolPart, ...],
    faces: Faces,
    *,
    limit: int,
    most_checks: int | None = None,
    most_tries: int = MOST_TRIES,
    any_good: bool = False,
    enough_certain: int | None = None,
    progress: Progress | None = None,
    show: Shown | None = None,
    cancelled: Callable[[], bool] = never,
) -> Search:
    """The same from faces that are known already; `most_tries`: of guides in pairs of faces."""
    bare, step = situation.given, situation.index
    tell = progress or _silent
    queue = Candidates(situation, parts, faces, most_tries=most_tries, any_sound=any_good, cancelled=cancelled)
    budget = limit + CHECKS_MORE if most_checks is None else most_checks
    found: list[Suggested] = []
    refused: list[tuple[Candidate, StepCheck]] = []
    refusals: Counter[tuple[str, str, bool]] = Counter()
    common = beaten = 0
    doubts = _Doubts(enough_certain)
    for candidate in queue:
        looked_at = len(found) + len(refused) + beaten
        if looked_at >= budget or _is_settled(found, candidate, limit, common):
            break
        if doubts.are_spent(limit):
            break
        if any(refusals[face] >= REFUSALS for face in _faces(candidate)):
            continue
        tell(f"step {step + 1}: checks", max(looked_at / budget, min(len(found), limit) / (limit + 1)))
        trial = with_stack(bare, step, candidate.stack)
        check = check_step_once(trial, step)
        if not found and not refused:
            common = sum(1 for f in check.findings if f.severity == "caution" and f.code in WITHOUT_PARTS)
            if any(f.severity == "fault" and f.code in WITHOUT_PARTS for f in check.findings):
                budget = 0
        if check.verdict != "not good" and trial.readings is not None:
            if _is_beaten(found, _score_at_best(trial, candidate.stack, check), limit):
                beaten += 1
                continue
            check = doubts.check(trial, step)
        if check.verdict == "not good":
            refused.append((candidate, check))
            refusals.update(_blamed(candidate, (f for f in check.findings if f.severity == "fault")))
        else:
            doubtful = [f for f in check.findings if keeps_from_an_answer(f)]
            refusals.update({face: REFUSALS for face in _blamed(candidate, doubtful)})  # others may be certain
            found.append(_suggested(trial, candidate.stack, check))
            if show is not None:
                show(tuple(sorted(found, key=lambda one: one.score.key)[:limit]))
        if any_good and _count_up_to(max(queue.least_verdict, min(common, 1)), found) >= limit:
            break
    found = doubts.followed_up(step, found)
    return Search(tuple(found[:limit]), tuple(refused), tuple(queue.dropped))


def bare_job(job: Job, step: int, parts: tuple[ToolPart, ...]) -> Job:
    """The job with these parts at hand and no stack but those of earlier steps that the check asks about."""
    refitted = bool(job.steps[step].refitted)
    own = {part.id for part in parts}
    needed = tuple(part for part in job.parts if part.id not in own) if refitted else ()
    steps = tuple(
        one if refitted and number < step else replace(one, stack=Stack()) for number, one in enumerate(job.steps)
    )
    kept = tuple(replace(part, stock=0) for part in needed)
    return replace(job, parts=parts + kept, steps=steps)


def with_stack(job: Job, step: int, stack: Stack) -> Job:
    """The job with a stack at one step."""
    changed: Step = replace(job.steps[step], stack=stack)
    return replace(job, steps=(*job.steps[:step], changed, *job.steps[step + 1 :]))


class _Doubts:
    """What the doubt of the readings does to the set-ups of one search, followed up as far as it is asked for."""

    def __init__(self, enough_certain: int | None) -> None:
        """`enough_certain`: with so many that are certain at the edge, no other is followed up; None: all are."""
        self.enough, self._checked, self._certain = enough_certain, 0, 0
        self._followed: list[StepCheck] = []
        self._times_seen: Counter[frozenset[str]] = Counter()
        self._trials: dict[int, Job] = {}
        """The jobs that were checked at the edge, by their stacks: of the same job that is not asked again."""

    def are_spent(self, limit: int) -> bool:
        """Whether no more set-ups are to be checked: too many for the number that is wanted, or all in doubt alike."""
        if self.enough is None:
            return self._checked >= limit + DOUBTS_MORE
        return self._checked >= limit + EDGES_MORE or max(self._times_seen.values(), default=0) >= MOST_ALIKE

    def check(self, trial: Job, step: int) -> StepCheck:
        """A set-up's check: the whole one; or at the edge, but the second time that the same is in doubt the whole."""
        self._checked += 1
        if self.enough is None:
            return check_step(trial, step)
        self._trials[id(trial.steps[step].stack)] = trial
        check = check_step_at_the_edge(trial, step)
        if check.verdict == "cannot tell":
            self._times_seen[_in_doubt(check)] += 1
            if self._times_seen[_in_doubt(check)] == 2 and self._certain < self.enough:
                check = self._whole(trial, step)
        self._certain += check.verdict in CERTAIN
        return check

    def followed_up(self, step: int, found: list[Suggested]) -> list[Suggested]:
        """The set-ups that the check accepts, best first.

        Of each doubt the best is followed, while too few are certain, or where it may be better than all that are.
        """
        told: list[Suggested] = []
        kinds = {_in_doubt(check) for check in self._followed}
        best = min((one.score.verdict for one in found if one.check.verdict in CERTAIN), default=len(VERDICTS))
        for one in sorted(found, key=lambda one: one.score.key):
            kind = _in_doubt(one.check)
            if self._is_open(one) and kind not in kinds and self._may_tell_more(one, step, best):
                kinds.add(kind)
                trial = self._trials[id(one.stack)]
                one = _suggested(trial, one.stack, self._whole(trial, step))
                if one.check.verdict in CERTAIN:
                    self._certain, best = self._certain + 1, min(best, one.score.verdict)
            told.append(one)
        told.sort(key=lambda one: (one.score.verdict, self._is_open(one), one.score.key))
        return [one for one in told if one.check.verdict != "not good"]

    def _may_tell_more(self, one: Suggested, step: int, best: int) -> bool:
        """Whether too few are certain, or it beats the best of them (VERDICTS) where the doubt changes nothing."""
        if self._certain < (self.enough or 0):
            return True
        trial = self._trials[id(one.stack)]
        return _score_at_best(trial, one.stack, check_step_once(trial, step))[0] < best

    def _is_open(self, one: Suggested) -> bool:
        """Whether it is in doubt and was not followed up: it says less."""
        in_doubt = self.enough is not None and one.check.verdict == "cannot tell"
        return in_doubt and all(one.check is not check for check in self._followed)

    def _whole(self, trial: Job, step: int) -> StepCheck:
        self._followed.append(check_step(trial, step))
        return self._followed[-1]


def _in_doubt(check: StepCheck) -> frozenset[str]:
    """The kind of doubt: the codes of what keeps a set-up from an answer."""
    return frozenset(finding.code for finding in check.findings if keeps_from_an_answer(finding))


def _is_settled(found: list[Suggested], candidate: Candidate, limit: int, common: int) -> bool:
    """Whether enough is found that nothing still waiting can be better."""
    verdict, cautions, *rest = candidate.key
    least = cautions + common
    return _is_beaten(found, (1 if least else 0, least, *rest), limit)


def _count_up_to(verdict: int, found: list[Suggested]) -> int:
    """How many have a verdict that is no worse."""
    return sum(one.score.verdict <= verdict for one in found)


def _is_beaten(found: list[Suggested], key: tuple[int, ...], limit: int) -> bool:
    """Whether there are enough that are as good."""
    return len(found) >= limit and sorted(one.score.key for one in found)[limit - 1] <= key


def _score_at_best(job: Job, stack: Stack, check: StepCheck) -> tuple[int, ...]:
    """The key of its score if the doubt of the readings changes nothing."""
    return score_of(job, stack, replace(check, verdict=verdict_of(check.findings))).key


def _faces(candidate: Candidate) -> tuple[tuple[str, str, bool], ...]:
    return tuple((one.thing.id, one.part.id, one.flipped) for one in (candidate.pusher, candidate.holder))


def _blamed(candidate: Candidate, findings: Iterable[Finding]) -> list[tuple[str, str, bool]]:
    """The faces of a stack of which one of these findings names one and no other tool part."""
    named = [{id for id in finding.bodies if "@" in id} for finding in findings]
    return [face for face in _faces(candidate) if {face[0]} in named]


def _suggested(job: Job, stack: Stack, check: StepCheck) -> Suggested:
    ids = dict.fromkeys([stack.rod or "", *(part.part for part in stack.parts)])
    parts = tuple(job.part(id) for id in ids if id)
    return Suggested(stack, parts, check, score_of(job, stack, check), weak_point(check))


def weak_point(check: StepCheck) -> str:
    """What limits a set-up, in one line."""
    caution = next((f for f in check.findings if f.severity == "caution" or f.certainty == "in doubt"), None)
    if caution is not None:
        return caution.message
    pusher = next((c for c in check.centring if c.part == check.pusher), None)
    room = check.travel.room_left_mm if check.travel is not None else None
    if room is not None and room < 3.0:
        return f"{mm(max(room, 0.0))} mm of room are left after the travel."
    if pusher is not None and pusher.offset_mm is not None and pusher.offset_mm > 0.1:
        return f"{name_of(pusher.part)} can sit {mm(pusher.offset_mm)} mm to one side."
    if check.rod is not None and check.rod.spare_mm < 6.0:
        return f"{mm(check.rod.spare_mm)} mm of rod are left over."
    return "None stands out."


def what_would_tell(check: StepCheck) -> str:
    """What keeps a set-up from an answer, and what would give it; empty where nothing does."""
    about = next((f for f in check.findings if keeps_from_an_answer(f) and f.code != "reading-decides"), None)
    return "" if about is None else f"{about.message} {about.way_out}".strip()


def _silent(what: str, share: float) -> None:
    """Nobody asked to be told."""
