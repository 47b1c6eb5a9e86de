"""CoverageInputs: library, sets, what a customer has and how much jobs count, as they were chosen; no widgets."""

from collections.abc import Mapping
from pathlib import Path

from msgspec import field
from msgspec.structs import replace

from geometry.errors import RingpathError
from geometry.job.file import read_set
from geometry.job.job import Job
from geometry.job.library import jobs_of_folder
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.pools import together, with_parts
from geometry.planning.weights import read_weights
from geometry.record import Derived


class CoverageInputs(Derived, frozen=True):
    """What a coverage is searched with."""

    library: Path | None = None
    jobs: Mapping[str, Job] = field(default_factory=dict)
    problems: tuple[RingpathError, ...] = ()
    """What is wrong with files of the library."""
    set_files: tuple[Path, ...] = ()
    named_sets: tuple[ToolSet, ...] = ()
    added: tuple[ToolPart, ...] = ()
    """Parts that were taken into each set to see what comes of it."""
    own_files: tuple[Path, ...] = ()
    own: tuple[ToolSet, ...] = ()
    weights_file: Path | None = None
    weights: Mapping[str, float] = field(default_factory=dict)

    @property
    def sets(self) -> tuple[ToolSet, ...]:
        """The sets with the parts that were taken in, each together with what the customer has."""
        return tuple(together(one.title, (one, *self.own)) for one in self.sold) if self.own else self.sold

    @property
    def sold(self) -> tuple[ToolSet, ...]:
        """The same without what the customer has, as it is priced."""
        return tuple(with_parts(one, self.added) for one in self.named_sets)

    @property
    def is_enough(self) -> bool:
        return bool(self.jobs and self.named_sets)

    def holds(self, file: Path, tool_set: ToolSet) -> bool:
        """Whether the set of a file is among the chosen ones, with the parts that it has now."""
        chosen = zip(self.set_files, self.named_sets, strict=True)
        return any(one.resolve() == file.resolve() and read.parts == tool_set.parts for one, read in chosen)

    def files_with(self, file: Path) -> tuple[Path, ...]:
        """The files of the sets with one more; it takes the place of a set that stands alone."""
        if file.resolve() in {one.resolve() for one in self.set_files}:
            return self.set_files
        return (*self.set_files, file) if len(self.set_files) > 1 else (file,)

    def path_of(self, job: str) -> Path:
        """The file of a job."""
        assert self.library is not None
        return self.library / job


def with_added(inputs: CoverageInputs, added: tuple[ToolPart, ...]) -> CoverageInputs:
    """With these parts in every set; an id that another part has is refused."""
    taken = replace(inputs, added=added)
    taken.sets  # noqa: B018  put together here, so that what does not go together is refused at once
    return taken


def read_inputs(
    library: Path | None, sets: tuple[Path, ...], own: tuple[Path, ...] = (), weights: Path | None = None
) -> CoverageInputs:
    """Read everything that was chosen; sets of one title are told apart by their files."""
    jobs, problems = jobs_of_folder(library) if library is not None else ({}, ())
    read = [read_set(path) for path in sets]
    titles = [one.title for one in read]
    named = tuple(
        one if titles.count(one.title) == 1 else replace(one, title=f"{one.title} ({path.name})")
        for one, path in zip(read, sets, strict=True)
    )
    inputs = CoverageInputs(
        library=library,
        jobs=jobs,
        problems=problems,
        set_files=sets,
        named_sets=named,
        own_files=own,
        own=tuple(read_set(path) for path in own),
        weights_file=weights,
        weights=read_weights(weights, jobs) if weights is not None else {},
    )
    inputs.sets  # noqa: B018  two sets that hold different parts under one id are refused here
    return inputs
