"""Tray: the tool parts at hand, of the job and of a set."""

from collections.abc import Callable

from PySide6.QtCore import QPoint, QTimer, Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QToolButton, QVBoxLayout, QWidget

from app.look.palette import Palette
from app.window.part_card import PartCard
from app.window.style_sheet import Sizes
from app.window.when_seen import ScrolledColumn
from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.parts.sizes import size_key

BEGINS_MS = 200
GROUPS = {
    "Drifts": ("drift", "toe drift", "keeper"),
    "Supports": ("cup", "plate"),
    "Guides": ("guide",),
    "Depth stops": ("depth stop",),
    "Tubes": ("tube",),
    "Washers and bearings": ("washer", "thrust bearing", "O-ring"),
    "Rods": ("rod",),
    "Nuts and handles": ("driving nut", "standing nut", "slip nut", "nut", "handle"),
}


class Tray(QWidget):
    """`drag_began(part)`, `dragged(point)`, `drag_ended()` carry a part; `put_asked(part, side)`: a button.

    The menu of a card: `drawing_asked(part)`, `change_asked(part)`, `take_out_asked(part)` of those of the job and
    `take_out_of_set_asked(part)` of the others. `add_asked()`: a part of the user's own.
    """

    drag_began = Signal(object)
    dragged = Signal(QPoint)
    drag_ended = Signal()
    put_asked = Signal(object, str)
    drawing_asked = Signal(object)
    change_asked = Signal(object)
    take_out_asked = Signal(object)
    take_out_of_set_asked = Signal(object)
    add_asked = Signal()
    set_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._search = QLineEdit()
        self._search.setPlaceholderText("Search: name, kind or size, such as 28")
        self._search.setAccessibleName("Search the tray")
        self._search.setClearButtonEnabled(True)
        for button in self._search.findChildren(QToolButton):
            button.setAccessibleName("Clear the search")
        self._search.textChanged.connect(self._filter)
        self._set_title = QLabel()
        self._set_title.setObjectName("quiet")
        self._set_title.setWordWrap(True)
        open_set = QPushButton("Open a set…")
        open_set.clicked.connect(self.set_asked)
        add = QPushButton("Add…")
        add.setToolTip("A part of your own: type its sizes; it goes into the set in use.")
        add.setAccessibleName("Add a part of your own")
        add.clicked.connect(self.add_asked)
        inside = QWidget()
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(0, 0, 4, 0)
        self._column.setSpacing(6)
        self._scroll = ScrolledColumn()
        self._scroll.setWidget(inside)
        self._nothing = QLabel("No part fits these words.", inside)
        self._nothing.setObjectName("quiet")
        self._nothing.hide()
        head = QHBoxLayout()
        head.addWidget(self._set_title, stretch=1)
        head.addWidget(add)
        head.addWidget(open_set)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._search)
        column.addWidget(self._scroll, stretch=1)
        column.addLayout(head)
        self.cards: list[PartCard] = []
        self._headings: dict[str, QLabel] = {}
        self._own: set[str] = set()
        self._shown: tuple[object, ...] = ()
        self._waiting: list[tuple[str, list[ToolPart]]] = []
        self._scrolled_to = 0
        self._fill_on = QTimer(self)
        self._fill_on.timeout.connect(self._fill_group)

    def show_parts(
        self, job: Job, set_parts: tuple[ToolPart, ...], title: str, palette: Palette, sizes: Sizes, unit: str
    ) -> None:
        """Show the parts of the job and those of the set; a part of both once, as the job has it."""
        self._set_title.setText(title)
        self._own = {part.id for part in job.parts}
        parts = (*job.parts, *(part for part in set_parts if part.id not in self._own))
        wanted = (sorted(parts, key=lambda part: part.id), sorted(self._own), palette, sizes, unit)
        if wanted == self._shown:
            return
        self._shown = wanted
        scrolled = self._scroll.verticalScrollBar().value()
        self._empty()
        self._waiting = [(group, [part for part in parts if part.kind in kinds]) for group, kinds in GROUPS.items()]
        self._card_look = (palette, sizes, unit)
        self._scrolled_to = scrolled
        if self.isVisible():
            self._fill_on.start(BEGINS_MS)  # the section and its check come first

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._waiting:
            self._fill_on.start(BEGINS_MS)

    def hideEvent(self, event: QHideEvent) -> None:
        """Cards that are made where nobody sees them are laid out too low."""
        super().hideEvent(event)
        self._fill_on.stop()

    def fill_now(self) -> None:
        """Make all cards that are still waiting to be made."""
        while self._waiting:
            self._fill_group()
        self._fill_on.stop()

    def _fill_group(self) -> None:
        """One group of cards at a time, so that the window answers meanwhile."""
        self._fill_on.setInterval(0)
        group, members = self._waiting.pop(0)
        if members:
            self._add_heading(group)
        for part in sorted(members, key=_by_kind(GROUPS[group])):
            self._add_card(PartCard(part, group, *self._card_look, is_of_job=part.id in self._own))
        if not self._waiting:
            self._fill_on.stop()
            self._column.addWidget(self._nothing)
            self._column.addStretch(1)
            QTimer.singleShot(0, self, lambda: self._scroll.verticalScrollBar().setValue(self._scrolled_to))
        self._filter(self._search.text())

    def _add_heading(self, group: str) -> None:
        heading = QLabel(group)
        heading.setObjectName("heading")
        self._headings[group] = heading
        self._column.addWidget(heading)

    def _add_card(self, card: PartCard) -> None:
        card.drag_began.connect(self.drag_began)
        card.dragged.connect(self.dragged)
        card.drag_ended.connect(self.drag_ended)
        card.put_asked.connect(self.put_asked)
        card.drawing_asked.connect(self.drawing_asked)
        card.change_asked.connect(self.change_asked)
        card.take_out_asked.connect(self.take_out_asked)
        card.take_out_of_set_asked.connect(self.take_out_of_set_asked)
        self.cards.append(card)
        self._column.addWidget(card)

    def _empty(self) -> None:
        while self._column.count():
            widget = self._column.takeAt(0).widget()
            if widget is not None and widget is not self._nothing:
                widget.hide()
                widget.deleteLater()
        self._nothing.hide()
        self.cards, self._headings = [], {}

    def _filter(self, text: str) -> None:
        words = text.lower().split()
        shown_groups = set()
        for card in self.cards:
            fits = all(word in card.words for word in words)
            card.setVisible(fits)
            if fits:
                shown_groups.add(card.group)
        for title, heading in self._headings.items():
            heading.setVisible(title in shown_groups)
        self._nothing.setVisible(not shown_groups and not self._waiting)


def _by_kind(kinds: tuple[str, ...]) -> Callable[[ToolPart], tuple[object, ...]]:
    return lambda part: (kinds.index(part.kind), size_key(part))
