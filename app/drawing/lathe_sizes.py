"""What is dimensioned on the lathe drawing of a part: each diameter and length once, no closed chain."""

from app.drawing.drawn_sizes import sizes_of_drawn
from app.drawing.thread_callout import callout_of, known_thread
from app.drawing.turned_sizes import SAME_MM, Diameter, Length, Sizes
from geometry.parts.forms import (
    ACROSS_CORNERS,
    Drawn,
    Flanged,
    Handle,
    Hollow,
    Nut,
    Relieved,
    Ring,
    Rod,
    StopDrift,
    Toe,
    turned_from,
)
from geometry.parts.part import ToolPart
from geometry.section.body import profile_of


def sizes_of(part: ToolPart) -> Sizes:
    """What is turned for a part, and what its drawing says of it."""
    form = part.form
    if isinstance(form, Drawn):
        return sizes_of_drawn(form)
    found = _of_form(form)
    diameters = tuple(one for one in found.diameters if one.diameter_mm > SAME_MM)
    lengths = _each_once(found.lengths)
    if part.partial:  # a half-shell has no lower half
        diameters = tuple(_as_hidden_below(one) for one in diameters)
        lengths = tuple(Length(one.field, one.from_z_mm, one.to_z_mm, True, one.auxiliary) for one in lengths)
    return Sizes(found.profile, diameters, lengths)


def _each_once(lengths: tuple[Length, ...]) -> tuple[Length, ...]:
    """Lengths without what is no length, and of those between the same planes on one side the first."""
    spans = {(round(one.from_z_mm, 4), round(one.to_z_mm, 4), one.above): one for one in reversed(lengths)}
    return tuple(one for one in lengths if one.length_mm > SAME_MM and any(one is kept for kept in spans.values()))


def _of_form(form: object) -> Sizes:
    match form:
        case Rod():
            return _rod(form)
        case Nut():
            return _nut(form)
        case Handle():
            return _handle(form)
        case Ring():
            return _ring(form)
        case Flanged():
            return _flanged(form)
        case Relieved():
            return _relieved(form)
        case Hollow():
            return _hollow(form)
        case StopDrift():
            return _stop_drift(form)
        case Toe():
            return _toe(form)
    raise AssertionError(f"no lathe drawing of {type(form).__name__}")


def _rod(form: Rod) -> Sizes:
    length, each = form.length_mm, form.threaded_mm
    is_through = each is None or 2 * each >= length
    right = 0.0 if is_through or each is None else length - each
    diameters = [Diameter("thread", form.diameter_mm, right, length, callout=callout_of(form.thread, inside=False))]
    lengths = [Length("length_mm", 0.0, length)]
    if not is_through and each is not None:
        diameters.append(Diameter("diameter_mm", form.diameter_mm, each, length - each))
        lengths.append(Length("threaded_mm", right, length, suffix=" (both ends)"))
    return Sizes(profile_of(form.shape()), tuple(diameters), tuple(lengths))


def _nut(form: Nut) -> Sizes:
    bore = minor_mm(form.thread, form.bore_mm)
    shape = turned_from((0.0, form.length_mm, form.across_flats_mm * ACROSS_CORNERS, bore))
    thread_ = _inner_thread(form.thread, form.bore_mm, form.length_mm)
    return Sizes(profile_of(shape), (thread_,), (Length("length_mm", 0.0, form.length_mm),))


def _handle(form: Handle) -> Sizes:
    """Its hub; crossbar or knob are the maker's, within the swing."""
    bore = minor_mm(form.thread, form.bore_mm)
    bar = form.length_mm - form.hub_length_mm
    return Sizes(
        profile_of(turned_from((0.0, form.length_mm, form.hub_mm, bore))),
        (
            Diameter("hub_mm", form.hub_mm, bar, form.length_mm),
            _inner_thread(form.thread, form.bore_mm, form.length_mm),
            Diameter("swing_mm", form.swing_mm, 0.0, bar, auxiliary=True),
        ),
        (Length("hub_length_mm", bar, form.length_mm), Length("length_mm", 0.0, form.length_mm)),
    )


def _inner_thread(name: str, bore_mm: float, length_mm: float) -> Diameter:
    """Called out at its root (ISO 6410-1)."""
    known = known_thread(name)
    root = known.major_mm if known is not None else bore_mm
    return Diameter("thread", root, 0.0, length_mm, True, True, callout_of(name, inside=True))


