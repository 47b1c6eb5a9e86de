"""Shapes in a file that no lathe could turn, told with their place in the file."""

from collections.abc import Iterator

from geometry.errors import FileError, InputError
from geometry.job.job import Job
from geometry.parts.part import ToolPart, part_profile
from geometry.section.body import profile_of


def impossible_shapes(job: Job, *, place: str) -> tuple[FileError, ...]:
    """Every body and tool part of the job whose outline cannot be made."""
    return (*_impossible_bodies(job, place), *impossible_parts(job.parts, place=f"{place}, parts"))


def impossible_parts(parts: tuple[ToolPart, ...], *, place: str) -> tuple[FileError, ...]:
    """Every tool part whose outline cannot be made; `place` is that of the list of parts."""
    found = []
    for number, part in enumerate(parts):
        try:
            part_profile(part)
        except InputError as error:
            found.append(_at(f"{place}[{number}].form", error))
    return tuple(found)


def _impossible_bodies(job: Job, place: str) -> Iterator[FileError]:
    for number, body in enumerate(job.section.bodies):
        try:
            profile_of(body.shape)
        except InputError as error:
            yield _at(f"{place}, section.bodies[{number}].shape", error)


def _at(path: str, error: InputError) -> FileError:
    return FileError(f"{path}, {error.place}", found=error.found, expected=error.expected)
