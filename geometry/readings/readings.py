"""Readings: the lines of a reading sheet, and exactly what was typed on them."""

from typing import Literal

from geometry.readings.instrument import USUAL_INSTRUMENTS, Form, Instrument
from geometry.record import Record

Unit = Literal["mm", "in"]
LONGEST_TYPED = 200  # characters; a line of repeats, not a page


class Term(Record, frozen=True):
    """One quantity of a line and how often it counts: 1, or -1 where it is taken off."""

    quantity: str
    factor: float = 1.0


class Line(Record, frozen=True):
    """One line of the sheet: what the instrument spans, as a sum of quantities."""

    id: str
    title: str
    terms: tuple[Term, ...]
    instrument: str
    """Instrument that the sheet proposes."""
    form: Form = "length"
    note: str = ""
    """How to hold the instrument, or where."""

    def __post_init__(self) -> None:
        if not self.id:
            raise ValueError("id '' must not be empty")
        names = [term.quantity for term in self.terms]
        if not names:
            raise ValueError(f"line '{self.id}' measures nothing")
        for term in self.terms:
            if names.count(term.quantity) > 1:
                raise ValueError(f"line '{self.id}': quantity '{term.quantity}' is used twice")
            if not 0.0 < abs(term.factor) <= 100.0:
                raise ValueError(f"line '{self.id}': factor {term.factor:g} must lie between -100 and 100, not 0")


class Reading(Record, frozen=True):
    """What was read on one line, with one instrument, as it was typed."""

    line: str
    typed: str
    """Kept as typed: '15.02 15.03 15.01', '15,02±0,05', '19/32"'."""
    instrument: str | None = None
    """Left out: the one that the line proposes."""
    who: str = ""
    when: str = ""
    set_aside: str = ""
    """Why this reading is not used; empty: it is."""
    meant: bool = False
    """The user has said that the value is meant although it looks like inches, a radius or ten times off."""

    def __post_init__(self) -> None:
        if len(self.typed) > LONGEST_TYPED:
            raise ValueError(f"a typed reading of {len(self.typed)} characters must have at most {LONGEST_TYPED}")


class Readings(Record, frozen=True):
    """All lines and readings of one assembly."""

    lines: tuple[Line, ...] = ()
    readings: tuple[Reading, ...] = ()
    instruments: tuple[Instrument, ...] = ()
    """The user's own; those of `USUAL_INSTRUMENTS` are known besides, and replaced by one of the same id."""
    unit: Unit = "mm"
    """What a number without a unit means."""

    def __post_init__(self) -> None:
        lines = [line.id for line in self.lines]
        own = [instrument.id for instrument in self.instruments]
        for names in (lines, own):
            for one in names:
                if names.count(one) > 1:
                    raise ValueError(f"id '{one}' is used twice")
        known = {*own, *(usual.id for usual in USUAL_INSTRUMENTS)}
        for reading in self.readings:
            if reading.line not in lines:
                raise ValueError(f"line '{reading.line}' is not known (known: {', '.join(lines) or 'none'})")
        used = (*(line.instrument for line in self.lines), *(reading.instrument for reading in self.readings))
        for name in used:
            if name is not None and name not in known:
                raise ValueError(f"instrument '{name}' is not known (known: {', '.join(sorted(known))})")

    def line(self, id: str) -> Line:
        return next(line for line in self.lines if line.id == id)

    def instrument(self, id: str) -> Instrument:
        return next(one for one in self.all_instruments() if one.id == id)

    def all_instruments(self) -> tuple[Instrument, ...]:
        """The user's own, then the usual ones that are not replaced."""
        own = {one.id for one in self.instruments}
        return (*self.instruments, *(usual for usual in USUAL_INSTRUMENTS if usual.id not in own))

    def instrument_of(self, reading: Reading) -> Instrument:
        """The one that was used: as the reading says, else as its line proposes."""
        return self.instrument(reading.instrument or self.line(reading.line).instrument)

    def read_on(self, line: str) -> tuple[Reading, ...]:
        """The readings of one line that are used."""
        return tuple(one for one in self.readings if one.line == line and not one.set_aside)
