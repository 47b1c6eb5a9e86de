"""CoveragePage: a library of jobs against sets of tool parts: the map, why, worth, choices, prices, files."""

from collections.abc import Sequence
from html import escape
from pathlib import Path

from msgspec.structs import replace
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QSplitter, QVBoxLayout, QWidget

from app.document.folders import state_folder
from app.look.coverage_signs import COVER_SIGNS
from app.window.choice_box import ChoiceBox
from app.window.coverage_asking import CoverageAsking
from app.window.coverage_cell import CoverageCell
from app.window.coverage_choice import CoverageChoice
from app.window.coverage_head import CoverageHead
from app.window.coverage_inputs import CoverageInputs, read_inputs, with_added
from app.window.coverage_map import CoverageMap, MapPlace, letter_of, sign_ink
from app.window.coverage_sets import CoverageSets
from app.window.coverage_worth import CoverageWorth
from app.window.coverage_writing import CoverageWriting
from app.window.long_work import LongWork, Work
from app.window.look import Look
from app.window.style_sheet import FOR_MOUSE
from app.window.tabs import Tabs
from app.window.when_seen import ScrolledColumn
from geometry.errors import RingpathError
from geometry.job.file import read_set
from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.cover_answer import CoverAnswer, renewed, without_choice
from geometry.planning.cover_questions import Questions, answer_to
from geometry.planning.coverage import WORKERS, Coverage, HowToRun, Progress
from geometry.planning.job_cover import JobCover, job_before, job_with_stacks
from geometry.planning.step_stacks import Finder
from geometry.planning.suggested_stacks import closely_missed, some_stacks, suggested_stacks
from geometry.planning.weights import read_weights
from geometry.record import Derived

SHOWN = ("All jobs", "Missed by every set", "Missed by a set", "Cannot tell yet", "With caution")
MAP_PX, SIDE_PX = 800, 440
"""Widths at first, in the usual size; whoever needs another moves the bar between."""
CHOOSING = "all is listed; the best choice is worked out, up to a minute"
ROW_SHARE = 0.86
"""Height of a row over that of a button."""


def _with_choice(tell: Progress) -> Progress:
    """Progress of a search behind which the choice itself is worked out, which says nothing on its way."""

    def told(words: str, share: float) -> None:
        tell(words, share)
        if share >= 1.0:
            tell(CHOOSING, -1.0)

    return told


def _with_cells_of(before: CoverAnswer, after: CoverAnswer) -> CoverAnswer:
    """A later answer, with what was known already of jobs that its search did not come to before it was stopped."""
    if after.coverage.is_complete:
        return after
    cells = {**before.coverage.cells, **after.coverage.cells}
    return replace(after, coverage=replace(after.coverage, cells=cells), impossible=before.impossible)


class _Closer(Derived, frozen=True):
    """What the nearest parts lack for a cell of the map."""

    place: MapPlace
    words: tuple[str, ...]


