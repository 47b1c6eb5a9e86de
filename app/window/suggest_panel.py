"""SuggestPanel: set-ups for the step on screen or for all steps, found beside the window; what is missing in words."""

from msgspec.structs import replace
from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QFrame, QLabel, QProgressBar, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.window.flow_layout import FlowLayout
from app.window.lengths import BARE_FIGURES, sentence_text
from app.window.long_work import LongWork
from app.window.look import Look
from app.window.suggest_card import SuggestCard
from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.search import NearMiss, Suggested
from geometry.planning.sequence import taken_over
from geometry.planning.suggest import Suggestions, suggest
from geometry.record import Derived
from geometry.stack.stack import Stack

PICTURE_EVERY_MS = 20
MOST = 5
"""Set-ups that are shown for a step."""
FIRST = "Finds the set-ups that the parts at hand allow for this step, best first, each checked in full."
STALE = "The job or the parts have changed since: search again."


class Started(Derived, frozen=True):
    """What a search started from; stacks do not matter to it."""

    job: Job
    parts: frozenset[ToolPart]

    @staticmethod
    def of(job: Job, parts: tuple[ToolPart, ...]) -> "Started":
        steps = tuple(replace(step, stack=Stack(), title="", note="") for step in job.steps)
        bare = replace(job, steps=steps, parts=(), title="", summary="", sign_offs=())
        return Started(bare, frozenset(parts))


class Searched(Derived, frozen=True):
    """What a search came to in the end."""

    found: Suggestions


