"""StartPage: work that a crash left, recent files, and the sample jobs as cards that open checked."""

from html import escape
from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.checking.deep_check import DeepCheck
from app.document.autosave import Leftover, discard, leftovers
from app.document.recent_files import recent_files
from app.document.samples import sample_jobs
from app.look.palette import Palette
from app.window.flow_layout import FlowLayout
from app.window.sample_card import SampleCard
from geometry.check.finding import Verdict, worst_verdict
from geometry.check.result import StepCheck
from geometry.errors import RingpathError
from geometry.job.file import read_job
from geometry.job.job import Job


class StartPage(QScrollArea):
    """`file_asked(path)`, `open_asked()`, `new_asked()`, `recover_asked(leftover)`, `tour_asked()`, `back_asked()`,
    `library_asked()`, `coverage_asked()`.
    """

    file_asked = Signal(object)
    open_asked = Signal()
    new_asked = Signal()
    recover_asked = Signal(object)
    tour_asked = Signal()
    back_asked = Signal()
    library_asked = Signal()
    coverage_asked = Signal()

    def __init__(self, palette: Palette, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self._palette = palette
        self._waiting: list[Path] = []
        self._jobs: list[tuple[Job, SampleCard]] = []
        self._verdicts: dict[int, dict[int, Verdict]] = {}
        self._worker = DeepCheck(self)
        self._worker.done.connect(self._on_checked)
        self._worker.failed.connect(lambda job, step, _: self._note(job, step, "cannot tell"))
        inside = QWidget()
        inside.setObjectName("page")
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(28, 20, 28, 20)
        self._column.setSpacing(10)
        self._column.addLayout(self._head())
        self._left_behind = QVBoxLayout()
        self._column.addLayout(self._left_behind)
        self._recent = FlowLayout(gap=8)
        self._recent_title = _heading("Recent files")
        self._column.addWidget(self._recent_title)
        self._column.addLayout(self._recent)
        self._column.addWidget(_heading("Sample jobs"))
        self._whole = FlowLayout(gap=14)
        self._column.addLayout(self._whole)
        self._column.addWidget(_heading("Samples with one thing wrong"))
        self._mistakes = FlowLayout(gap=14)
        self._column.addLayout(self._mistakes)
        self._column.addStretch(1)
        self.setWidget(inside)

    def offer_back(self, title: str) -> None:
        """A way back to the job of this title that is open; without one there is none."""
        self.back.setVisible(bool(title))
        self.back.setToolTip(f"{title} (Esc)")

    def begin(self) -> None:
        """Fill the page, a card at a time, so that the window answers meanwhile."""
        self.refresh()
        if not self._jobs:
            self._waiting = list(sample_jobs())
            QTimer.singleShot(0, self, self._add_next)

    def refresh(self) -> None:
        """Recent files and left-over work as they are now."""
        _empty(self._recent)
        files = recent_files()
        self._recent_title.setVisible(bool(files))
        for path in files:
            button = QPushButton(path.name)
            button.setToolTip(str(path))
            button.clicked.connect(lambda _, path=path: self.file_asked.emit(path))
            self._recent.addWidget(button)
        _empty(self._left_behind)
        for leftover in leftovers():
            self._left_behind.addWidget(self._leftover_strip(leftover))

    def card_of(self, sample: str) -> SampleCard | None:
        """The card of a sample by the name of its file, brought into sight; None before it is made."""
        card = next((card for _, card in self._jobs if card.path.stem == sample), None)
        if card is not None and card.visibleRegion().isEmpty():
            self.ensureWidgetVisible(card)
        return card

    def title_of(self, sample: str) -> str | None:
        """The title of a sample by the name of its file; None before its card is made."""
        return next((job.title for job, card in self._jobs if card.path.stem == sample), None)

    def set_palette(self, palette: Palette) -> None:
        self._palette = palette
        for job, card in self._jobs:
            card.show_picture(job, palette)

    def finish(self) -> None:
        """End the worker."""
        self._waiting.clear()
        self._worker.finish()

    def _head(self) -> QHBoxLayout:
        title = QLabel("Ringpath")
        title.setObjectName("title")
        question = QLabel(
            "If I tighten this nut, where does the force go, does everything stay square, and does it fit?"
        )
        question.setWordWrap(True)
        open_button = QPushButton("Open a job…")
        open_button.setObjectName("main")
        open_button.clicked.connect(self.open_asked)
        new_button = QPushButton("New job…")
        new_button.clicked.connect(self.new_asked)
        tour_button = QPushButton("Tour")
        tour_button.setToolTip("Five minutes with two samples: it tells, you do.")
        tour_button.clicked.connect(self.tour_asked)
        library = QPushButton("Library")
        library.setToolTip("Find a job by its bearings, axle, kind or name; trials (Ctrl+B)")
        library.clicked.connect(self.library_asked)
        coverage = QPushButton("Coverage")
        coverage.setToolTip("Which jobs of a library a set of parts does, and what the others lack (Ctrl+K)")
        coverage.clicked.connect(self.coverage_asked)
        self.back = QPushButton("Back to the job")
        self.back.clicked.connect(self.back_asked)
        self.back.hide()
        words = QVBoxLayout()
        words.addWidget(title)
        words.addWidget(question)
        drop = QLabel("Open a job, or drop its file anywhere on this window.")
        drop.setObjectName("quiet")
        words.addWidget(drop)
        row = QHBoxLayout()
        row.addLayout(words, stretch=1)
        row.addWidget(self.back)
        for button in (library, coverage):
            row.addWidget(button)
        row.addWidget(tour_button)
        row.addWidget(new_button)
        row.addWidget(open_button)
        return row

    def _leftover_strip(self, leftover: Leftover) -> QFrame:
        strip = QFrame()
        strip.setObjectName("strip")
        row = QHBoxLayout(strip)
        origin = f", belongs to {leftover.origin.name}" if leftover.origin else ""
        text = QLabel(f"Unsaved work was kept: <b>{escape(leftover.job.title)}</b>{origin}")
        text.setTextFormat(Qt.TextFormat.RichText)
        row.addWidget(text, stretch=1)
        recover, drop = QPushButton("Go on with it"), QPushButton("Throw away")
        recover.setObjectName("main")
        recover.clicked.connect(lambda: self.recover_asked.emit(leftover))
        drop.clicked.connect(lambda: (discard(leftover.file), strip.hide()))
        row.addWidget(recover)
        row.addWidget(drop)
        return strip

    def _add_next(self) -> None:
        if not self._waiting:
            self._worker.ask_whole([(job, step) for job, _ in self._jobs for step in range(len(job.steps))])
            return
        path = self._waiting.pop(0)
        try:
            job = read_job(path)
        except RingpathError:
            job = None  # a damaged installation; the other samples are still of use
        if job is not None:
            card = SampleCard(path, job.title, job.summary)
            card.opened.connect(self.file_asked)
            card.show_picture(job, self._palette)
            (self._mistakes if path.parent.name == "mistakes" else self._whole).addWidget(card)
            self._jobs.append((job, card))
        QTimer.singleShot(0, self, self._add_next)

    def _on_checked(self, job: Job, step: int, check: StepCheck) -> None:
        self._note(job, step, check.verdict)

    def _note(self, job: Job, step: int, verdict: Verdict) -> None:
        """A job's verdict is shown once all its steps are checked."""
        for number, (one, card) in enumerate(self._jobs):
            if one is job:
                known = self._verdicts.setdefault(number, {})
                known[step] = verdict
                if len(known) == len(job.steps):
                    card.show_verdict(worst_verdict(tuple(known.values())))


def _heading(text: str) -> QLabel:
    label = QLabel(text)
    label.setObjectName("heading")
    return label


def _empty(layout) -> None:  # noqa: ANN001
    while layout.count():
        item = layout.takeAt(0)
        if item.widget() is not None:
            item.widget().hide()
            item.widget().deleteLater()
