"""ForcesPanel: force and torque, what the hand feels, the balls, what is strained, and the fits of the rings."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.look.palette import Palette
from app.look.verdicts import SEVERITIES, severity_colour
from app.window.force_words import (
    ball_severity,
    ball_words,
    fit_state,
    fit_words,
    force_words,
    loaded_bearings,
    share_severity,
    share_words,
    torque_words,
    unloaded_words,
)
from app.window.ledge_picture import LedgePicture
from app.window.lengths import sentence_text
from app.window.places_table import words_of_id
from app.window.when_seen import ScrolledColumn, WhenSeen
from geometry.check.in_words import hand_line, most_used
from geometry.check.ledge_words import ledge_lines
from geometry.check.result import FitResult, LedgeView, StepCheck, Utilisation
from geometry.check.warmth import CAUTIONS

MOST_ROWS = 8
BAR_HEIGHT_PX = 12


class ForcesPanel(WhenSeen, ScrolledColumn):
    """The forces of the step that was checked last; nothing is made while nobody looks."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Forces")

    def show_forces(self, check: StepCheck | None, palette: Palette, unit: str) -> None:
        """Show the whole check of a step; None while it is not known."""
        self._want(check, palette, unit)

    def _fill(self, check: StepCheck | None, palette: Palette, unit: str) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 4, 0)
        column.setSpacing(6)
        if check is None:
            column.addWidget(_text("Not known until the step is checked.", quiet=True))
        else:
            _add_all(column, check, palette, unit)
        column.addStretch(1)
        self.put(inside)


class ShareBar(QWidget):
    """How much of what a member bears is used; a second mark at the high end, a line at all of it."""

    def __init__(self, share: float, share_high: float, severity: str, palette: Palette) -> None:
        super().__init__()
        self._share, self._share_high = share, share_high
        self._colour = palette.accent if severity == "note" else severity_colour(severity, palette)
        self._palette = palette
        self.setFixedHeight(BAR_HEIGHT_PX)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        room, height = self.width() - 2, self.height()
        whole = max(1.0, min(self._share_high, 2.0))
        share, high = (min(max(one, 0.0), whole) / whole * room for one in (self._share, self._share_high))
        painter.fillRect(QRectF(0, 3, room, height - 6), QColor(self._palette.uncut))
        painter.fillRect(QRectF(0, 2, max(share, 1.5), height - 4), QColor(self._colour))
        painter.setPen(QPen(QColor(self._colour), 1.5))
        painter.drawLine(round(high), 1, round(high), height - 1)
        painter.setPen(QPen(QColor(self._palette.ink), 1))
        painter.drawLine(round(room / whole), 0, round(room / whole), height)
        painter.end()


def _add_all(column: QVBoxLayout, check: StepCheck, palette: Palette, unit: str) -> None:
    press = _card(column, "Press force and torque")
    press.addWidget(_text(force_words(check.force_n)))
    press.addWidget(_text(torque_words(check.torque_nm)))
    if hand := hand_line(check):
        press.addWidget(_text(f"{sentence_text(hand, unit)}."))
    if check.feel:
        _card(column, "What the hand feels").addWidget(_text(sentence_text(check.feel, unit)))
    balls = _card(column, "Through the balls")
    for bearing in loaded_bearings(check):
        margin = check.ball_margins.get(bearing)
        _add_judged(balls, ball_words(check, bearing), ball_severity(check, bearing))
        if margin is not None:
            balls.addWidget(_text(margin.words, quiet=True))
    if not loaded_bearings(check):
        balls.addWidget(_text(unloaded_words(check)))
    if check.ledge is not None:
        _add_ledge(_card(column, "The ledge, seen along the axis"), check.ledge, palette)
    rows = most_used(check, MOST_ROWS)
    strength = _card(column, "What is strained")
    strength.addWidget(_text("Bar: share of what it bears; tick: at the highest force.", quiet=True))
    for row in rows:
        _add_strength(strength, row, palette, unit)
    if not rows:
        strength.addWidget(_text("Nothing comes near what it bears."))
    if check.fits:
        fits = _card(column, "Fits of the rings")
        for fit in check.fits:
            _add_fit(fits, fit, unit)
        if any(fit.free_at_k is not None for fit in check.fits):
            fits.addWidget(_text(CAUTIONS, quiet=True))


def _add_ledge(column: QVBoxLayout, ledge: LedgeView, palette: Palette) -> None:
    column.addWidget(LedgePicture(ledge, palette))
    column.addWidget(_text("Shaded: bare face of the ring; cross-hatched: under the toe.", quiet=True))
    for line in ledge_lines(ledge):
        column.addWidget(_text(line.text))


def _card(column: QVBoxLayout, title: str) -> QVBoxLayout:
    card = QFrame()
    card.setObjectName("card")
    inside = QVBoxLayout(card)
    inside.setContentsMargins(10, 4, 8, 8)
    inside.setSpacing(3)
    heading = QLabel(title)
    heading.setObjectName("heading")
    inside.addWidget(heading)
    column.addWidget(card)
    return inside


def _add_judged(column: QVBoxLayout, words: str, severity: str) -> None:
    head = _text(f"{SEVERITIES[severity].symbol} {words}")
    head.setProperty("severity", severity)
    column.addWidget(head)


def _add_strength(column: QVBoxLayout, row: Utilisation, palette: Palette, unit: str) -> None:
    severity = share_severity(row)
    who = words_of_id(row.member)
    line = QHBoxLayout()
    line.addWidget(_text(f"{SEVERITIES[severity].symbol} {who}: {sentence_text(row.what, unit)}"), stretch=1)
    why = QPushButton("Why?")
    why.setCheckable(True)
    why.setAccessibleName(f"Why: {who}, {row.what}")
    line.addWidget(why, alignment=Qt.AlignmentFlag.AlignTop)
    column.addLayout(line)
    column.addWidget(ShareBar(row.share, row.share_high, severity, palette))
    column.addWidget(_text(share_words(row), quiet=True))
    _add_why(column, why, f"{row.sum}\nSource: {row.source}")


def _add_fit(column: QVBoxLayout, fit: FitResult, unit: str) -> None:
    severity, word = fit_state(fit)
    line = QHBoxLayout()
    head = _text(f"{SEVERITIES[severity].symbol} {fit.ring} ring of {fit.bearing}: {word}")
    head.setProperty("severity", severity)
    line.addWidget(head, stretch=1)
    why = QPushButton("Why?")
    why.setCheckable(True)
    why.setAccessibleName(f"Why: {fit.ring} ring of {fit.bearing}")
    line.addWidget(why, alignment=Qt.AlignmentFlag.AlignTop)
    column.addLayout(line)
    column.addWidget(_text("\n".join(fit_words(fit, unit))))
    _add_why(column, why, f"Source: {fit.source}")


def _add_why(column: QVBoxLayout, why: QPushButton, text: str) -> None:
    says = _text(text, quiet=True)
    says.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    says.hide()
    why.toggled.connect(says.setVisible)
    column.addWidget(says)


def _text(words: str, *, quiet: bool = False) -> QLabel:
    label = QLabel(words)
    label.setWordWrap(True)
    if quiet:
        label.setObjectName("quiet")
    return label
