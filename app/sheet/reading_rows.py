"""Rows of a reading sheet: the lines with their numbers, put together by what one has in the hand."""

from collections.abc import Iterator

from geometry.job.job import Job
from geometry.job.links import PLACE
from geometry.job.quantities import surfaces
from geometry.job.worksheet import Jaws, jaws, needed_for, worksheet_for
from geometry.readings.readings import Line
from geometry.record import Derived
from geometry.section.bearing import measures
from geometry.section.section import Section

ACROSS = ""
"""Group of what is measured from one thing to another."""
BORE_SHARE, OUTSIDE_SHARE = 0.35, 0.65
"""Where along a surface its mark stands: bores and outsides of the same length beside each other."""


class Row(Derived, frozen=True):
    """One line of the sheet; numbers count from 1 in the order of measuring."""

    number: int
    line: Line
    words: str
    """The title without the name of the group."""
    first_step: int | None
    """The first step that needs it, counted from 1; None: no step does."""
    jaws: Jaws | None


class Group(Derived, frozen=True):
    """The rows of one body or bearing, or of what lies between several."""

    of: str
    title: str
    rows: tuple[Row, ...]
    designation: str = ""
    """Of a bearing."""


def reading_rows(job: Job) -> tuple[Row, ...]:
    """Every line of the sheet in its order."""
    lines = worksheet_for(job.section) if job.readings is None else job.readings.lines
    first: dict[str, int] = {}
    for step in range(len(job.steps)):
        for line in needed_for(job, step):
            first.setdefault(line, step + 1)
    return tuple(
        Row(number, line, _words(job.section, line), first.get(line.id), _marked(job.section, line))
        for number, line in enumerate(lines, start=1)
    )


def reading_groups(job: Job) -> tuple[Group, ...]:
    """The rows by what they are measured on, in the order in which the sheet comes to it."""
    rows: dict[str, list[Row]] = {}
    for row in reading_rows(job):
        rows.setdefault(_group_of(job.section, row.line), []).append(row)
    return tuple(_group(job.section, of, tuple(found)) for of, found in rows.items())


def _group(section: Section, of: str, rows: tuple[Row, ...]) -> Group:
    bearing = next((one for one in section.bearings if one.id == of), None)
    if bearing is not None:
        return Group(of, f"Bearing {of}", rows, bearing.designation)
    return Group(of, "Across several parts" if of == ACROSS else section.body(of).title, rows)


def _group_of(section: Section, line: Line) -> str:
    known = {one.id for one in (*section.bodies, *section.bearings)}
    ids = {term.quantity.partition(".")[0] for term in line.terms}
    is_place = any(term.quantity.endswith(f".{PLACE}") for term in line.terms)
    return ids.pop() if len(ids) == 1 and ids <= known and not is_place else ACROSS


def _words(section: Section, line: Line) -> str:
    of = _group_of(section, line)
    titles = [body.title for body in section.bodies if body.id == of] + [f"Bearing {of}"]
    for title in titles:
        if of != ACROSS and line.title.startswith(f"{title}: "):
            words = line.title[len(title) + 2 :]
            return words[:1].upper() + words[1:]
    return line.title


def _marked(section: Section, line: Line) -> Jaws | None:
    """Where the instrument goes; None for a line of the user's own that no quantity of the section explains."""
    known = {one.id for one in (*section.bodies, *section.bearings)}
    if any(term.quantity.partition(".")[0] not in known for term in line.terms):
        return None
    found = jaws(section, line)
    if found is None or found.to_diameter_mm != -found.from_diameter_mm:
        return found
    z0, z1 = next(_surface_ends(section, line), (found.from_z_mm, found.to_z_mm))
    z_mm = z0 + (BORE_SHARE if line.form == "bore" else OUTSIDE_SHARE) * (z1 - z0)
    return Jaws(found.of, found.instrument, z_mm, found.from_diameter_mm, z_mm, found.to_diameter_mm)


def _surface_ends(section: Section, line: Line) -> Iterator[tuple[float, float]]:
    of, _, short = line.terms[0].quantity.partition(".")
    for body in section.bodies:
        if body.id == of and not body.shape.outlines:
            found = (one for one in surfaces(body) if one.name == line.terms[0].quantity)
            yield from ((one.from_z_mm, one.to_z_mm) for one in found)
    for bearing in section.bearings:
        if bearing.id == of and short in ("bore", "outside"):
            m = measures(bearing)
            inner, outer = (m.inner_from_z_mm, m.inner_to_z_mm), (m.outer_from_z_mm, m.outer_to_z_mm)
            yield inner if short == "bore" else outer