class CoveragePage(QWidget):
    """`job_asked(job, step)` opens a job with stacks, `part_asked(job, step)` also sizes the part that is missing;
    `file_asked(path, step)` opens a file; `refused`, `said` sentences; `chosen_anew` when something was read that it
    is searched with.
    """

    job_asked = Signal(object, int)
    part_asked = Signal(object, int)
    file_asked = Signal(object, int)
    refused = Signal(str)
    said = Signal(str)
    chosen_anew = Signal()
    back_asked = Signal()

    def __init__(
        self,
        look: Look,
        *,
        finder: Finder = suggested_stacks,
        whether: Finder = some_stacks,
        closely: Finder = closely_missed,
        workers: int = WORKERS,
    ) -> None:
        """`finder` fills the map, `whether` tries sets out, `closely` looks for the nearest parts."""
        super().__init__()
        self.setObjectName("page")
        self._look, self._workers = look, workers
        self._finder, self._whether, self._closely = finder, whether, closely
        self.inputs = CoverageInputs()
        self.answer: CoverAnswer | None = None
        self._cells: dict[tuple[str, str], JobCover] = {}
        self._place: MapPlace | None = None
        self._set_in_use: Path | None = None
        self._passed_over: ToolSet | None = None
        """The set that was in use when others were chosen: it is not offered again."""
        self._asked_from: QWidget | None = None
        self._closer: dict[MapPlace, tuple[str, ...]] = {}
        self.work = LongWork(self)
        self.head = CoverageHead()
        self.map = CoverageMap(look.palette)
        self.cell = CoverageCell(look)
        self.worth = CoverageWorth(look.palette)
        self.choice = CoverageChoice()
        self.sets = CoverageSets()
        self.side = Tabs(
            {
                "Cell": self.cell,
                "Worth": ScrolledColumn(self.worth),
                "Choose a set": ScrolledColumn(self.choice),
                "Sets": ScrolledColumn(self.sets),
            }
        )
        self.shown = ChoiceBox()
        self.shown.setAccessibleName("Which jobs are shown")
        self.shown.addItems(list(SHOWN))
        self.named = QLineEdit()
        self.named.setPlaceholderText("name")
        self.named.setAccessibleName("Part of the name of the jobs that are shown")
        self._legend = QLabel()
        self._legend.setWordWrap(True)
        self.writing = CoverageWriting(self, parent=self)
        self._lay_out()
        self._connect()
        self._show_inputs()

    # what it is searched with

    def choose(
        self,
        *,
        library: Path | None = None,
        sets: Sequence[Path] | None = None,
        own: Sequence[Path] | None = None,
        weights: Path | None = None,
    ) -> None:
        """Another library, other sets; what is not given stays. What cannot be read is refused in a sentence."""
        if weights is not None and (library, sets, own) == (None, None, None):
            self._weigh(weights)
            return
        before = self.inputs
        kept_weights = before.weights_file if library in (None, before.library) else None
        try:
            inputs = read_inputs(
                library or before.library,
                tuple(sets) if sets is not None else before.set_files,
                tuple(own) if own is not None else before.own_files,
                weights or kept_weights,
            )
            if sets is None:
                inputs = with_added(inputs, before.added)
            self.inputs = inputs
        except RingpathError as error:
            self.refused.emit(str(error))
            return
        self.chosen_anew.emit()
        if sets is not None:
            self._passed_over = self._read_set_in_use()
        if self.inputs.problems:
            self.refused.emit(" ".join(str(problem) for problem in self.inputs.problems[:3]))
        self._show_inputs()

    def _weigh(self, file: Path | None) -> None:
        """Other weights, or none: the map stays as it is, what was chosen by the old ones goes."""
        try:
            weights = read_weights(file, self.inputs.jobs) if file is not None else {}
        except RingpathError as error:
            self.refused.emit(str(error))
            return
        self.chosen_anew.emit()
        self.inputs = replace(self.inputs, weights_file=file, weights=weights)
        self.head.show_inputs(self.inputs)
        if self.answer is not None:
            self.answer = without_choice(self.answer)
            self.choice.show_answer(self.answer)
            self._show_legend()

    def take_in(self, part: ToolPart) -> None:
        """A part that is not made yet is put into every set, and the map is searched anew."""
        try:
            self.inputs = with_added(self.inputs, (*self.inputs.added, part))
        except RingpathError as error:
            self.refused.emit(str(error))
            return
        self._show_inputs()
        self.start()

    def drop_added(self) -> None:
        """The sets as their files are, without the parts that were taken in."""
        self.inputs = with_added(self.inputs, ())
        self._show_inputs()

    def offer_set(self, file: Path | None) -> None:
        """Another set is in use beside the drawing, or the same with other parts: it can be taken by one click."""
        self._set_in_use = file
        tool_set = self._read_set_in_use()
        if file is None or tool_set is None or tool_set == self._passed_over or self.inputs.holds(file, tool_set):
            self.head.offer_set("")
        else:
            doing = "Add" if len(self.inputs.set_files) > 1 else "Take"
            self.head.offer_set(f"{doing} {tool_set.title} ({file.name}), the set in use")

    def _read_set_in_use(self) -> ToolSet | None:
        """The set in use as its file is now; what is wrong with it is told where it is opened."""
        try:
            return read_set(self._set_in_use) if self._set_in_use is not None else None
        except RingpathError:
            return None

    def take_set_in_use(self) -> None:
        """The map of the set in use: in place of the only set, else beside the others."""
        if self._set_in_use is not None:
            self.choose(sets=self.inputs.files_with(self._set_in_use))
            self.head.start.setFocus()  # the button that was clicked is gone
            self.start()

    def start(self) -> None:
        """Search the jobs that are not known yet."""
        self.ask(Questions())

    def ask(self, questions: Questions) -> None:
        """Ask in a thread beside the window; the searches run in processes of their own."""
        if not self.inputs.is_enough or self.work.is_running:
            return
        inputs = self.inputs
        asked = replace(questions, own=inputs.own, weights=inputs.weights)

        def find(work: LongWork) -> CoverAnswer:
            tell = _with_choice(work.tell) if asked.choice is not None else work.tell
            return answer_to(inputs.jobs, inputs.sets, asked, replace(self._how(work), progress=tell))

        self.begin(find)

    def best_stacks(self, work: LongWork, tool_set: ToolSet) -> Coverage:
        """The jobs with the best stacks of a set, searched as part of long work."""
        asked = Questions(best_stacks=True)
        return answer_to(self.inputs.jobs, (tool_set,), asked, self._how(work)).coverage

    def _how(self, work: LongWork) -> HowToRun:
        return HowToRun(
            self._finder, state_folder() / "coverage", self._workers, work.tell, work.is_stopped,
            lambda job, title, cover: work.bring((job, title, cover)), self._whether,
        )  # fmt: skip

    def set_look(self, look: Look) -> None:
        """Another palette or size."""
        self._look = look
        self.cell.set_look(look)
        for one in (self.map, self.worth):
            one.set_palette(look.palette)
        self._show_legend()
        self.map.set_row_px(self._row_px())
        self._beside.setMinimumWidth(self._side_px())

    def finish(self) -> None:
        """End the search; what was found is kept."""
        self.work.finish()

    # results

    def begin(self, find: Work) -> None:
        """Begin long work, if nothing runs."""
        if self.work.start(find):
            self._show_running()

    def _show_running(self) -> None:
        on, enough = self.work.is_running, self.inputs.is_enough
        before, had_stop = self.focusWidget(), self.head.stop.hasFocus()
        self.head.set_running(on, is_enough=enough)
        for panel in (self.cell, self.worth, self.choice, self.sets):
            panel.set_ready(enough and not on)
        if on and before is not None and not before.isEnabled():  # else the next key would reach some other button
            self._asked_from = before
            self.head.stop.setFocus()
        elif not on and had_stop:
            (self._asked_from or self.head.start).setFocus()

    def _on_came(self, found: tuple[str, str, JobCover]) -> None:
        job, title, cover = found
        if title in self.map_sets and self._cells.get((job, title)) != cover:
            self._cells[job, title] = cover
            self.map.show_cover(job, title, cover)
            if self._place is not None and (self._place.job, self._place.tool_set) == (job, title):
                self._show_cell(self._place)

    def _on_done(self, result: object) -> None:
        self._show_running()
        if isinstance(result, _Closer):
            self._closer[result.place] = result.words
            if self._place == result.place:
                self._show_cell(result.place)
            self._say_how_far()
            return
        if isinstance(result, str):
            self.head.say(result)
            self.said.emit(result)
            return
        assert isinstance(result, CoverAnswer)
        before = self.answer
        is_same = before is not None and before.coverage.jobs == result.coverage.jobs
        self.answer = renewed(before, _with_cells_of(before, result)) if is_same and before is not None else result
        self._show_answer()

    def _on_failed(self, sentence: str) -> None:
        self._show_running()
        self.refused.emit(sentence)

    @property
    def map_sets(self) -> tuple[str, ...]:
        return tuple(one.title for one in self.inputs.sets)

    def _show_inputs(self) -> None:
        inputs = self.inputs
        self.answer, self._place = None, None
        self._cells.clear()
        self._closer.clear()
        self.head.show_inputs(inputs)
        self.map.show_jobs(inputs.jobs, self.map_sets, self._row_px())
        self.cell.show_nothing()
        self.worth.show_sets(inputs.sets)
        self.sets.show_sets(inputs.sold)
        self.choice.show_answer(None)
        self.choice.show_kinds([job.kind for job in inputs.jobs.values()])
        self._show_legend()
        self._show_running()
        self._filter()
        self.offer_set(self._set_in_use)

    def _show_answer(self) -> None:
        answer = self.answer
        if answer is None:
            return
        self._show_legend()
        self.worth.show_answer(answer)
        self.choice.show_answer(answer)
        self.sets.show_answer(answer)
        self._say_how_far()
        self._filter()

    def _say_how_far(self) -> None:
        if self.answer is None:
            return
        coverage = self.answer.coverage
        if coverage.is_complete and self.work.is_stopped():
            self.head.say("stopped; what was found is kept, asking again goes on from there")
        elif coverage.is_complete:
            known = {job for title in coverage.sets for job in coverage.covered(title)}
            self.head.say(f"done by a set: {len(known)} of {len(coverage.jobs)} jobs")
        else:
            self.head.say("stopped; what was found is kept, Start goes on from there")

    def _show_legend(self) -> None:
        signs = "&nbsp;&nbsp; ".join(
            f'<span style="color:{sign_ink(sign, self._look.palette)}">{sign.symbol}</span>&nbsp;'
            f"{sign.word.replace(' ', '&nbsp;')}"
            for sign in COVER_SIGNS.values()
        )
        lines = [signs]
        if self.answer is not None:
            coverage = self.answer.coverage
            for at, title in enumerate(coverage.sets):
                letter = f"{letter_of(at)} " if len(coverage.sets) > 1 else ""
                covered = coverage.covered(title)
                careful = sum(coverage.cells[job, title].state != "covered" for job in covered)
                done = f"{len(covered)} of {len(coverage.jobs)} jobs, {careful} of them with caution"
                undecided, missed = len(coverage.undecided(title)), len(coverage.missed(title))
                waiting = len(coverage.jobs) - len(covered) - undecided - missed
                rest = f"{undecided} cannot be told yet, {missed} missed"
                rest += f", {waiting} not searched yet" if waiting else ""
                lines.append(f"<b>{letter}{escape(title)}</b>: {done}{self._by_weight(covered)}, {rest}")
        self._legend.setText("<br>".join(lines))

    def _by_weight(self, covered: Sequence[str]) -> str:
        """What the covered jobs count of all, where not every job counts the same."""
        weights, jobs = self.inputs.weights, self.inputs.jobs
        total = sum(weights.get(job, 1.0) for job in jobs)
        return f", {sum(weights.get(job, 1.0) for job in covered) / total:.0%} by weight" if weights and total else ""

    def _show_cell(self, place: MapPlace) -> None:
        self._place = place
        self.cell.show_place(place, self.inputs.jobs[place.job], self._cells.get((place.job, place.tool_set)),
                             self._closer.get(place))

    def look_closer(self) -> None:
        """Try out the nearest parts for the chosen cell, after the steps before it."""
        place = self._place
        if place is None or (place.job, place.tool_set) not in self._cells:
            return
        tool_set = self._set_of(place)
        job = job_before(self.inputs.jobs[place.job], tool_set, self._cells[place.job, place.tool_set], place.step)

        def find(work: LongWork) -> _Closer:
            work.tell("the nearest parts are tried out", -1.0)
            return _Closer(place, self._closely(job, place.step - 1, tool_set).missed_by)

        self.begin(find)

    def _set_of(self, place: MapPlace) -> ToolSet:
        return next(held for held in self.inputs.sets if held.title == place.tool_set)

    def _on_chosen(self, place: MapPlace) -> None:
        self._show_cell(place)
        self.side.turn_to("Cell")

    def _filter(self) -> None:
        wanted, words = self.shown.currentIndex(), self.named.text().strip().casefold()

        def is_shown(name: str) -> bool:
            states = [self._cells[name, title].state for title in self.map_sets if (name, title) in self._cells]
            told = (True, bool(states) and all(one == "missed" for one in states), "missed" in states,
                    "cannot tell" in states, "covered with caution" in states)[wanted]  # fmt: skip
            return told and words in f"{name} {self.inputs.jobs[name].title}".casefold()

        self.map.show_only({name for name in self.inputs.jobs if is_shown(name)})

    def _row_px(self) -> int:
        return round(self._look.sizes.control * ROW_SHARE)

    def _side_px(self) -> int:
        """Width of what stands beside the map, so that its tables need no sideways scroll in either size."""
        return round(SIDE_PX * self._look.sizes.text / FOR_MOUSE.text)

    # what is opened and written

    def open_place(self, with_stacks: bool) -> None:
        """Open the job of the chosen cell at its step."""
        place, done = self._place, self._with_stacks()
        if place is not None and with_stacks and done is not None:
            self.job_asked.emit(done, place.step - 1)
        elif place is not None:
            self.file_asked.emit(self.inputs.path_of(place.job), place.step - 1)

    def ask_part(self) -> None:
        """The part that the step of the chosen cell lacks, after the stacks of the steps before it."""
        if self._place is not None and (done := self._with_stacks()) is not None:
            self.part_asked.emit(done, self._place.step - 1)

    def _with_stacks(self) -> Job | None:
        """The job of the chosen cell with what was found for it."""
        place = self._place
        cover = self._cells.get((place.job, place.tool_set)) if place is not None else None
        if place is None or cover is None:
            return None
        return job_with_stacks(self.inputs.jobs[place.job], self._set_of(place), cover)

    def coverage(self) -> Coverage:
        """What the map shows."""
        return Coverage(dict(self.inputs.jobs), self.map_sets, dict(self._cells))

    def _lay_out(self) -> None:
        filters = QHBoxLayout()
        filters.addWidget(self.shown)
        filters.addWidget(self.named, stretch=1)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(12, 6, 8, 8)
        column.addWidget(self._legend)
        column.addLayout(filters)
        column.addWidget(self.map, stretch=1)
        right = self._beside = QWidget()
        right.setMinimumWidth(self._side_px())
        beside = QVBoxLayout(right)
        beside.setContentsMargins(8, 6, 12, 8)
        beside.addWidget(self.side)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.addWidget(left)
        split.addWidget(right)
        split.setStretchFactor(0, 3)
        split.setStretchFactor(1, 2)
        split.setChildrenCollapsible(False)
        split.setSizes([MAP_PX, SIDE_PX])
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.head)
        whole.addWidget(split, stretch=1)

    def _connect(self) -> None:
        self.work.told.connect(self.head.tell)
        self.work.came.connect(self._on_came, Qt.ConnectionType.QueuedConnection)
        self.work.done.connect(self._on_done)
        self.work.failed.connect(self._on_failed)
        self.head.start_asked.connect(self.start)
        self.head.stop_asked.connect(self.work.stop)
        self.head.back_asked.connect(self.back_asked)
        asking = self._asking = CoverageAsking(self, inputs=lambda: self.inputs, choose=self.choose)
        self.head.library_asked.connect(asking.library)
        self.head.sets_asked.connect(asking.sets)
        self.head.own_asked.connect(asking.own)
        self.head.weights_asked.connect(asking.weights)
        self.head.set_in_use_asked.connect(self.take_set_in_use)
        self.head.added_dropped.connect(self.drop_added)
        self.head.own_dropped.connect(lambda: self.choose(own=()))
        self.head.weights_dropped.connect(lambda: self._weigh(None))
        self.head.write.menu().aboutToShow.connect(lambda: self.head.offer_files(self.writing.offers()))
        self.map.chosen.connect(self._on_chosen)
        self.map.opened.connect(lambda _: self.open_place(with_stacks=True))
        self.cell.opened.connect(self.open_place)
        self.cell.closer_asked.connect(self.look_closer)
        self.cell.part_asked.connect(self.ask_part)
        self.shown.currentIndexChanged.connect(self._filter)
        self.named.textChanged.connect(self._filter)
        for panel in (self.worth, self.choice, self.sets):
            panel.asked.connect(self.ask)
        for panel in (self.worth, self.choice):
            panel.refused.connect(self.refused)
        self.choice.said.connect(self.said)
        self.worth.take_asked.connect(self.take_in)
