"""CoverageCell: the chosen cell of the map: what does the step, why it is missed or what would tell; opens it."""

from html import escape

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.look.coverage_signs import sign_of
from app.window.coverage_map import MapPlace
from app.window.flow_layout import FlowLayout
from app.window.lengths import BARE_FIGURES, sentence_text
from app.window.look import Look
from app.window.section_picture import job_picture
from geometry.job.job import Job
from geometry.planning.job_cover import JobCover, StepCover

PICTURE = QSize(330, 120)
MOST_REASONS = 6


class CoverageCell(QScrollArea):
    """`opened(with_stacks)` when the job is asked for, `closer_asked` for what the nearest parts lack,
    `part_asked` for the part that is missing.
    """

    opened = Signal(bool)
    closer_asked = Signal()
    part_asked = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._look = look
        self._shown: tuple[MapPlace, Job, JobCover | None, tuple[str, ...] | None] | None = None
        self._picture = QLabel()
        self._text = QLabel(
            "Each row of the map is a job, each column one of its steps. Choose a cell: here it is told what does the"
            " step, or what it hangs on."
        )
        self._text.setWordWrap(True)
        self._text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._with_stacks = QPushButton("Open with these stacks")
        self._with_stacks.setObjectName("main")
        self._with_stacks.clicked.connect(lambda: self.opened.emit(True))
        self._bare = QPushButton("Open the file")
        self._bare.clicked.connect(lambda: self.opened.emit(False))
        self._closer = QPushButton("What do the nearest parts lack?")
        self._closer.setToolTip("Tries out the nearest parts with other sizes; takes some seconds")
        self._closer.clicked.connect(self.closer_asked)
        self._part = QPushButton("Size the missing part")
        self._part.setToolTip("Opens the job at this step and finds the sizes of a part with which it comes out good")
        self._part.clicked.connect(self.part_asked)
        asking, row = FlowLayout(gap=6), FlowLayout(gap=6)
        asking.addWidget(self._closer)
        asking.addWidget(self._part)
        row.addWidget(self._with_stacks)
        row.addWidget(self._bare)
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 4, 0)
        column.addWidget(self._picture)
        column.addWidget(self._text)
        column.addLayout(asking)
        column.addLayout(row)
        column.addStretch(1)
        self.setWidget(inside)
        self.show_nothing()

    def show_nothing(self) -> None:
        """No cell is chosen."""
        self._shown = None
        self._picture.hide()
        self._closer.hide()
        self._part.hide()
        self._with_stacks.hide()
        self._bare.hide()

    def show_place(
        self, place: MapPlace, job: Job, cover: JobCover | None, closer: tuple[str, ...] | None = None
    ) -> None:
        """Tell what was found for a cell; `closer`: what the nearest parts lack, once it was asked."""
        self._shown = (place, job, cover, closer)
        is_missed = cover is not None and cover.steps[place.step - 1].state == "missed"
        self._closer.setVisible(is_missed and closer is None)
        self._part.setVisible(is_missed)
        self._picture.setVisible(True)
        self._bare.setVisible(True)
        self._with_stacks.setVisible(cover is not None)
        self._show()

    def _show(self) -> None:
        if self._shown is not None:
            place, job, cover, closer = self._shown
            picture = job_picture(job, self._look.palette, PICTURE, self.devicePixelRatioF())
            self._picture.setPixmap(picture)
            self._text.setText(_words(place, job, cover, closer, self._look.unit))

    def set_ready(self, on: bool) -> None:
        """Whether something can be asked."""
        self._closer.setEnabled(on)

    def set_look(self, look: Look) -> None:
        """Other colours, or another unit."""
        self._look = look
        self._show()

    @property
    def text(self) -> str:
        return self._text.text()


def _words(
    place: MapPlace, job: Job, cover: JobCover | None, closer: tuple[str, ...] | None, unit: str
) -> str:
    step = job.steps[place.step - 1]
    lines = [f"<b>{escape(job.title)}</b>", f"<b>Step {place.step}: {escape(step.title)}</b>"]
    if cover is None:
        return "<br>".join([*lines, f"With {escape(place.tool_set)}: not searched yet."])
    found = cover.steps[place.step - 1]
    sign = sign_of(found.state)
    lines.append(f"{sign.symbol} <b>{sign.word}</b> with {escape(place.tool_set)}")
    if found.caution:
        lines.append(escape(sentence_text(found.caution, unit)))
    if not found.is_covered:
        lines += _reasons(found, found.missed_by if closer is None else closer, unit)
    if found.state != "missed":
        lines += _stack_lines(found)
    lines.append("<br>The whole job:")
    lines += [f"{sign_of(one.state).symbol} {one.step}. {escape(one.title)}" for one in cover.steps]
    return "<br>".join(lines)


def _stack_lines(step: StepCover) -> list[str]:
    stack = step.best_stack
    lines = [] if step.is_covered else ["The stack that may be good:"]
    for side in ("left", "right"):
        on_side = [f"{one.part}{' (loose)' if one.loose else ''}" for one in stack.parts if one.side == side]
        lines.append(f"{side}: {escape(', '.join(on_side) or 'nothing')}")
    count = len(step.stacks)
    others = f"; {count} stacks were listed, this is the best" if count > 1 else ""
    return [*lines, f"rod {escape(stack.rod or 'none')}{others}"]


def _reasons(step: StepCover, missed_by: tuple[str, ...], unit: str) -> list[str]:
    reasons = missed_by[:MOST_REASONS] or ("No stack of these parts does it.",)
    title = "It hangs on:" if step.state == "cannot tell" else "Missed by:"
    lines = [title, *(f"• {escape(sentence_text(words, unit))}" for words in reasons)]
    return [*lines, f"<i>{BARE_FIGURES}</i>"] if unit == "in" else lines
