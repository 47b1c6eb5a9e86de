"""Figures to keep, drawn with matplotlib: the map of a coverage, and jobs against a dimension.

Colour is never alone: a cell has its hatching and its sign as well, so that the map reads in black and white.
"""

from pathlib import Path

from matplotlib import rc_context
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Patch, Rectangle

from app.look.coverage_signs import COVER_SIGNS, CoverSign, sign_of
from app.look.palette import LIGHT
from app.look.tint import tint
from geometry.errors import FileError
from geometry.job.saving import whole_file
from geometry.planning.coverage import Coverage
from geometry.planning.worth import DimensionCurve

ROW_IN, CELL_IN, NAMES_IN, HEAD_IN = 0.19, 0.24, 2.9, 1.5
FONT_PT = 7.5
FIGURES = (".pdf", ".svg", ".png")
STYLE = {"font.family": "DejaVu Sans", "font.size": FONT_PT, "pdf.fonttype": 42, "svg.fonttype": "path",
         "svg.hashsalt": "ringpath", "hatch.linewidth": 0.5}  # fmt: skip


def write_coverage_map(coverage: Coverage, path: Path) -> None:
    """Jobs under each other, for each set a column for each step; .pdf, .svg or .png by the ending of the name."""
    most_steps = max((len(job.steps) for job in coverage.jobs.values()), default=1) or 1
    across = len(coverage.sets) * (most_steps + 1)
    size = (NAMES_IN + across * CELL_IN + 0.3, HEAD_IN + len(coverage.jobs) * ROW_IN + 0.3)
    with rc_context(STYLE):
        figure = Figure(figsize=size)
        axes = figure.add_axes((NAMES_IN / size[0], 0.2 / size[1], across * CELL_IN / size[0],
                                1.0 - (HEAD_IN + 0.2) / size[1]))  # fmt: skip
        for row, (name, job) in enumerate(coverage.jobs.items()):
            for place, title in enumerate(coverage.sets):
                cell = coverage.cells.get((name, title))
                for step in range(len(job.steps)):
                    sign = sign_of(cell.steps[step].state if cell is not None else None)
                    _draw_cell(axes, place * (most_steps + 1) + step, row, sign)
        _name_everything(axes, coverage, most_steps)
        signs = [Patch(facecolor=_ground(sign), edgecolor="black", linewidth=0.5, hatch=sign.hatch,
                       label=f"{sign.symbol}  {sign.word}") for sign in COVER_SIGNS.values()]  # fmt: skip
        figure.legend(handles=signs, loc="upper left", ncols=2, frameon=False, borderaxespad=0.3)
        _save(figure, path)


def write_dimension_curve(curve: DimensionCurve, path: Path) -> None:
    """Jobs covered against a dimension as steps; the safe window shaded, sizes that no part can have crossed out."""
    with rc_context({**STYLE, "font.size": 9}):
        figure = Figure(figsize=(6.3, 3.6), layout="constrained")
        axes = figure.add_subplot()
        values = [point.value for point in curve.points]
        counts = [len(point.jobs) for point in curve.points]
        axes.step(values, counts, where="mid", color=LIGHT.calm, linewidth=1.6)
        axes.plot(values, counts, "o", color=LIGHT.calm, markersize=3)
        impossible = [point for point in curve.points if not point.is_possible]
        axes.plot([one.value for one in impossible], [len(one.jobs) for one in impossible], "x", color="black")
        if curve.safe_window is not None:
            first, last = curve.safe_window
            axes.axvspan(first, last, facecolor=tint(LIGHT.ground, LIGHT.calm, 0.15), hatch="..", edgecolor="0.7")
            axes.set_title(f"most jobs ({curve.most}) from {first:g} to {last:g} mm", fontsize=9)
        axes.set_xlabel(f"{curve.part}, {curve.dimension.removesuffix('_mm').replace('_', ' ')} [mm]")
        axes.set_ylabel("jobs covered")
        axes.set_ylim(bottom=0)
        axes.yaxis.get_major_locator().set_params(integer=True)
        axes.grid(visible=True, color="0.85", linewidth=0.5)
        _save(figure, path)


def _draw_cell(axes: Axes, x: int, row: int, sign: CoverSign) -> None:
    look = {"facecolor": _ground(sign), "edgecolor": "0.45", "linewidth": 0.4, "hatch": sign.hatch}
    axes.add_patch(Rectangle((x, row), 1, 1, **look))
    ground = {"boxstyle": "circle,pad=0.1", "facecolor": "white", "edgecolor": "none"} if sign.hatch else None
    axes.text(x + 0.5, row + 0.53, sign.symbol, ha="center", va="center", fontsize=FONT_PT - 0.5, bbox=ground)


def _name_everything(axes: Axes, coverage: Coverage, most_steps: int) -> None:
    axes.set_xlim(-0.2, len(coverage.sets) * (most_steps + 1) - 0.8)
    axes.set_ylim(len(coverage.jobs), 0)
    names = [name.removesuffix(".json") for name in coverage.jobs]
    axes.set_yticks([row + 0.5 for row in range(len(names))], names)
    axes.tick_params(length=0)
    axes.set_xticks(
        [place * (most_steps + 1) + step + 0.5 for place in range(len(coverage.sets)) for step in range(most_steps)],
        [str(step + 1) for _ in coverage.sets for step in range(most_steps)],
    )
    axes.xaxis.tick_top()
    for side in axes.spines.values():
        side.set_visible(False)
    for place, title in enumerate(coverage.sets):
        open_yet = len(coverage.undecided(title))
        count = f"{title}\n{len(coverage.covered(title))} of {len(coverage.jobs)} jobs"
        count += f"\n{open_yet} cannot be told yet" if open_yet else ""
        at = place * (most_steps + 1) + most_steps / 2
        axes.annotate(count, (at, 0), xytext=(0, 20), textcoords="offset points", ha="center", va="bottom",
                      fontweight="bold", fontsize=FONT_PT)  # fmt: skip


def _ground(sign: CoverSign) -> str:
    return tint(LIGHT.ground, LIGHT.fill(sign.fill), sign.share) if sign.fill else LIGHT.ground


def _save(figure: Figure, path: Path) -> None:
    metadata = {".pdf": {"CreationDate": None}, ".svg": {"Date": None}}.get(path.suffix.lower())
    try:
        with whole_file(path) as file:
            figure.savefig(file, dpi=160, metadata=metadata, format=path.suffix[1:].lower())
    except OSError as error:
        found = (error.strerror or "an error").lower()
        raise FileError(str(path), found=found, expected="a file that can be written") from error
