"""Coverage: which jobs of a library which sets do, and by what the others are missed."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from msgspec import field
from msgspec.structs import replace

from geometry.errors import InputError
from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.planning.job_cover import Covered, JobCover, Known, StepCover, cover_job
from geometry.planning.kept_results import KeptResults
from geometry.planning.needs import JobNeeds, needs_together
from geometry.planning.parallel import each_result, never
from geometry.planning.step_stacks import Finder
from geometry.record import Derived

Progress = Callable[[str, float], None]
"""Told what is done, and what share of it (0 to 1)."""

WORKERS = 2
KNOWN_BEFORE = " beside steps known from another set"
"""Tells results apart that say why a step is missed in words about another set: good for whether it is done alone."""
COLUMNS = ("job", "title", "set", "state", "step", "step_title", "step_state", "stack_count", "missed_by")


class HowToRun(Derived, frozen=True):
    """How a long search is run."""

    finder: Finder
    """Finds the best stacks and what is missing; the answer depends on this alone."""
    kept_in: Path | None = None
    """Folder in which results are kept; a search that was stopped goes on from there."""
    workers: int = WORKERS
    progress: Progress | None = None
    cancelled: Callable[[], bool] = never
    each: Callable[[str, str, JobCover], None] | None = None
    """Told job, title of the set and result, one after the other as they come."""
    whether: Finder | None = None
    """Finds as few stacks as tell whether a step is done, where only that counts; without it `finder` is asked."""


class Coverage(Derived, frozen=True):
    """Jobs by sets."""

    jobs: Mapping[str, Job]
    """By the name under which each is listed, such as its file."""
    sets: tuple[str, ...]
    """Titles of the sets."""
    cells: Mapping[tuple[str, str], JobCover] = field(default_factory=dict)
    """By job and set; those that a stopped search did not come to are not there."""

    @property
    def is_complete(self) -> bool:
        return len(self.cells) == len(self.jobs) * len(self.sets)

    def covered(self, tool_set: str) -> tuple[str, ...]:
        """The jobs that a set does."""
        return tuple(job for job in self.jobs if (job, tool_set) in self.cells and self.cells[job, tool_set].is_covered)

    def missed(self, tool_set: str) -> tuple[str, ...]:
        """The jobs that a set does not do, as far as they were searched."""
        return self._in_state(tool_set, "missed")

    def undecided(self, tool_set: str) -> tuple[str, ...]:
        """The jobs that a set may do: stacks are there, but the readings cannot tell whether they are good."""
        return self._in_state(tool_set, "cannot tell")

    def _in_state(self, tool_set: str, state: Covered) -> tuple[str, ...]:
        cells = {job: self.cells.get((job, tool_set)) for job in self.jobs}
        return tuple(job for job, cell in cells.items() if cell is not None and cell.state == state)

    def needs(self, tool_set: str, *, weights: Mapping[str, float] | None = None) -> tuple[JobNeeds, ...]:
        """What the stacks of a set take, job by job, to choose smaller sets from."""
        return tuple(
            self.cells[job, tool_set].needs(job, weight=(weights or {}).get(job, 1.0))
            for job in self.jobs
            if (job, tool_set) in self.cells
        )

    def needs_of_all(self, sets: Sequence[str], *, weights: Mapping[str, float] | None = None) -> tuple[JobNeeds, ...]:
        """What the stacks take that were found with any of these sets, job by job; to choose sets from all of them."""
        by_job: dict[str, list[JobNeeds]] = {}
        for title in sets:
            for one in self.needs(title, weights=weights):
                by_job.setdefault(one.job, []).append(one)
        return tuple(needs_together(by_job[job]) for job in self.jobs if job in by_job)

    def rows(self) -> tuple[dict[str, str], ...]:
        """A row for each step of each job with each set, as for a CSV file (COLUMNS)."""
        return tuple(
            _row(job, self.jobs[job].title, tool_set, cell, step)
            for (job, tool_set), cell in self.cells.items()
            for step in cell.steps
        )


def cover(jobs: Mapping[str, Job], sets: Sequence[ToolSet], how: HowToRun) -> Coverage:
    """Every job with every set; what is done when the search is cancelled stays in the result and in the folder.

    Parameters
    ----------
    jobs
        Jobs by the name under which they are listed; stacks that they have already are not used.
    sets
        Sets with different titles.
    """
    titles = tuple(one.title for one in sets)
    for title in titles:
        if titles.count(title) > 1:
            raise InputError("sets", found=f"the title '{title}' twice", expected="a title of its own for each")
    found = cover_pairs(jobs, [Asked(name, one) for name in jobs for one in sets], how)
    pairs = [(name, title) for name in jobs for title in titles]
    in_order = {pair: found[pair] for pair in pairs if pair in found}
    return Coverage(dict(jobs), titles, in_order)


class Asked(Derived, frozen=True):
    """A job by its name, a set, and what is known of some of its steps with this set."""

    job: str
    tool_set: ToolSet
    known: Known = {}


def cover_pairs(
    jobs: Mapping[str, Job], pairs: Sequence[Asked], how: HowToRun
) -> dict[tuple[str, str], JobCover]:
    """Some jobs with some sets: by job and title of the set, as far as it came before it was cancelled."""
    kept = KeptResults(how.kept_in, how.finder)
    kept_of_known = KeptResults(how.kept_in, how.finder, beside=KNOWN_BEFORE)
    tell, show = how.progress or _silent, how.each or _unseen
    found: dict[tuple[str, str], JobCover] = {}
    waiting = []
    for one in pairs:
        job, title = jobs[one.job], one.tool_set.title
        before = kept.read(job, one.tool_set)
        if before is None and one.known:
            before = kept_of_known.read(job, one.tool_set)
        if before is None:
            waiting.append(_Search(one, job, how.finder))
        else:
            found[one.job, title] = before
            show(one.job, title, before)
    tell(f"{len(found)} of {len(pairs)} known already", len(found) / max(len(pairs), 1))
    by_key = {(task.asked.job, task.asked.tool_set.title): task for task in waiting}
    for key, cell in each_result(_searched, waiting, workers=how.workers, cancelled=how.cancelled):
        found[key] = cell
        show(*key, cell)
        asked = by_key[key].asked
        (kept_of_known if asked.known else kept).keep(by_key[key].job, asked.tool_set, cell)
        tell(f"{key[0]} with {key[1]}: {cell.state}", len(found) / len(pairs))
    return found


def whether_only(how: HowToRun) -> HowToRun:
    """The same way to run, for sets that are only tried: whether they do a step, and not why they do not."""
    return replace(how, finder=how.whether or how.finder, each=None)


class _Search(Derived, frozen=True):
    """One job to be searched with one set."""

    asked: Asked
    job: Job
    finder: Finder


def _searched(task: _Search) -> tuple[tuple[str, str], JobCover]:
    asked = task.asked
    return (asked.job, asked.tool_set.title), cover_job(task.job, asked.tool_set, task.finder, asked.known)


def _row(job: str, title: str, tool_set: str, cell: JobCover, step: StepCover) -> dict[str, str]:
    return {
        "job": job,
        "title": title,
        "set": tool_set,
        "state": cell.state,
        "step": str(step.step),
        "step_title": step.title,
        "step_state": step.state,
        "stack_count": str(len(step.stacks)),
        "missed_by": "" if step.is_covered else "; ".join(step.missed_by),
    }


def _silent(words: str, share: float) -> None:
    """Nobody listens."""


def _unseen(job: str, tool_set: str, cell: JobCover) -> None:
    """Nobody looks."""
