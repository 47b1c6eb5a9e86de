"""The few figures that a mechanic reads from across the bench, in big letters."""

from app.drawing.marks import Area, Label, Mark, Stroke, box, closed
from app.look.font_metrics import text_width_mm, wrapped
from app.look.verdicts import VERDICTS
from app.sheet.instructions import NOT_COMPUTED, at_firm_stop_n, force_band_words, force_words, torque_band_words
from geometry.check.in_words import governing, share_in_words
from geometry.check.result import StepCheck
from geometry.check.wording import mm, name_of, newtons
from geometry.job.job import Step
from geometry.record import Derived

FIGURE_MM, CAPTION_MM, BESIDE_MM = 5.0, 2.5, 2.5
CELL_MM = 11.8
HOME = "Home: stop here"
TEXT_PITCH = 1.5
LONG_ROW = 4
CELL_EDGES_MM = 3.5
MOST_WANTED_MM = 60.0
"""A remark longer than this is broken over two lines."""


class KeyFigure(Derived, frozen=True):
    """A figure with what it is and what belongs beside it."""

    caption: str
    figure: str
    beside: str = ""


def key_figures(step: Step, check: StepCheck) -> tuple[KeyFigure, ...]:
    """Force, torque, travel, home, balls, rod, and what is used most of what it bears where that was judged."""
    force, force_band = force_band_words(check.force_n)
    torque, torque_band = torque_band_words(check.torque_nm)
    figures = [
        KeyFigure("Press force expected", force, force_band),
        KeyFigure("Torque at the nut", torque, torque_band),
        _travel(step, check),
        _balls(check),
        _rod(check),
    ]
    if check.strength:
        figures.append(_most_used(check))
    if step.operation == "press in":
        figures.insert(0, KeyFigure(HOME, check.home or NOT_COMPUTED))
    return tuple(figures)


def _travel(step: Step, check: StepCheck) -> KeyFigure:
    caption = f"Travel to the {step.towards}"
    if check.travel is None:
        return KeyFigure(caption, NOT_COMPUTED)
    room = check.travel.room_left_mm
    beside = "" if room is None else f"room left {mm(room)} mm" if room >= 0.0 else f"{mm(-room)} mm short"
    return KeyFigure(caption, f"{mm(check.travel.needed_mm)} mm", beside)


def _balls(check: StepCheck) -> KeyFigure:
    if not check.bearings:
        return KeyFigure("Force through balls", NOT_COMPUTED)
    loaded = [(id, forces) for id, forces in check.bearings.items() if forces.balls_n >= 1.0]
    if not loaded:
        return KeyFigure("Force through balls", "none", _at_its_end(check))
    worst_id, worst = max(loaded, key=lambda one: one[1].balls_n)
    fate = worst.fate or "fate not stated"
    margin = check.ball_margins.get(worst_id)
    rated = "" if margin is None else f", {worst.balls_n / margin.c0_n:.2f} of C0"
    at_stop_n = at_firm_stop_n(check, worst_id)
    apart = f" on the way; {newtons(at_stop_n)} at the firm stop" if at_stop_n is not None else ""
    beside = f"{worst_id} ({fate}){rated}{apart}"
    return KeyFigure("Force through balls", force_words(worst.balls_n), beside)


def _at_its_end(check: StepCheck) -> str:
    """What crosses balls only where the travel ends: at a stop, or where a spacer squeezes them."""
    curves = check.force_travel.balls_n if check.force_travel is not None else {}
    most = {id: max(forces, default=0.0) for id, forces in curves.items()}
    loaded = [f"{newtons(force)} in {id}" for id, force in most.items() if force >= 1.0]
    return f"on the way; {', '.join(loaded)} at its end" if loaded else ""


def _most_used(check: StepCheck) -> KeyFigure:
    """The governing member, and how much of it the highest force of the band would use."""
    one = governing(check)
    assert one is not None
    who = name_of(one.member)
    what = one.what if who in one.what else f"{one.what}, {who}"
    beside = f"{what}; at most {share_in_words(one.share_high)}"
    return KeyFigure("Most strained", share_in_words(one.share), beside)


def _rod(check: StepCheck) -> KeyFigure:
    if check.rod is None:
        return KeyFigure("Rod length needed", NOT_COMPUTED)
    beside = f"rod {mm(check.rod.length_mm)}, spare {mm(check.rod.spare_mm)} mm"
    return KeyFigure("Rod length needed", f"{mm(check.rod.needed_mm)} mm", beside)


def figure_rows(
    rows: tuple[tuple[KeyFigure, ...], ...], *, left_mm: float, top_mm: float, width_mm: float
) -> tuple[tuple[Mark, ...], float]:
    """Rows of figures; the marks, and the bottom of the last row."""
    marks: list[Mark] = []
    y = top_mm
    for row in rows:
        widths = _shared_width(row, width_mm)
        height = max(_cell_height(one, width) for one, width in zip(row, widths, strict=True))
        x = left_mm
        for one, width in zip(row, widths, strict=True):
            marks += _cell(one, x, y, width, height)
            x += width
        y -= height
    return tuple(marks), y


