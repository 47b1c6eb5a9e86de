"""Writes what docs/findings.md shows of the program: a picture of each finding, its words and its figures.

    python docs/make_findings.py            # pictures and page
    python docs/make_findings.py collides   # pictures of these codes only, and the page

The text around the marked parts is written by hand; a test compares the marked parts with the program.
"""

import os
import re
import sys
from pathlib import Path

from msgspec.structs import replace

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np  # noqa: E402
from PySide6.QtGui import QImage  # noqa: E402

from app.drawing.force_path import force_band_marks  # noqa: E402
from app.drawing.force_pieces import Piece, path_pieces  # noqa: E402
from app.drawing.marks import Line, Mark, Stroke, bounds, circle, closed, placed  # noqa: E402
from app.drawing.section_drawing import keep_off_marks, outline_lines, section_marks  # noqa: E402
from app.look.palette import LIGHT  # noqa: E402
from app.sheet.callouts import Callout, name_row, name_row_height_mm  # noqa: E402
from app.sheet.page import Page  # noqa: E402
from app.sheet.png import page_image  # noqa: E402
from app.sheet.stack_picture import anchor  # noqa: E402
from geometry.check.finding import Finding  # noqa: E402
from geometry.check.result import Moment, StepCheck, Thing  # noqa: E402
from geometry.job.job import Job  # noqa: E402
from tests.findings.case import Case  # noqa: E402
from tests.findings.cases import CASES, checked, raised  # noqa: E402
from tests.findings.hubs import BASES  # noqa: E402

DOC = ROOT / "docs" / "findings.md"
PICTURES = ROOT / "docs" / "pictures" / "findings"
WIDTH_MM, MARGIN_MM, PIXELS_PER_MM = 150.0, 5.0, 6.0
PLACE_RADIUS_MM, PLACE_WIDTH_MM, BODY_WIDTH_MM = 3.5, 0.8, 0.5
MOVED_MM = 0.3
"""From this much on, the place where a body is stopped is drawn as well."""
UNNAMED = ("nut", "rod", "seals")


def main(codes: list[str]) -> None:
    PICTURES.mkdir(parents=True, exist_ok=True)
    for case in first_cases():
        if not codes or case.code in codes:
            check = checked(case)
            save(picture(case.job, check, raised(case, check)[0]), PICTURES / f"{case.code}.png")
    DOC.write_text(with_examples(DOC.read_text(encoding="utf-8")), encoding="utf-8")


def first_cases() -> tuple[Case, ...]:
    """One case for each code: the one that is drawn."""
    return tuple({case.code: case for case in reversed(CASES)}.values())


def with_examples(page: str) -> str:
    """The page with its marked parts as the program writes them today."""
    return re.sub(
        r"(<!-- from the program: ([a-z-]+) -->\n).*?(<!-- end -->)",
        lambda part: f"{part[1]}{examples(part[2])}{part[3]}",
        page,
        flags=re.DOTALL,
    )


def examples(code: str) -> str:
    """The picture of a code, and each of its cases in words."""
    cases = [case for case in CASES if case.code == code]
    text = f"![{cases[0].code}: {cases[0].change}](pictures/findings/{code}.png)\n\n"
    return text + "\n".join(_example(case) for case in cases)


def _example(case: Case) -> str:
    finding = raised(case, checked(case))[0]
    doubt = "" if finding.certainty == "certain" else f", {finding.certainty}"
    lines = [
        f"*{BASES[case.base]().title}; {case.change}:* **{finding.severity}**{doubt}",
        "",
        f"> {finding.message}",
        "",
    ]
    rows = (
        ("Sum", finding.sum),
        ("By hand", case.by_hand if case.numbers else ""),
        ("Source", finding.source),
        ("Way out", finding.way_out),
        ("Values", ", ".join(f"`{name}` {round(value, 3):g}" for name, value in finding.values.items())),
    )
    lines += [f"- {name}: {text}" for name, text in rows if text]
    return "\n".join(lines) + "\n"


def picture(job: Job, check: StepCheck, finding: Finding) -> Page:
    """The section at the start of the step, the path of the force, and where the finding points."""
    things = _without_idle_rod(check.things)
    left, right = min(t.left_mm for t in things), max(t.right_mm for t in things)
    scale = min(1.0, (WIDTH_MM - 2 * MARGIN_MM) / (right - left))
    aside = job.steps[check.step - 1].pushed_aside_mm
    drawing = section_marks(things, {}, job=job, paper_scale=scale, aside_mm=aside)
    drawing += keep_off_marks(job, paper_scale=scale)
    first = _first_loaded(check)
    pieces = path_pieces(things, {}, first.contacts, check.force_path) if first is not None else ()
    drawing += force_band_marks(pieces, paper_scale=scale)
    drawing += _stopped(things, check, finding) + _pointed_out(things, finding, scale, hooked=bool(aside))
    x = WIDTH_MM / 2 - (left + right) / 2 * scale
    _, lowest, _, highest = bounds(drawing)
    names = _names(things, finding, x, scale) + _balls(pieces, x, scale)
    room = {"left_mm": MARGIN_MM, "right_mm": WIDTH_MM - MARGIN_MM}
    below = name_row_height_mm(names, **room) + MARGIN_MM if names else 0.0
    y = below + MARGIN_MM - lowest * scale
    row = name_row(tuple(replace(one, at=(one.at[0], y - one.at[1])) for one in names), y_mm=below, **room)
    return Page(WIDTH_MM, y + highest * scale + MARGIN_MM, (*placed(drawing, scale=scale, x_mm=x, y_mm=y), *row))