class SuggestPanel(QWidget):
    """`asked(title, change)`, `previewed(change, verdict)`, `size_asked(step, miss)`, `refused(sentence)`."""

    asked = Signal(str, object)
    previewed = Signal(object, str)
    size_asked = Signal(int, object)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._job: Job | None = None
        self._step, self._parts, self._look = 0, (), None
        self._found: dict[int, Suggestions] = {}
        self._cut_short: set[int] = set()
        """Steps whose search was stopped: what was found is not the best of all."""
        self._from: Started | None = None
        self._running: Started | None = None
        self._cards: list[SuggestCard] = []
        self._shown: tuple[object, ...] = ()
        self.work = LongWork(self)
        self.work.told.connect(self._on_told)
        self.work.came.connect(self._on_came)
        self.work.done.connect(lambda _: self._end())
        self.work.failed.connect(self._on_failed)
        self.step_button = QPushButton("Suggest for this step")
        self.step_button.setObjectName("main")
        self.step_button.clicked.connect(lambda: self.start(self._step))
        self.all_button = QPushButton("For all steps")
        self.all_button.clicked.connect(lambda: self.start(None))
        self.stop_button = QPushButton("Stop")
        self.stop_button.clicked.connect(self.work.stop)
        self.take_all_button = QPushButton("Take over the best of every step")
        self.take_all_button.clicked.connect(self._take_all)
        self.progress, self.doing, self.note = QProgressBar(), QLabel(), QLabel(FIRST)
        self.summary = QLabel()
        self._pictures = QTimer(self)
        self._pictures.timeout.connect(self._draw_next)
        self._lay_out()
        self._show_running(False)

    # the job

    def show_step(self, job: Job, step: int, parts: tuple[ToolPart, ...], look: Look) -> None:
        """Another job, step, set or look."""
        self._job, self._step, self._parts, self._look = job, step, parts, look
        self._show()

    def start(self, step: int | None) -> None:
        """Search for one step (from 0), or for all."""
        job = self._job
        if job is None or not job.steps or self.work.is_running:
            return
        tool_set = ToolSet(format="ringpath-set", version=1, title=job.title, parts=self._parts)
        steps = tuple(range(len(job.steps))) if step is None else (step,)
        now = self.searched_from()
        if now != self._from:
            self._found.clear()
        self._from = self._running = now

        def search(own: LongWork) -> None:
            for number, one in enumerate(steps):
                if own.is_stopped():
                    return

                def tell(words: str, share: float, number: int = number) -> None:
                    own.tell(words, (number + share) / len(steps))

                found = suggest(
                    job, one, tool_set, limit=MOST, progress=tell, show=own.bring, cancelled=own.is_stopped
                )
                own.bring(Searched(found))

        self.work.start(search)
        self._show_running(True)

    def finish(self) -> None:
        """End for good."""
        self._pictures.stop()
        self.work.finish()

    def searched_from(self) -> Started | None:
        """What a search would start from now."""
        return Started.of(self._job, self._parts) if self._job is not None else None

    @property
    def cards(self) -> tuple[SuggestCard, ...]:
        return tuple(self._cards)

    @property
    def _unit(self) -> str:
        return self._look.unit if self._look is not None else "mm"

    # the search

    def _on_told(self, words: str, share: float) -> None:
        self.progress.setValue(round(100 * share))
        self.doing.setText(words)

    def _on_came(self, what: Suggestions | Searched) -> None:
        """What is found so far, or in the end."""
        if self._running is not self._from:
            return
        found = what.found if isinstance(what, Searched) else what
        step = found.step - 1
        self._found[step] = found
        is_whole = isinstance(what, Searched) and not self.work.is_stopped()
        (self._cut_short.discard if is_whole else self._cut_short.add)(step)
        self._show()

    def _on_failed(self, sentence: str) -> None:
        self.refused.emit(sentence)
        self._end()

    def _end(self) -> None:
        self._show_running(False)
        self._show()

    def _show_running(self, running: bool) -> None:
        had_stop = self.stop_button.hasFocus()
        for button in (self.step_button, self.all_button):
            button.setEnabled(not running)
        for widget in (self.stop_button, self.progress, self.doing):
            widget.setVisible(running)
        self.progress.setValue(0)
        if had_stop and not running:  # else the next key would reach the button that takes everything over
            self.step_button.setFocus()

    # what is shown

    def _show(self) -> None:
        job, look = self._job, self._look
        if job is None or look is None:
            return
        found = self._found.get(self._step)
        fresh = self._from is not None and self._from == self.searched_from()
        now = (self._step, look.palette, look.unit)
        if (id(found), now) != self._shown:
            kept = self._cards if self._shown[1:] == (now,) else []
            self._shown = (id(found), now)
            self._fill(found, kept)
        for card in self._cards:
            card.setEnabled(fresh)
            card.show_in_use(job)
        self._list.setEnabled(fresh)
        self.note.setText(self._note(found, fresh=fresh))
        self.summary.setText(self._summary(job))
        self.summary.setVisible(len(self._found) > 1)
        is_other = fresh and not self.work.is_running and len(self._found) > 1 and self._with_best(job) != job
        self.take_all_button.setVisible(is_other)
        self.step_button.setEnabled(bool(job.steps) and not self.work.is_running)
        self.all_button.setEnabled(len(job.steps) > 1 and not self.work.is_running)

    def _note(self, found: Suggestions | None, *, fresh: bool) -> str:
        if found is None:
            return FIRST
        if not fresh:
            return STALE
        is_cut = self._step in self._cut_short
        if found.stacks:
            count = len(found.stacks)
            if is_cut and self.work.is_running and not self.work.is_stopped():
                return f"{count} found so far. Point at one to see it; click or Enter takes it over."
            if is_cut:
                return f"Stopped: {count} found until then. Point at one to see it; click or Enter takes it over."
            head = "The only set-up" if count == 1 else f"The {count} best set-ups"
            return f"{head} of {len(self._parts)} parts. Point at one to see it; click or Enter takes it over."
        if is_cut:
            return "Stopped before a set-up was found."
        bare = f"{BARE_FIGURES} " if self._unit == "in" else ""
        return f"No stack of these {len(self._parts)} parts does this step. {bare}What comes nearest:"

    def _summary(self, job: Job) -> str:
        signs = []
        for step, found in sorted(self._found.items()):
            words = found.stacks[0].check.verdict if found.stacks else "none"
            signs.append(f"{step + 1} {words}")
        return "Steps: " + " · ".join(signs)

    def _fill(self, found: Suggestions | None, kept: list[SuggestCard]) -> None:
        """A card for each set-up, those that are kept as they were; then what is missing."""
        stacks = found.stacks if found is not None else ()
        cards = {id(card.found): card for card in kept if any(card.found is one for one in stacks)}
        while self._rows.count():
            widget = self._rows.takeAt(0).widget()
            if widget is not None and widget not in cards.values():
                widget.deleteLater()
        self._cards = [cards.get(id(one)) or self._new_card(one) for one in stacks]
        for place, card in enumerate(self._cards, start=1):
            card.show_place(place)
            self._rows.addWidget(card)
        for miss in found.near_misses if found is not None else ():
            self._rows.addWidget(self._miss_row(miss))
        self._rows.addStretch(1)
        self._waiting = [card for card in self._cards if not card.has_picture]
        self._pictures.start(PICTURE_EVERY_MS) if self._waiting else self._pictures.stop()

    def _new_card(self, one: Suggested) -> SuggestCard:
        card = SuggestCard(one, self._step, self._unit)
        card.looked_at.connect(lambda card: self.previewed.emit(card.change, card.found.check.verdict))
        card.left_alone.connect(lambda: self.previewed.emit(None, ""))
        card.taken.connect(lambda card: self.asked.emit("Take over a suggested set-up", card.change))
        return card

    def _draw_next(self) -> None:
        """One picture at a time, so that the window never waits."""
        if not self._waiting or self._job is None or self._look is None:
            self._pictures.stop()
            return
        self._waiting.pop(0).show_picture(self._job, self._look.palette)

    def _miss_row(self, miss: NearMiss) -> QFrame:
        row = QFrame()
        row.setObjectName("card")
        said = sentence_text(miss.words, self._unit)
        words = QLabel(said)
        words.setWordWrap(True)
        words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        column = QVBoxLayout(row)
        column.setContentsMargins(8, 6, 8, 6)
        column.addWidget(words)
        if miss.verified:
            tried = QLabel("Tried out: the whole check accepts it.")
            tried.setObjectName("quiet")
            tried.setWordWrap(True)
            column.addWidget(tried)
        button = QPushButton("Make this part")
        button.setAccessibleName(f"Make this part: {said}")
        button.clicked.connect(lambda: self.size_asked.emit(self._step, miss))
        column.addWidget(button, alignment=Qt.AlignmentFlag.AlignLeft)
        return row

    def _take_all(self) -> None:
        self.asked.emit("Take over the best of every step", self._with_best)

    def _with_best(self, job: Job) -> Job:
        """The job with the best that was found for each of its steps."""
        for step, found in self._found.items():
            if found.stacks:
                job = taken_over(job, step, found.stacks[0])
        return job

    def _lay_out(self) -> None:
        for label in (self.note, self.doing, self.summary):
            label.setWordWrap(True)
        self.doing.setObjectName("quiet")
        self.note.setObjectName("quiet")
        self.progress.setTextVisible(False)
        self.progress.setFixedHeight(8)
        buttons = FlowLayout(gap=6)
        for button in (self.step_button, self.all_button, self.stop_button):
            buttons.addWidget(button)
        self._list = QWidget()
        self._list.setObjectName("page")
        self._rows = QVBoxLayout(self._list)
        self._rows.setContentsMargins(0, 0, 4, 0)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setWidget(self._list)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(buttons)
        for widget in (self.progress, self.doing, self.note, self.summary, self.take_all_button):
            column.addWidget(widget)
        column.addWidget(self._scroll, stretch=1)
