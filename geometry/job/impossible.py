"""Impossible: which sizes no section can have, in words of the bench, and the readings to look at."""

from collections.abc import Iterator, Mapping

from msgspec.structs import replace

from geometry.errors import InputError
from geometry.job.following import walls_of
from geometry.job.naming import quantities_of
from geometry.job.quantities import stations_mm
from geometry.job.rebuilding import BEARING_FIELDS
from geometry.readings.fit import Fit
from geometry.readings.readings import Line, Readings
from geometry.record import Derived
from geometry.section.bearing import Bearing
from geometry.section.body import Body
from geometry.section.section import Section
from geometry.units import format_mm


class ImpossibleSizesError(InputError):
    """Sizes that make no section; `lines` are those of the sheet to look at, the likeliest first."""

    def __init__(self, place: str, *, found: str, expected: str, lines: tuple[Line, ...]) -> None:
        look = "; ".join(line.title for line in lines)
        super().__init__(place, found=found, expected=f"{expected}. Look at: {look}" if look else expected)
        self.lines = lines


class _Sizes(Derived, frozen=True):
    """The sizes that make no section, with their words and the readings that they come from."""

    section: Section
    fitted: Fit
    readings: Readings
    values_mm: Mapping[str, float]

    def is_read(self, name: str) -> bool:
        return self.fitted.is_determined({name: 1.0})

    def figure(self, name: str) -> str:
        """`17.01 mm`, and whether somebody read it."""
        note = "" if self.is_read(name) else " (not read)"
        return f"{format_mm(round(self.values_mm[name], 3))} mm{note}"

    def words(self, name: str) -> str:
        """`shoulder of the left seat` for the length from the left end to it."""
        title = next(one.title for one in quantities_of(self.section) if one.name == name)
        return title.partition(": ")[2].removeprefix("left end to ").replace("overall length", "right end")

    def lines(self, *names: str) -> tuple[Line, ...]:
        """Those where something was read that these sizes come from; where nothing was, all that measure them."""
        having = [
            line for line in self.readings.lines if not {term.quantity for term in line.terms}.isdisjoint(names)
        ]
        having.sort(key=lambda line: len(line.terms))
        read = {one.line for one in self.readings.readings if one.typed.strip() and not one.set_aside}
        return tuple(line for line in having if line.id in read) or tuple(having)


def impossible_sizes(
    section: Section, fitted: Fit, readings: Readings, *, closed_mm: Mapping[str, float], error: Exception
) -> ImpossibleSizesError:
    """What is wrong with sizes that make no section.

    Parameters
    ----------
    section
        As drawn.
    fitted
        All its quantities by the readings.
    closed_mm
        The same with gaps closed that cannot be told from touching.
    error
        What refused them; told where nothing better can be said.
    """
    as_read = dict(zip(fitted.names, (float(value) for value in fitted.values_mm), strict=True))
    for values_mm in (as_read, closed_mm):
        found = next(_wrong(_Sizes(section, fitted, readings, values_mm)), None)
        if found is not None:
            return found
    if isinstance(error, InputError):
        return ImpossibleSizesError(error.place, found=error.found, expected=error.expected, lines=())
    return ImpossibleSizesError("Readings", found=str(error), expected="sizes that make a section", lines=())


def _wrong(sizes: _Sizes) -> Iterator[ImpossibleSizesError]:
    for body in sizes.section.bodies:
        names = [f"{body.id}.z{station}" for station in range(1, len(stations_mm(body)))]
        yield from _wrong_lengths(sizes, body, [name for name in names if sizes.is_read(name)])
        yield from _wrong_lengths(sizes, body, names)
        for outside, bore in walls_of(body):
            if sizes.values_mm[bore.name] >= sizes.values_mm[outside.name]:
                pair = (f"{sizes.words(one.name)} {sizes.figure(one.name)}" for one in (bore, outside))
                yield ImpossibleSizesError(
                    body.title,
                    found=" in ".join(pair),
                    expected="a bore smaller than what is round it",
                    lines=sizes.lines(bore.name, outside.name),
                )
    for bearing in sizes.section.bearings:
        yield from _wrong_bearing(sizes, bearing)


def _wrong_lengths(sizes: _Sizes, body: Body, names: list[str]) -> Iterator[ImpossibleSizesError]:
    """Steps of a body, from left to right, that would lie the wrong way round."""
    for before, name in zip([None, *names], names, strict=False):
        if sizes.values_mm[name] > (0.0 if before is None else sizes.values_mm[before]):
            continue
        here = f"{sizes.words(name)} {sizes.figure(name)} from the left end"
        if before is None:
            yield ImpossibleSizesError(body.title, found=here, expected="more than nothing", lines=sizes.lines(name))
        else:
            yield ImpossibleSizesError(
                body.title,
                found=f"{here}, {sizes.words(before)} {sizes.figure(before)}",
                expected=f"{sizes.words(before)} to lie left of {sizes.words(name)}",
                lines=sizes.lines(name, before),
            )


def _wrong_bearing(sizes: _Sizes, bearing: Bearing) -> Iterator[ImpossibleSizesError]:
    bore, outside, width = (f"{bearing.id}.{short}" for short in ("bore", "outside", "width"))
    if sizes.values_mm[width] <= 0.0:
        yield ImpossibleSizesError(
            f"Bearing {bearing.id}", found=f"a width of {sizes.figure(width)}", expected="more than nothing",
            lines=sizes.lines(width),
        )  # fmt: skip
        return
    try:
        replace(bearing, **{field: sizes.values_mm[f"{bearing.id}.{short}"] for short, field in BEARING_FIELDS.items()})
    except ValueError:
        yield ImpossibleSizesError(
            f"Bearing {bearing.id}",
            found=f"bore {sizes.figure(bore)} and outside {sizes.figure(outside)}",
            expected="room for two rings and the balls between them",
            lines=sizes.lines(*(f"{bearing.id}.{short}" for short in BEARING_FIELDS if short != "width")),
        )
