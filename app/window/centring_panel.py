"""CentringPanel: how far each part can be off the axis at the start, as a chain of clearances with bars."""

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QVBoxLayout, QWidget

from app.look.palette import Palette
from app.look.verdicts import SEVERITIES
from app.window.lengths import length_text
from app.window.places_table import words_of_id
from app.window.when_seen import ScrolledColumn, WhenSeen
from geometry.check.result import Centring, Link
from geometry.job.job import Limits

BAR_HEIGHT_PX = 10
ROOM_AT_BARS_PX = 8


class CentringPanel(WhenSeen, ScrolledColumn):
    """`ghost_asked(centring)` wants the worst offset of a part drawn."""

    ghost_asked = Signal(object)

    def show_centring(self, centring: tuple[Centring, ...], limits: Limits, palette: Palette, unit: str) -> None:
        """Show every part, the worst first; nothing is made while nobody looks."""
        self._want(centring, limits, palette, unit)

    def _fill(self, centring: tuple[Centring, ...], limits: Limits, palette: Palette, unit: str) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 4, 0)
        intro = QLabel("Where each part can lie at the start, at worst. Bars show the air to one side.")
        intro.setWordWrap(True)
        intro.setObjectName("quiet")
        column.addWidget(intro)
        longest = max((link.clearance_mm for one in centring for link in one.chain), default=0.0)
        for one in sorted(centring, key=_badness, reverse=True):
            column.addWidget(self._card(one, limits, palette, unit, longest))
        if not centring:
            column.addWidget(QLabel("No parts on the rod."))
        column.addStretch(1)
        self.put(inside)

    def _card(self, one: Centring, limits: Limits, palette: Palette, unit: str, longest: float) -> QFrame:
        card = QFrame()
        card.setObjectName("card")
        column = QVBoxLayout(card)
        column.setContentsMargins(10, 6, 8, 8)
        column.setSpacing(3)
        severity, word = judged(one, limits)
        head = QLabel(f"{SEVERITIES[severity].symbol} {words_of_id(one.part)}: {word}")
        head.setProperty("severity", severity)
        column.addWidget(head)
        says = QLabel(offset_words(one, unit))
        says.setWordWrap(True)
        column.addWidget(says)
        for link in one.chain:
            column.addWidget(QLabel(link_words(link, unit)))
            column.addWidget(ClearanceBar(link.clearance_mm, longest, palette))
        if one.offset_mm:
            show = QPushButton("Show in the drawing")
            show.setAccessibleName(f"Show the worst offset of {words_of_id(one.part)} in the drawing")
            show.clicked.connect(lambda: self.ghost_asked.emit(one))
            column.addWidget(show)
        return card


class ClearanceBar(QWidget):
    """A bar as long as a clearance, on the scale of the longest."""

    def __init__(self, clearance_mm: float, longest_mm: float, palette: Palette) -> None:
        super().__init__()
        self._share = clearance_mm / longest_mm if longest_mm > 0.0 else 0.0
        self._palette = palette
        self.setFixedHeight(BAR_HEIGHT_PX)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        width = (self.width() - ROOM_AT_BARS_PX) * min(max(self._share, 0.0), 1.0)
        painter.fillRect(QRectF(0, 2, max(width, 1.5), self.height() - 4), QColor(self._palette.accent))
        painter.end()


def judged(one: Centring, limits: Limits) -> tuple[str, str]:
    """Severity and word of an offset: central, loose, off, or floating; findings say what it spoils."""
    if one.offset_mm is None:
        return "caution", "nothing centres it"
    if one.offset_mm <= limits.offset_good_mm:
        return "note", "central"
    if one.offset_mm <= limits.offset_caution_mm:
        return "note", "loose"
    return "caution", "off"


def offset_words(one: Centring, unit: str) -> str:
    """Offset, lever and tilt in one line, tilt apart."""
    if one.offset_mm is None:
        return "It can lie anywhere until it is clamped."
    words = f"At most {length_text(one.offset_mm, unit)} off the axis"
    if one.levered_offset_mm is not None and one.levered_offset_mm > one.offset_mm + 5e-4:
        words += f", {length_text(one.levered_offset_mm, unit)} at its far end"
    if one.tilt_deg:
        words += f"; tilt up to {one.tilt_deg:.2f}°"
    return f"{words}."


def link_words(link: Link, unit: str) -> str:
    """One clearance in words."""
    return f"{words_of_id(link.inner)} in {words_of_id(link.outer)}: {length_text(link.clearance_mm, unit)} of air"


def _badness(one: Centring) -> float:
    return 1e9 if one.offset_mm is None else one.offset_mm
