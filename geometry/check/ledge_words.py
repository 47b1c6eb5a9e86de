"""A ledge and the toe on it in sentences, each with where its figure comes from; the same in window and sheet."""

from geometry.check.result import LedgeView, ToeFit
from geometry.check.wording import mm, name_of, newtons
from geometry.record import Derived

CRESCENT = "circles seen along the axis: what the spacer pushed aside leaves bare (own geometry)"
FACES = "allowable on a face: facts/materials.csv"
OFF_AXIS = "largest ball load of a pull off the axis: at most 1 + 4 e / dm times the even one (own bound)"
TILT = (
    "tilt: play in the bore over the width of the ring; inside the bearing twice the axial play over dm, with the"
    " largest clearance of its group (ISO 5753; Harris and Kotzalas, memory)"
)
LEAST_TILT_DEG = 0.005
"""Less reads as none."""


class LedgeLine(Derived, frozen=True):
    """One sentence and its source."""

    text: str
    source: str


def ledge_lines(view: LedgeView) -> tuple[LedgeLine, ...]:
    """How wide and how large the ledge is, what stands on it and how hard, the pull off the axis, which toes fit."""
    return (
        LedgeLine(_ledge(view), CRESCENT),
        LedgeLine(_toe(view), FACES),
        *((LedgeLine(_pull(view), OFF_AXIS), LedgeLine(_tilt(view), TILT)) if view.toe_area_mm2 > 0.0 else ()),
        *(LedgeLine(text, FACES) for text in _toes(view.toes)),
    )


def _ledge(view: LedgeView) -> str:
    room = f", of {mm(view.room_mm)} mm possible" if view.room_mm is not None else ""
    held = f"{name_of(view.spacer)} held {mm(view.aside_mm)} mm aside{room}"
    if view.width_mm <= 0.0:
        return f"No ledge on the {name_of(view.ring)}: {held} leaves no face bare."
    least = f" (at least {mm(view.least_width_mm)} mm)" if mm(view.least_width_mm) != mm(view.width_mm) else ""
    return f"Ledge on the {name_of(view.ring)}: {mm(view.width_mm)} mm wide{least}, {view.area_mm2:.1f} mm²; {held}."


def _toe(view: LedgeView) -> str:
    if view.pressure_mpa is None:
        return f"{name_of(view.tool)} finds nothing to stand on."
    bears = f"the ring bears {view.ring_bears_mpa:.0f}"
    if view.toe_bears_mpa is not None:
        bears = f"{bears}, the toe {view.toe_bears_mpa:.0f}"
    return (
        f"{name_of(view.tool)} covers {view.toe_area_mm2:.1f} mm² of it: {newtons(view.force_n)} press"
        f" {view.pressure_mpa:.0f} MPa; {bears}."
    )


def _pull(view: LedgeView) -> str:
    return (
        f"The pull is {view.off_axis_mm:.1f} mm off the axis: {view.moment_nm:.2g} Nm tilt the bearing, and its worst"
        f" ball carries up to {view.ball_factor:.1f} times an even share."
    )


def _tilt(view: LedgeView) -> str:
    if view.tilt_deg < LEAST_TILT_DEG:
        bore = "Tight in its bore, the bearing stays square there (what the fit gives is left out)"
    else:
        bore = f"In its bore the bearing can tilt by {view.tilt_deg:.2f}°"
    if view.inner_tilt_deg is None:
        return f"{bore}; the play inside the bearing is not known and left out."
    return f"{bore}; inside it the inner ring can tilt by {view.inner_tilt_deg:.2f}° more, until its balls touch."


def _toes(toes: tuple[ToeFit, ...]) -> tuple[str, ...]:
    fitting = [f"{one.part} ({one.words})" for one in toes if one.fits]
    others = [f"{one.part} ({one.words})" for one in toes if not one.fits]
    if not toes:
        return ()
    return (
        f"Toe drifts that fit here: {', '.join(fitting) or 'none'}.",
        *((f"Not: {', '.join(others)}.",) if others else ()),
    )