def _without_idle_rod(things: tuple[Thing, ...]) -> tuple[Thing, ...]:
    """All things, the ones that lie in the drawing's way last."""
    return tuple(sorted(things, key=lambda thing: thing.kind == "rod"))


def _first_loaded(check: StepCheck) -> Moment | None:
    """The moment in which everything has just begun to carry, and nothing has gone far yet."""
    loaded = [m for m in check.moments if m.force_n > 0.2 * max(one.force_n for one in check.moments)]
    return loaded[0] if loaded else None


def _stopped(things: tuple[Thing, ...], check: StepCheck, finding: Finding) -> tuple[Mark, ...]:
    """Outlines of what the finding names, where the travel ends, as far as it is somewhere else."""
    if "stops_at_mm" not in finding.values or not check.moments:
        return ()
    shifts = check.moments[-1].shift_mm
    gone = [t for t in things if t.id in finding.bodies and abs(shifts.get(t.group, 0.0)) > MOVED_MM]
    return tuple(Stroke(tuple(map(closed, outline_lines(t, shifts))), "adjacent", t.id) for t in gone)


def _pointed_out(
    things: tuple[Thing, ...], finding: Finding, scale: float, *, hooked: bool
) -> tuple[Mark, ...]:
    """A ring round the place on both sides of the axis, above only where a part is hooked in.

    Without a place, the outlines of the bodies.
    """
    if finding.place is not None:
        z, r = finding.place.z_mm, finding.place.diameter_mm / 2
        rings = tuple(closed(circle((z, side * r), PLACE_RADIUS_MM / scale)) for side in ((1,) if hooked else (1, -1)))
        return (Stroke(rings, "finding", width_mm=PLACE_WIDTH_MM),)
    named = [t for t in things if {t.id, t.id.split("@")[0], t.id.split(".")[0]} & set(finding.bodies)]
    lines = tuple(closed(line) for thing in named for line in _outlines(thing))
    return (Stroke(lines, "finding", width_mm=BODY_WIDTH_MM),) if lines else ()


def _outlines(thing: Thing) -> tuple[Line, ...]:
    """Outlines of both halves; one round the whole of what is solid at the axis."""
    if thing.profile.r_min_mm > 0.0:
        return outline_lines(thing, {})
    upper = tuple((z + thing.at_mm, r) for z, r in thing.profile.rings[0] if r > 0.0)
    return ((*upper, *((z, -r) for z, r in reversed(upper))),)


def _names(things: tuple[Thing, ...], finding: Finding, x: float, scale: float) -> tuple[Callout, ...]:
    """Names of the tool parts and of what the finding is about; heights are below the axis."""
    callouts = []
    for thing in things:
        if thing.kind in UNNAMED and thing.id not in finding.bodies or "seals" in thing.id:
            continue
        if thing.side is None and thing.id not in finding.bodies:
            continue
        z, r = anchor(thing, things)
        callouts.append(Callout((x + z * scale, r * scale), thing.id.split("@")[0].replace(".", " "), thing.id))
    return tuple(callouts)


def _balls(pieces: tuple[Piece, ...], x: float, scale: float) -> tuple[Callout, ...]:
    """A word to each bearing whose balls carry force."""
    crossed = {piece.body: piece.points[0] for piece in pieces if piece.through_balls}
    return tuple(
        Callout((x + z * scale, r * scale), f"BALLS OF {body.split('.')[0]}", body, alarm=True)
        for body, (z, r) in crossed.items()
    )


def save(page: Page, path: Path) -> None:
    """A picture in the 250 colours that it uses most."""
    image = page_image(page, palette=LIGHT, pixels_per_mm=PIXELS_PER_MM)
    pixels = np.frombuffer(image.constBits(), dtype=np.uint32)
    colours, counts = np.unique(pixels, return_counts=True)
    most = [int(colour) for colour in colours[np.argsort(-counts, kind="stable")][:250]]
    image.convertToFormat(QImage.Format.Format_Indexed8, most).save(str(path), "PNG", 0)


if __name__ == "__main__":
    main(sys.argv[1:])
