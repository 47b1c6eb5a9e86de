"""StepStrip: the steps of the job in their order, each with its verdict; and what can be done with steps."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLabel, QPushButton, QScrollArea, QWidget

from app.look.verdicts import VERDICTS
from app.window.actions import Actions
from app.window.stack_bar import twin_button
from geometry.check.finding import Verdict
from geometry.job.job import Job, Step

BUTTONS = (
    ("step-add-out", "+ Out"),
    ("step-add-in", "+ In"),
    ("step-earlier", "◀"),
    ("step-later", "▶"),
    ("step-copy", "Duplicate"),
    ("step-rename", "Rename"),
    ("step-delete", "Delete"),
)
LONGEST_TITLE = 24
ROOM_FOR_SCROLLING_PX = 18


class StepStrip(QWidget):
    """`chosen(step)` when a step is clicked."""

    chosen = Signal(int)

    def __init__(self, actions: Actions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._group = QButtonGroup(self)
        self._group.idClicked.connect(self.chosen)
        inside = self._inside = QWidget()
        self._row = QHBoxLayout(inside)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._cards: list[QPushButton] = []
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setWidget(inside)
        self._empty = QLabel("No steps yet: add what is to be pressed out or in.", inside)
        self._empty.setObjectName("quiet")
        self._row.addWidget(self._empty)
        self._row.addStretch(1)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 4, 8, 4)
        row.addWidget(QLabel("Steps"))
        row.addWidget(self._scroll, stretch=1)
        for id, text in BUTTONS:
            row.addWidget(twin_button(actions, id, text))

    def show_steps(self, job: Job, chosen: int, verdicts: tuple[Verdict | None, ...]) -> None:
        """Show the steps of the job with their verdicts, as far as they are known."""
        while len(self._cards) < len(job.steps):
            card = QPushButton(self._inside)
            card.setObjectName("step-card")
            card.setCheckable(True)
            self._group.addButton(card, len(self._cards))
            self._row.insertWidget(1 + len(self._cards), card)
            self._cards.append(card)
        self._empty.setVisible(not job.steps)
        for number, card in enumerate(self._cards):
            card.setVisible(number < len(job.steps))
            if number < len(job.steps):
                _fill(card, number, job.steps[number], verdicts[number])
                card.setChecked(number == chosen)
        height = max((card.sizeHint().height() for card in self._cards), default=30)
        self._scroll.setFixedHeight(height + ROOM_FOR_SCROLLING_PX)
        if chosen < len(self._cards):
            self._scroll.ensureWidgetVisible(self._cards[chosen])


def _fill(card: QPushButton, number: int, step: Step, verdict: Verdict | None) -> None:
    sign = VERDICTS[verdict] if verdict is not None else None
    word = sign.word.lower() if sign else "being checked"
    title = step.title if len(step.title) <= LONGEST_TITLE else f"{step.title[: LONGEST_TITLE - 1]}…"
    card.setText(f"{number + 1}   {sign.symbol if sign else '…'}  {title}")
    card.setToolTip(f"{step.title}\n{step.operation} {', '.join(step.bearings)} to the {step.towards}\n{word}")
    card.setAccessibleName(f"Step {number + 1}: {step.title}, {word}")
    card.setFocusPolicy(Qt.FocusPolicy.TabFocus)
