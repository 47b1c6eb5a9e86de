"""Instruments: what each reads, how finely, how well, and what its readings have in common."""

from functools import cache
from math import sqrt
from typing import Literal, get_args

from geometry.facts.table import Row, number, rows_of
from geometry.record import Derived, Record

InstrumentKind = Literal[
    "outside jaws", "inside jaws", "depth blade", "micrometer", "depth micrometer", "bore gauge", "gauge pin"
]
Form = Literal["length", "depth", "outside", "bore"]
"""What a line measures: between two faces that jaws can span, from a face down to another that looks the same way,
across an outside diameter, or across a bore."""

CALIPER = "caliper"
LARGEST_MM = 10.0  # no instrument of a workshop is coarser


class Instrument(Record, frozen=True):
    """One way to measure with one tool. What is left out is as usual for its kind (facts/instruments.csv)."""

    id: str
    kind: InstrumentKind
    tool: str = ""
    """The thing in the hand: jaws and blade of one caliper share its zero and scale error. Left out: the id."""
    resolution_mm: float | None = None
    permissible_mm: float | None = None
    """Permissible error at short lengths, half-width."""
    repeat_sd_mm: float | None = None
    """Standard deviation of single readings of the same thing by the same hand."""
    jaw_flat_mm: float | None = None
    """Width of the flats on the edges of inside jaws."""

    def __post_init__(self) -> None:
        if not self.id:
            raise ValueError("id '' must not be empty")
        for name in ("resolution_mm", "permissible_mm", "repeat_sd_mm", "jaw_flat_mm"):
            value = getattr(self, name)
            if value is not None and not 0.0 <= value <= LARGEST_MM:
                raise ValueError(f"{name} {value:g} must lie between 0 and {LARGEST_MM:g}")
        if self.resolution_mm == 0.0 and self.repeat_sd_mm == 0.0:
            raise ValueError("resolution_mm 0 and repeat_sd_mm 0 must not go together: nothing reads exactly")


class Traits(Derived, frozen=True):
    """All that is known of an instrument, its own figures before those of its kind [mm]."""

    title: str
    tool: str
    kind: InstrumentKind
    resolution_mm: float
    permissible_mm: float
    permissible_per_m_mm: float
    shift_mm: float
    """What the permissible error of these jaws or this blade is more than that of the tool's outside jaws."""
    repeat_sd_mm: float
    jaw_flat_mm: float
    measures: tuple[Form, ...]
    source: str
    certainty: str


class Shared(Derived, frozen=True):
    """An error that several readings have in common: each is off by `sensitivity` times it."""

    cause: str
    sensitivity: float
    uncertainty: float
    """Standard uncertainty of the error: [mm], or [-] where the sensitivity is a length."""


USUAL_INSTRUMENTS = (
    Instrument(id="outside jaws", kind="outside jaws", tool=CALIPER),
    Instrument(id="inside jaws", kind="inside jaws", tool=CALIPER),
    Instrument(id="depth blade", kind="depth blade", tool=CALIPER),
    Instrument(id="micrometer", kind="micrometer"),
    Instrument(id="depth micrometer", kind="depth micrometer"),
    Instrument(id="bore gauge", kind="bore gauge"),
    Instrument(id="gauge pin", kind="gauge pin"),
)
"""Known without being listed in a job: one caliper, and the finer tools of a workshop."""


def traits(instrument: Instrument) -> Traits:
    """The figures of an instrument, its own or those usual for its kind."""
    row = _row(instrument.kind)

    def own_or_usual(name: str) -> float:
        own: float | None = getattr(instrument, name)
        return own if own is not None else number(row, name) or 0.0

    return Traits(
        title=row["title"],
        tool=instrument.tool or instrument.id,
        kind=instrument.kind,
        resolution_mm=own_or_usual("resolution_mm"),
        permissible_mm=own_or_usual("permissible_mm"),
        permissible_per_m_mm=number(row, "permissible_per_m_mm") or 0.0,
        shift_mm=number(row, "shift_mm") or 0.0,
        repeat_sd_mm=own_or_usual("repeat_sd_mm"),
        jaw_flat_mm=own_or_usual("jaw_flat_mm"),
        measures=tuple(form for form in get_args(Form) if form in row["measures"].split()),
        source=row["source"],
        certainty=row["certainty"],
    )


def shared_errors(instrument: Instrument, *, read_mm: float, form: Form) -> tuple[Shared, ...]:
    """What a reading has in common with others of the same tool: zero, scale, shift and flats of the jaws.

    Limits without more knowledge are rectangular: u = a / sqrt 3. The shift of inside jaws and blade is what
    brings the whole to their own, wider limit.

    References
    ----------
    [jcgm-100] 4.3.7
    """
    has = traits(instrument)
    found = [
        Shared(f"zero of the {has.tool}", 1.0, has.permissible_mm / sqrt(3)),
        Shared(f"scale of the {has.tool}", read_mm, has.permissible_per_m_mm / 1000.0 / sqrt(3)),
    ]
    if has.shift_mm:
        whole, zero = has.permissible_mm + has.shift_mm, has.permissible_mm
        found.append(Shared(f"shift of the {has.kind} of the {has.tool}", 1.0, sqrt(whole**2 - zero**2) / sqrt(3)))
    if form == "bore" and has.jaw_flat_mm and read_mm > 0.0:
        sensitivity = has.jaw_flat_mm / _bore_from_chord_mm(read_mm, has.jaw_flat_mm)
        found.append(Shared(f"jaw flats of the {has.tool}", sensitivity, has.jaw_flat_mm / 2 / sqrt(3)))
    return tuple(one for one in found if one.uncertainty > 0.0 and one.sensitivity != 0.0)


def flats_correction_mm(instrument: Instrument, *, read_mm: float, form: Form) -> float:
    """What inside jaws read too little in a bore, because their flats lie on a chord of it [mm].

    The flats touch the bore at their edges: read² = D² - f², so D - read = D - sqrt(D² - f²), about f²/2D.
    Nothing for anything but a bore. The width of worn or rounded flats is known to half of itself at best
    (common practice), so `shared_errors` doubts the correction by its own size, rectangular.
    """
    flat = traits(instrument).jaw_flat_mm
    if form != "bore" or flat == 0.0 or read_mm <= 0.0:
        return 0.0
    return _bore_from_chord_mm(read_mm, flat) - read_mm


def _bore_from_chord_mm(read_mm: float, flat_mm: float) -> float:
    return sqrt(read_mm**2 + flat_mm**2)


@cache
def _row(kind: InstrumentKind) -> Row:
    return next(row for row in rows_of("instruments") if row["kind"] == kind)
