"""TravelPanel: the slider that presses the bearing through the step, in steps if wished, and the curve."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSlider, QVBoxLayout, QWidget

from app.look.palette import Palette
from app.window.actions import Actions
from app.window.lengths import length_text, sentence_text
from app.window.stack_bar import twin_button
from app.window.travel_curve import TravelCurve
from geometry.check.result import Moment, StepCheck
from geometry.check.wording import newtons

BUTTONS = (("travel-start", "|◁ Start"), ("travel-back", "◁"), ("travel-on", "▷"), ("travel-end", "End ▷|"))

NOT_CHECKED = "Travel: not known until the step is checked"
NOTHING_MOVES = "Travel: nothing moves with this stack"


class TravelPanel(QWidget):
    """`moved(moment)` when another moment is wanted."""

    moved = Signal(int)

    def __init__(self, actions: Actions, palette: Palette, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._slider = QSlider(Qt.Orientation.Horizontal)
        self._slider.setAccessibleName("Travel")
        self._slider.setPageStep(1)
        self._slider.valueChanged.connect(self._on_moved)
        self._says = QLabel()
        self._force = QLabel()
        self._force.setObjectName("quiet")
        self._says.setWordWrap(True)
        self._force.setWordWrap(True)
        self._curve = TravelCurve(palette)
        self._check: StepCheck | None = None
        self._unit = "mm"
        buttons = QHBoxLayout()
        buttons.setSpacing(4)
        for id, text in BUTTONS:
            buttons.addWidget(twin_button(actions, id, text))
        buttons.addWidget(self._slider, stretch=1)
        left = QVBoxLayout()
        left.setSpacing(4)
        left.addWidget(self._says)
        left.addLayout(buttons)
        left.addWidget(self._force)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 4, 8, 4)
        row.addLayout(left, stretch=3)
        row.addWidget(self._curve, stretch=2)

    def show_check(self, check: StepCheck | None, moment: int, unit: str) -> None:
        """Show the travel of a check; None while there is none."""
        self._check, self._unit = check, unit
        moments = check.moments if check is not None else ()
        self._slider.blockSignals(True)
        self._slider.setRange(0, max(len(moments) - 1, 0))
        self._slider.setValue(moment)
        self._slider.blockSignals(False)
        self.setEnabled(len(moments) > 1)
        self._tell()

    def set_brief(self, on: bool) -> None:
        """Slider and moment only, or with the force below and beside them."""
        self._force.setVisible(not on)
        self._curve.setVisible(not on)

    def set_palette(self, palette: Palette) -> None:
        self._curve.set_palette(palette)

    def step(self, by: int) -> None:
        """Some moments on or back."""
        self._slider.setValue(self._slider.value() + by)

    def go_to_end(self) -> None:
        self._slider.setValue(self._slider.maximum())

    @property
    def moment(self) -> int:
        return self._slider.value()

    def _on_moved(self, value: int) -> None:
        self._tell()
        self.moved.emit(value)

    def _tell(self) -> None:
        check = self._check
        if check is None or not check.moments:
            self._says.setText(NOT_CHECKED if check is None else NOTHING_MOVES)
            self._force.setText("")
            self._curve.show_curve(None, None, 0.0, self._unit)
            return
        moment = check.moments[min(self._slider.value(), len(check.moments) - 1)]
        self._says.setText(moment_words(check, moment, self._unit))
        self._force.setText(step_words(check, self._unit))
        needed_mm = check.travel.needed_mm if check.travel is not None else 0.0
        self._curve.show_curve(
            check.force_travel, check.force_n, moment.travel_mm, self._unit, needed_mm=needed_mm
        )


def moment_words(check: StepCheck, moment: Moment, unit: str) -> str:
    """Where the bearing is at a moment, and the force."""
    needed = f" of {length_text(round(check.travel.needed_mm, 2), unit)}" if check.travel is not None else ""
    words = f"Travel {length_text(round(moment.travel_mm, 2), unit)}{needed} · force {newtons(moment.force_n)}"
    through = [f"{id} {newtons(n)}" for id, n in moment.balls_n.items() if n >= 5.0]
    return f"{words} · through the balls: {', '.join(through)}" if through else words


def step_words(check: StepCheck, unit: str) -> str:
    """Force, torque, home and rod of the whole step."""
    words = []
    if check.force_n is not None:
        words.append(f"Force {newtons(check.force_n.low)} to {newtons(check.force_n.high)}")
    if check.torque_nm is not None:
        words.append(f"torque {check.torque_nm.low:.1f} to {check.torque_nm.high:.1f} Nm")
    if check.home:
        words.append(f"home: {sentence_text(check.home, unit)}")
    if check.rod is not None:
        words.append(f"rod {length_text(round(check.rod.spare_mm, 2), unit)} to spare")
    return " · ".join(words)
