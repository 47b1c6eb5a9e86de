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
LEAST_SHARE = 1 / 3
"""Of the width for the drawing: with less, one side makes room for it unless the user wants both."""


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
        self.wanted_sides: dict[str, bool] = {}
        """What the user put away or brought back, by "left" and "right"; the rest goes by the width."""
        self._shown_sides = {"left", "right"}
        self._switches = {side: actions[f"{side}-places"] for side in ("left", "right")}
        self._lay_out()
        self.set_widths(look.sizes)

    def set_widths(self, sizes: Sizes) -> None:
        """The places beside the drawing at least so wide."""
        self._sides["left"].setMinimumWidth(sizes.left)
        self._sides["right"].setMinimumWidth(sizes.right)
        if self.isVisible():
            self._arrange()

    def show_side(self, side: str, on: bool) -> None:
        """The places at one side of the drawing, or its room for the drawing; so it stays."""
        self.wanted_sides[side] = on
        self._arrange()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """On a low screen the drawing has the room; what the bar below it does is in the menu and has keys."""
        super().resizeEvent(event)
        is_low = event.size().height() < LOW_PX
        self.stack_bar.setVisible(not is_low)
        self.travel.set_brief(is_low)
        self._arrange()

    def _arrange(self) -> None:
        """The sides that the user wants; of the others first the findings, as long as the drawing keeps its share."""
        shown = {side for side, on in self.wanted_sides.items() if on}
        for side in ("right", "left"):
            taken = sum(self._sides[one].minimumWidth() for one in shown | {side})
            if side not in self.wanted_sides and taken <= (1 - LEAST_SHARE) * self.width():
                shown.add(side)
        if shown == self._shown_sides:
            return
        left, _, right = self._splitter.sizes()
        left = max(left, self._sides["left"].minimumWidth()) if "left" in shown else 0
        right = max(right, self._sides["right"].minimumWidth()) if "right" in shown else 0
        self._splitter.setSizes([left, max(self.width() - left - right, 1), right])
        self._note_shown(shown)

    def _note_shown(self, shown: set[str]) -> None:
        self._shown_sides = shown
        for side, switch in self._switches.items():
            switch.setChecked(side in shown)

    def _on_pushed(self) -> None:
        """The bar between drawing and places was moved, maybe so far that they are away."""
        left, _, right = self._splitter.sizes()
        shown = {side for side, width in (("left", left), ("right", right)) if width > 0}
        for side in shown ^ self._shown_sides:
            self.wanted_sides[side] = side in shown
        self._note_shown(shown)

    def _bring_back(self, side: str) -> None:
        """A place that is turned to is seen, even where it was pushed away."""
        if side not in self._shown_sides:
            self.show_side(side, True)

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
        splitter.splitterMoved.connect(lambda *_: self._on_pushed())
        self.left.turned.connect(lambda _: self._bring_back("left"))
        self.right.turned.connect(lambda _: self._bring_back("right"))
        self._sides = {"left": left, "right": right}
        self._note_shown(self._shown_sides)
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
