"""SuggestCard: one set-up that was found: its section, verdict, parts, figures and weak point."""

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QEnterEvent, QFocusEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QFrame, QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.look.palette import Palette
from app.look.verdicts import VERDICTS
from app.window.lengths import sentence_text
from app.window.section_picture import stack_picture
from geometry.job.job import Job
from geometry.planning.search import Suggested
from geometry.planning.sequence import taken_over
from geometry.planning.suggest_report import figures_in_words

PICTURE_HEIGHT = 96
NEXT_KEYS = (Qt.Key.Key_Down, Qt.Key.Key_Up)
TAKE_KEYS = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class SuggestCard(QFrame):
    """Shown in the section while the pointer or the keys are on it; a click or Enter takes it over."""

    looked_at = Signal(object)
    left_alone = Signal()
    taken = Signal(object)

    def __init__(self, found: Suggested, step: int, unit: str) -> None:
        super().__init__()
        self.setObjectName("sample-card")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.found, self.step = found, step
        self.change = lambda job: taken_over(job, step, found)  # one object: what it makes is checked once
        sign = VERDICTS[found.check.verdict]
        self._picture = QLabel()
        self._picture.setFixedHeight(PICTURE_HEIGHT)
        self._picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._picture.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)  # never widens the card
        self._verdict = QLabel(f"{sign.symbol} {sign.word}")
        self._verdict.setProperty("verdict", found.check.verdict)
        self._in_use = QLabel("in use")
        self._in_use.setObjectName("quiet")
        self._in_use.hide()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(8, 6, 8, 6)
        self._column.setSpacing(2)
        for widget in (self._picture, self._verdict, self._in_use, *_words(found, unit)):
            self._column.addWidget(widget)
        self.setAccessibleDescription(
            f"{sentence_text(f'{figures_in_words(found)}. {found.weak_point}', unit)}"
            " Enter takes it over; it is shown in the section now."
        )

    def show_place(self, place: int) -> None:
        """Its place among the set-ups, counted from 1."""
        word = VERDICTS[self.found.check.verdict].word.lower()
        self.setAccessibleName(f"Set-up {place}, {word}: {parts_in_words(self.found)}")

    @property
    def has_picture(self) -> bool:
        return not self._picture.pixmap().isNull()

    def show_picture(self, job: Job, palette: Palette) -> None:
        """Draw its section."""
        size = QSize(max(self._picture.width(), 120), PICTURE_HEIGHT)
        trial = taken_over(job, self.step, self.found)
        self._picture.setPixmap(stack_picture(trial, self.found.check.things, palette, size, self.devicePixelRatioF()))

    def show_in_use(self, job: Job) -> None:
        """Whether this is what the step has."""
        stack = job.steps[self.step].stack if self.step < len(job.steps) else None
        self._in_use.setVisible(stack == self.found.stack)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self.rect().contains(event.position().toPoint()):
            self.taken.emit(self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in TAKE_KEYS:
            self.taken.emit(self)
        elif key in NEXT_KEYS:
            self.focusNextChild() if key == Qt.Key.Key_Down else self.focusPreviousChild()
        else:
            super().keyPressEvent(event)

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self.looked_at.emit(self)

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.left_alone.emit()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if event.reason() != Qt.FocusReason.MouseFocusReason:
            self.looked_at.emit(self)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.left_alone.emit()


def parts_in_words(found: Suggested) -> str:
    """The parts that matter from left to right, without what belongs under the nuts."""
    kinds = {part.id: part.kind for part in found.parts}
    plain = ("washer", "thrust bearing", "nut", "slip nut", "driving nut", "standing nut", "handle")
    sides: dict[str, list[str]] = {"left": [], "right": []}
    for part in found.stack.parts:
        if kinds[part.part] not in plain:
            sides[part.side].append(part.part)
    return f"{' + '.join(sides['left']) or '–'} | {' + '.join(sides['right']) or '–'}"


def _words(found: Suggested, unit: str) -> tuple[QWidget, ...]:
    parts = QLabel(f"<b>{parts_in_words(found)}</b>, {found.stack.rod}")
    parts.setTextFormat(Qt.TextFormat.RichText)
    figures = QLabel(sentence_text(figures_in_words(found), unit))
    figures.setObjectName("quiet")
    rows = [parts, figures]
    if found.weak_point and found.weak_point != "None stands out.":
        rows.append(QLabel(sentence_text(found.weak_point, unit)))
    for row in rows:
        row.setWordWrap(True)
    return tuple(rows)
