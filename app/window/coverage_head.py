"""CoverageHead: library and sets, start and stop, progress, and what can be written, across the coverage page."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QMenu, QProgressBar, QPushButton, QVBoxLayout, QWidget

from app.window.coverage_inputs import CoverageInputs
from app.window.coverage_map import letter_of
from app.window.flow_layout import FlowLayout

PARTS_OF_PROGRESS = 1000
SET_IN_USE = "The set that is in use beside the drawing, as its file is now; the map is searched anew"
MOST_LETTERS = 90
"""Of what is being searched; a file, a set with a new part and the state found have room."""


class CoverageHead(QFrame):
    """Asks by signals; the page does what is asked."""

    library_asked = Signal()
    sets_asked = Signal()
    own_asked = Signal()
    weights_asked = Signal()
    added_dropped = Signal()
    own_dropped = Signal()
    weights_dropped = Signal()
    start_asked = Signal()
    stop_asked = Signal()
    back_asked = Signal()
    set_in_use_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("bar")
        title = QLabel("Coverage")
        title.setObjectName("title")
        self.start = _button("Start", self.start_asked, "Search every job that is not known yet")
        self.start.setObjectName("main")
        self.stop = _button("Stop", self.stop_asked, "What was found is kept")
        self.write = QPushButton("Write to files")
        self.write.setToolTip("Tables as CSV, the map as a figure, set-up sheets of all that a set can do")
        self.write.setMenu(QMenu(self.write))
        self.back = _button("Back", self.back_asked, "To the page before (Esc)")
        self.set_in_use = _button("", self.set_in_use_asked, SET_IN_USE)
        self.set_in_use.hide()
        self.progress = QProgressBar()
        self.progress.setRange(0, PARTS_OF_PROGRESS)
        self.progress.setTextVisible(False)
        self.progress.setMaximumWidth(220)
        self.progress.setAccessibleName("Progress of the search")
        policy = self.progress.sizePolicy()
        policy.setRetainSizeWhenHidden(True)  # nothing moves when a search begins
        self.progress.setSizePolicy(policy)
        self._words = QLabel()
        self._words.setObjectName("quiet")
        self._chosen = QLabel()
        self._chosen.setWordWrap(True)
        buttons = FlowLayout(gap=6)
        self.sets = _button("Sets…", self.sets_asked, "One or more files of tool parts to search with")
        self._sets_menu = self._menu(
            (("Other sets…", self.sets_asked), ("Without the parts that were taken in", self.added_dropped))
        )
        self.own = _button("Customer has…", self.own_asked, "Sets of parts that count with every set and cost nothing")
        self._own_menu = self._menu((("Other sets…", self.own_asked), ("Nothing", self.own_dropped)))
        self.weights = _button("Weights…", self.weights_asked, "A table, job and weight: some jobs count more")
        self._weights_menu = self._menu((("Other weights…", self.weights_asked), ("None", self.weights_dropped)))
        self.library = _button("Library…", self.library_asked, "The folder with the job files of your range")
        self._inputs = (self.library, self.sets, self.own, self.weights, self.set_in_use)
        for button in (*self._inputs[:-1], self.start, self.stop, self.write, self.back):
            buttons.addWidget(button)
        first = QHBoxLayout()
        first.addWidget(title)
        first.addSpacing(12)
        first.addLayout(buttons, stretch=1)
        second = QHBoxLayout()
        second.addWidget(self._chosen, stretch=1)
        second.addWidget(self.set_in_use)
        second.addWidget(self._words)
        second.addWidget(self.progress)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 6)
        column.setSpacing(6)
        column.addLayout(first)
        column.addLayout(second)
        self.set_running(False, is_enough=False)

    def show_inputs(self, inputs: CoverageInputs) -> None:
        """Name what was chosen."""
        library = f"{len(inputs.jobs)} jobs in {inputs.library.name}" if inputs.library is not None else "no library"
        many = len(inputs.sets) > 1
        sets = [f"{letter_of(at)} {one.title}" if many else one.title for at, one in enumerate(inputs.sets)]
        own = f"; the customer has {', '.join(one.title for one in inputs.own)}" if inputs.own else ""
        weights = f"; weights from {inputs.weights_file.name}" if inputs.weights_file is not None else ""
        self._chosen.setText(f"{library}; {', '.join(sets) or 'no set'}{own}{weights}")
        self.sets.setMenu(self._sets_menu if inputs.added else None)
        self.own.setMenu(self._own_menu if inputs.own else None)
        self.weights.setMenu(self._weights_menu if inputs.weights_file is not None else None)

    def offer_set(self, words: str) -> None:
        """The set in use, where the map is of others; empty: it is of that one."""
        self.set_in_use.setText(words)
        self.set_in_use.setVisible(bool(words) and self.set_in_use.isEnabled())

    def set_running(self, on: bool, *, is_enough: bool) -> None:
        """Whether a search runs, and whether there is enough to search with."""
        self.start.setEnabled(is_enough and not on)
        self.stop.setEnabled(on)
        for button in self._inputs:
            button.setEnabled(not on)  # what is being searched stays what it says
        self.set_in_use.setVisible(bool(self.set_in_use.text()) and not on)  # the room is for what is being searched
        self.write.setEnabled(is_enough and not on)
        self.progress.setVisible(on)
        if not on:
            self._words.setText("")

    def tell(self, words: str, share: float) -> None:
        """How far the search is; below 0: it takes its time, nobody knows how long."""
        self.progress.setRange(0, PARTS_OF_PROGRESS if share >= 0.0 else 0)
        self.progress.setValue(round(PARTS_OF_PROGRESS * min(max(share, 0.0), 1.0)))
        self._words.setText(words if len(words) <= MOST_LETTERS else f"{words[: MOST_LETTERS - 1]}…")

    def say(self, words: str) -> None:
        """What came of it."""
        self._words.setText(words)

    def _menu(self, offers: Sequence[tuple[str, Signal]]) -> QMenu:
        """What a choice that was made can be changed to."""
        menu = QMenu(self)
        for text, signal in offers:
            menu.addAction(text).triggered.connect(lambda _=False, signal=signal: signal.emit())
        return menu

    def offer_files(self, offers: Sequence[tuple[str, Callable[[], object]]]) -> None:
        """What can be written, in the menu of the button."""
        menu = self.write.menu()
        menu.clear()
        for text, write in offers:
            menu.addAction(text).triggered.connect(lambda _=False, write=write: write())

    @property
    def words(self) -> str:
        return self._words.text()


def _button(text: str, signal: Signal, meaning: str) -> QPushButton:
    button = QPushButton(text)
    button.setToolTip(meaning)
    button.clicked.connect(lambda: signal.emit())
    return button