def minor_mm(thread_name: str, bore_mm: float) -> float:
    """Core of an internal thread; of one beyond the table the bore as drawn."""
    known = known_thread(thread_name)
    return known.nut_minor_mm if known is not None else bore_mm


def _ring(form: Ring) -> Sizes:
    end = form.length_mm
    diameters = (
        Diameter("outside_mm", form.outside_mm, 0.0, end),
        Diameter("bore_mm", form.bore_mm, 0.0, end, True, True),
    )
    return Sizes(profile_of(form.shape()), diameters, (Length("length_mm", 0.0, end),))


def _flanged(form: Flanged) -> Sizes:
    step = form.flange_length_mm
    end = step + form.pilot_length_mm
    diameters = (
        Diameter("flange_mm", form.flange_mm, 0.0, step),
        Diameter("pilot_mm", form.pilot_mm, step, end),
        Diameter("bore_mm", form.bore_mm, 0.0, end, True, True),
    )
    lengths = (Length("flange_length_mm", 0.0, step), Length("pilot_length_mm", step, end), *_total(end, step))
    return Sizes(profile_of(form.shape()), diameters, lengths)


def _relieved(form: Relieved) -> Sizes:
    floor, rim = form.body_length_mm, form.body_length_mm + form.relief_mm
    pilot = floor + (form.pilot_length_mm if form.pilot_mm else 0.0)
    end = max(rim, pilot)
    diameters = (
        Diameter("rim_outside_mm", form.rim_outside_mm, 0.0, rim),
        Diameter("rim_inside_mm", form.rim_inside_mm if form.relief_mm else 0.0, floor, rim, True, True),
        Diameter("pilot_mm", form.pilot_mm, floor, pilot, hidden_below=pilot <= rim),
        Diameter("bore_mm", form.bore_mm, 0.0, max(floor, pilot), True, True),
    )
    lengths = (
        Length("body_length_mm", 0.0, floor, True),
        Length("relief_mm", floor, rim, True),
        Length("pilot_length_mm", floor, pilot, True),
        *_total(end, floor),
    )
    return Sizes(profile_of(form.shape()), diameters, lengths)


def _hollow(form: Hollow) -> Sizes:
    floor, end = form.floor_mm, form.floor_mm + form.depth_mm
    diameters = (
        Diameter("outside_mm", form.outside_mm, 0.0, end),
        Diameter("inside_mm", form.inside_mm, floor, end, True, True),
        Diameter("bore_mm", form.bore_mm, 0.0, floor, True, True),
    )
    lengths = (Length("floor_mm", 0.0, floor, True), Length("depth_mm", floor, end, True), *_total(end, floor))
    return Sizes(profile_of(form.shape()), diameters, lengths)


def _stop_drift(form: StopDrift) -> Sizes:
    flange, end = form.flange_length_mm, form.flange_length_mm + form.reach_mm
    diameters = [
        Diameter("flange_mm", form.flange_mm, 0.0, flange),
        Diameter("face_outside_mm", form.face_outside_mm, flange, end),
        Diameter("bore_mm", form.bore_mm, 0.0, flange, True, True),
    ]
    lengths = [Length("flange_length_mm", 0.0, flange), Length("reach_mm", flange, end), *_total(end, flange)]
    if abs(form.face_inside_mm - form.bore_mm) > SAME_MM:
        diameters.append(Diameter("face_inside_mm", form.face_inside_mm, flange, end, True, True))
        lengths.append(Length("recess", flange, end, True, True))
    return Sizes(profile_of(form.shape()), tuple(diameters), tuple(lengths))


def _toe(form: Toe) -> Sizes:
    step, end = form.length_mm - form.toe_length_mm, form.length_mm
    is_round = form.arc_deg >= 360.0 - SAME_MM
    diameters = (
        Diameter("shank_mm", form.shank_mm, 0.0, step),
        Diameter("toe_outside_mm", form.toe_outside_mm, step, end, hidden_below=not is_round),
        Diameter("bore_mm", form.bore_mm, 0.0, end, True, True),
    )
    lengths = (Length("toe_length_mm", step, end, True), Length("length_mm", 0.0, end, True))
    return Sizes(profile_of(form.shape()), diameters, lengths)


def _total(end: float, step: float) -> tuple[Length, ...]:
    """The whole length in brackets, unless it is one of the others."""
    return (Length("total", 0.0, end, auxiliary=True),) if SAME_MM < step < end - SAME_MM else ()


def _as_hidden_below(one: Diameter) -> Diameter:
    return Diameter(one.field, one.diameter_mm, one.from_z_mm, one.to_z_mm, one.inside, True, one.callout)