def _shared_width(row: tuple[KeyFigure, ...], width_mm: float) -> list[float]:
    """A short row shares its width evenly; in a long one each figure has room by what is to be said."""
    if len(row) < LONG_ROW:
        return [width_mm / len(row)] * len(row)
    least = [
        CELL_EDGES_MM + max(text_width_mm(one.caption, height_mm=CAPTION_MM), _figure_width_mm(one)) for one in row
    ]
    more = [
        max(CELL_EDGES_MM + min(text_width_mm(one.beside, height_mm=BESIDE_MM), MOST_WANTED_MM) - width, 0.0)
        for one, width in zip(row, least, strict=True)
    ]
    spare = width_mm - sum(least)
    given = min(1.0, max(spare, 0.0) / sum(more)) if sum(more) > 0.0 else 0.0
    left_over = (spare - given * sum(more)) / len(row)
    return [width + given * wanted + left_over for width, wanted in zip(least, more, strict=True)]


def _figure_width_mm(one: KeyFigure) -> float:
    return text_width_mm(one.figure, height_mm=FIGURE_MM, bold=True)


def in_rows(figures: tuple[KeyFigure, ...], columns: int) -> tuple[tuple[KeyFigure, ...], ...]:
    """Home, which is a sentence, over the whole width; the others so many to a row."""
    first = tuple((one,) for one in figures if one.caption == HOME)
    others = tuple(one for one in figures if one.caption != HOME)
    return first + tuple(others[start : start + columns] for start in range(0, len(others), columns))


def _lines(one: KeyFigure, width: float) -> tuple[str, ...]:
    return wrapped(one.figure, width_mm=width - 3.0, height_mm=FIGURE_MM, bold=True)


def _beside_lines(one: KeyFigure, width: float) -> tuple[str, ...]:
    """What stands below the figure, where it has no room beside it."""
    if not one.beside or _beside_fits(one, width):
        return ()
    return wrapped(one.beside, width_mm=width - 3.0, height_mm=BESIDE_MM)


def _beside_fits(one: KeyFigure, width: float) -> bool:
    taken = text_width_mm(one.figure, height_mm=FIGURE_MM, bold=True)
    return taken + 3.0 + text_width_mm(one.beside, height_mm=BESIDE_MM) <= width - 3.0


def _cell_height(one: KeyFigure, width: float) -> float:
    extra = (len(_lines(one, width)) - 1) * FIGURE_MM * TEXT_PITCH
    return CELL_MM + extra + len(_beside_lines(one, width)) * (BESIDE_MM + 1.4)


def _cell(one: KeyFigure, x: float, top: float, width: float, height: float) -> list[Mark]:
    marks: list[Mark] = [Stroke((closed(box(x, top - height, x + width, top)),), "table")]
    marks.append(Label(one.caption, (x + 1.5, top - 1.2 - CAPTION_MM), CAPTION_MM, role="quiet"))
    y = top - 2.8 - CAPTION_MM - FIGURE_MM
    for line in _lines(one, width):
        marks.append(Label(line, (x + 1.5, y), FIGURE_MM, bold=True))
        y -= FIGURE_MM * TEXT_PITCH
    if one.beside:
        last = y + FIGURE_MM * TEXT_PITCH
        if _beside_fits(one, width):
            at = (x + 1.5 + text_width_mm(one.figure, height_mm=FIGURE_MM, bold=True) + 3.0, last)
            marks.append(Label(one.beside, at, BESIDE_MM))
        for number, text in enumerate(_beside_lines(one, width), start=1):
            marks.append(Label(text, (x + 1.5, last - number * (BESIDE_MM + 1.4)), BESIDE_MM))
    return marks


def verdict_badge(
    verdict: str, *, left_mm: float, top_mm: float, height_mm: float = 9.0
) -> tuple[tuple[Mark, ...], float]:
    """Symbol and word in a box, twice as heavy for the worst verdict; and the right edge of the box."""
    sign = VERDICTS[verdict]
    text = f"{sign.symbol} {sign.word}"
    width = text_width_mm(text, height_mm=FIGURE_MM, bold=True) + 5.0
    outline = box(left_mm, top_mm - height_mm, left_mm + width, top_mm)
    baseline = top_mm - height_mm / 2 - FIGURE_MM / 2
    marks: list[Mark] = [
        Area((outline,), "balloon"),
        Stroke((closed(outline),), "frame", width_mm=1.4 if verdict == "not good" else 0.7),
        Label(text, (left_mm + 2.5, baseline), FIGURE_MM, bold=True),
    ]
    return tuple(marks), left_mm + width
