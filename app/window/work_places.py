"""WorkPlaces: the drawing of a step, the places to its left, right and below, and how they are laid out."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QSizePolicy, QSplitter, QVBoxLayout, QWidget

from app.section_view.section_view import SectionView
from app.window.actions import Actions
from app.window.centring_panel import CentringPanel
from app.window.checked_list import CheckedList
from app.window.findings_panel import FindingsPanel
from app.window.forces_panel import ForcesPanel
from app.window.look import Look
from app.window.new_part_place import NewPartPlace
from app.window.places_table import PlacesTable
from app.window.readings_in_section import ReadingsInSection
from app.window.readings_panel import ReadingsPanel
from app.window.shown_overlays import ShownOverlays
from app.window.stack_bar import StackBar
from app.window.step_panel import StepPanel
from app.window.step_strip import StepStrip
from app.window.style_sheet import Sizes
from app.window.suggest_place import SuggestPlace
from app.window.tabs import Tabs
from app.window.travel_panel import TravelPanel
from app.window.tray import Tray
from app.window.verdict_banner import VerdictBanner
from geometry.job.changes import Change

LOW_PX = 430
"""Below this height of the page what is not the drawing makes room for it."""


class WorkPlaces(QWidget):
    """The places by themselves; `try_change` tells whether a change could be made, by what it raises."""

    def __init__(
        self, actions: Actions, look: Look, try_change: Callable[[Change], None], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setObjectName("page")
        self.view = SectionView(look.ink)
        self.overlays = ShownOverlays(self.view)
        self.banner = VerdictBanner()
        self.findings = FindingsPanel()
        self.forces = ForcesPanel()
        self.checked = CheckedList()
        self.places = PlacesTable()
        self.centring = CentringPanel()
        self.tray = Tray()
        self.step_panel = StepPanel()
        self.readings = ReadingsPanel(try_change)
        self.in_section = ReadingsInSection(self.view, self.readings, self.overlays)
        self.new_part = NewPartPlace(self.view)
        self.suggest = SuggestPlace()
        self.strip = StepStrip(actions)
        self.travel = TravelPanel(actions, look.palette)
        self.stack_bar = StackBar(actions)
        self.left = Tabs(
            {
                "Step": self.step_panel,
                "Parts": self.tray,
                "Suggest": self.suggest,
                "Readings": self.readings,
                "New part": self.new_part,
            }
        )
        self.right = Tabs(
            {
                "Findings": self.findings,
                "Forces": self.forces,
                "Centring": self.centring,
                "Places": self.places,
                "Checked": self.checked,
            }
        )
        self.left.turn_to("Parts")
        self._lay_out()
        self.set_widths(look.sizes)

    def set_widths(self, sizes: Sizes) -> None:
        """The places beside the drawing at least so wide."""
        self._sides[0].setMinimumWidth(sizes.left)
        self._sides[1].setMinimumWidth(sizes.right)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """On a low screen the drawing has the room; what the bar below it does is in the menu and has keys."""
        super().resizeEvent(event)
        is_low = event.size().height() < LOW_PX
        self.stack_bar.setVisible(not is_low)
        self.travel.set_brief(is_low)

    def _bring_back(self, at: int) -> None:
        """A place that is turned to is seen, even where it was pushed away."""
        sizes = self._splitter.sizes()
        if sizes[1] > 0 and sizes[at] == 0:
            sizes[at] = self._splitter.widget(at).minimumWidth()
            self._splitter.setSizes(sizes)

    def _lay_out(self) -> None:
        drawing = QFrame()
        drawing.setObjectName("drawing-frame")
        column = _column(drawing, self.view, self.stack_bar)
        column.setStretch(0, 1)
        left, right = QWidget(), QWidget()
        left.setObjectName("left-panel")
        right.setObjectName("right-panel")
        _column(left, self.left, margins=(8, 6, 6, 6))
        _column(right, self.banner, self.right, margins=(6, 6, 8, 6)).setStretch(1, 1)
        splitter = QSplitter(Qt.Orientation.Horizontal)
        for widget in (left, drawing, right):
            splitter.addWidget(widget)
        splitter.setStretchFactor(1, 1)
        splitter.setCollapsible(1, False)  # the places beside it can be pushed away, for a small screen
        self._splitter = splitter
        self.left.turned.connect(lambda _: self._bring_back(0))
        self.right.turned.connect(lambda _: self._bring_back(2))
        self._sides = (left, right)
        foot = QWidget()
        foot.setObjectName("foot")
        foot.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        _column(foot, self.strip, self.travel)
        _column(self, splitter, foot).setStretch(0, 1)


def _column(parent: QWidget, *widgets: QWidget, margins: tuple[int, int, int, int] = (0, 0, 0, 0)) -> QVBoxLayout:
    column = QVBoxLayout(parent)
    column.setContentsMargins(*margins)
    column.setSpacing(6 if margins != (0, 0, 0, 0) else 0)
    for widget in widgets:
        column.addWidget(widget)
    return column
