"""Parametric forms of tool parts; local z from 0 to the length, the high-z end faces the work."""

from math import sqrt
from typing import Literal

from geometry.section.body import Record, Shape, Slice, require_length

ACROSS_CORNERS = 2 / sqrt(3)
"""Across corners of a hexagon over its width across flats."""


class Form(Record, frozen=True, tag_field="form"):
    """Base of the forms; each knows the solid that it is turned to."""

    def __post_init__(self) -> None:
        for name in self.__struct_fields__:
            value = getattr(self, name)
            if isinstance(value, int | float) and not isinstance(value, bool):
                require_length(name, float(value))
        self.shape()

    def shape(self) -> Shape:
        raise NotImplementedError


def turned_from(*slices: tuple[float, float, float, float]) -> Shape:
    """A shape from (from_z, to_z, outside, bore) [mm]; slices without length are left out."""
    return Shape(slices=tuple(Slice(*slice_) for slice_ in slices if slice_[1] - slice_[0] > 1e-9))


class Rod(Form, frozen=True, tag="rod"):
    """Threaded rod: thread over `threaded_mm` at each end, over the whole length when left out."""

    thread: str
    length_mm: float
    diameter_mm: float
    threaded_mm: float | None = None
    property_class: str = "4.6"

    def shape(self) -> Shape:
        return turned_from((0.0, self.length_mm, self.diameter_mm, 0.0))


class Nut(Form, frozen=True, tag="nut"):
    """Hexagon nut, drawn over its corners; a slip nut goes on without turning."""

    thread: str
    length_mm: float
    across_flats_mm: float
    bore_mm: float
    slip: bool = False

    def shape(self) -> Shape:
        return turned_from((0.0, self.length_mm, self.across_flats_mm * ACROSS_CORNERS, self.bore_mm))


class Handle(Form, frozen=True, tag="handle"):
    """A driving nut with a crossbar or knob, drawn over its swing."""

    thread: str
    length_mm: float
    swing_mm: float
    hub_mm: float
    bore_mm: float
    hub_length_mm: float

    def __post_init__(self) -> None:
        if self.hub_length_mm > self.length_mm:
            raise ValueError(f"hub_length_mm {self.hub_length_mm:g} must not exceed length_mm {self.length_mm:g}")
        Form.__post_init__(self)

    def shape(self) -> Shape:
        return turned_from(
            (0.0, self.length_mm - self.hub_length_mm, self.swing_mm, self.bore_mm),
            (self.length_mm - self.hub_length_mm, self.length_mm, self.hub_mm, self.bore_mm),
        )


class Ring(Form, frozen=True, tag="ring"):
    """A plain ring: washer, thrust bearing, O-ring, backing ring, tube, plain long guide or plate."""

    outside_mm: float
    bore_mm: float
    length_mm: float

    def shape(self) -> Shape:
        return turned_from((0.0, self.length_mm, self.outside_mm, self.bore_mm))


class Flanged(Form, frozen=True, tag="flanged"):
    """A plug with a flange away from the work: flanged guide, pilot drift for an inner ring.

    flange  |____
    ________|    pilot   -> work
    """

    flange_mm: float
    flange_length_mm: float
    pilot_mm: float
    pilot_length_mm: float
    bore_mm: float

    def shape(self) -> Shape:
        step = self.flange_length_mm
        return turned_from(
            (0.0, step, self.flange_mm, self.bore_mm),
            (step, step + self.pilot_length_mm, self.pilot_mm, self.bore_mm),
        )


class Relieved(Form, frozen=True, tag="relieved"):
    """Stepped drift: a rim for the outer ring, a relief that clears the inner ring, a pilot in its bore.

    `body_length_mm` reaches to the floor of the relief; the pilot (0: none) starts at that floor.
    """

    rim_outside_mm: float
    rim_inside_mm: float
    relief_mm: float
    body_length_mm: float
    bore_mm: float
    pilot_mm: float = 0.0
    pilot_length_mm: float = 0.0

    def __post_init__(self) -> None:
        if self.relief_mm and self.pilot_mm >= self.rim_inside_mm:
            raise ValueError(f"pilot_mm {self.pilot_mm:g} must be less than rim_inside_mm {self.rim_inside_mm:g}")
        Form.__post_init__(self)

    def shape(self) -> Shape:
        floor = self.body_length_mm
        pilot = [(floor, floor + self.pilot_length_mm, self.pilot_mm, self.bore_mm)] if self.pilot_mm else []
        return turned_from(
            (0.0, floor, self.rim_outside_mm, self.bore_mm),
            (floor, floor + self.relief_mm, self.rim_outside_mm, self.rim_inside_mm),
            *pilot,
        )


class Hollow(Form, frozen=True, tag="hollow"):
    """A pot open towards the work: cup, deep hollow drift, depth stop over a ring."""

    outside_mm: float
    inside_mm: float
    depth_mm: float
    floor_mm: float
    bore_mm: float

    def shape(self) -> Shape:
        floor = self.floor_mm
        return turned_from(
            (0.0, floor, self.outside_mm, self.bore_mm),
            (floor, floor + self.depth_mm, self.outside_mm, self.inside_mm),
        )


class StopDrift(Form, frozen=True, tag="stop drift"):
    """Depth stop: a face that reaches `reach_mm` into the bore before its flange meets the housing."""

    flange_mm: float
    flange_length_mm: float
    face_outside_mm: float
    face_inside_mm: float
    reach_mm: float
    bore_mm: float

    def shape(self) -> Shape:
        flange = self.flange_length_mm
        return turned_from(
            (0.0, flange, self.flange_mm, self.bore_mm),
            (flange, flange + self.reach_mm, self.face_outside_mm, self.face_inside_mm),
        )


class Toe(Form, frozen=True, tag="toe"):
    """Toe drift: hooks a ledge from one side over `arc_deg`; drawn in section on the hooked side."""

    toe_outside_mm: float
    toe_length_mm: float
    shank_mm: float
    length_mm: float
    bore_mm: float
    arc_deg: float = 180.0

    def __post_init__(self) -> None:
        if self.toe_length_mm > self.length_mm:
            raise ValueError(f"toe_length_mm {self.toe_length_mm:g} must not exceed length_mm {self.length_mm:g}")
        if not 0.0 < self.arc_deg <= 360.0:
            raise ValueError(f"arc_deg {self.arc_deg:g} must lie between 0 and 360")
        Form.__post_init__(self)

    def shape(self) -> Shape:
        step = self.length_mm - self.toe_length_mm
        return turned_from(
            (0.0, step, self.shank_mm, self.bore_mm),
            (step, self.length_mm, self.toe_outside_mm, self.bore_mm),
        )


class Drawn(Form, frozen=True, tag="drawn"):
    """Any solid, drawn freely."""

    drawn: Shape
    thread: str | None = None

    def shape(self) -> Shape:
        return self.drawn


AnyForm = Rod | Nut | Handle | Ring | Flanged | Relieved | Hollow | StopDrift | Toe | Drawn
Kind = Literal[
    "rod", "driving nut", "standing nut", "slip nut", "nut", "handle", "washer", "thrust bearing", "O-ring",
    "drift", "toe drift", "keeper", "cup", "plate", "guide", "tube", "depth stop",
]  # fmt: skip
