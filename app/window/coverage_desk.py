"""CoverageDesk: the page of coverage in the window: made when it is first asked for, and the way back."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QStackedWidget, QStatusBar, QWidget

from app.document.samples import samples_folder, starter_set
from app.window.look import Look
from app.window.message_strip import MessageStrip
from geometry.job.job import Job

if TYPE_CHECKING:
    from app.window.coverage_page import CoveragePage

LIBRARY = "library"
SAID_MS = 10_000


class CoverageDesk(QObject):
    """What the page needs of the window: the other pages, the strip, and jobs opened at a step."""

    def __init__(
        self,
        pages: QStackedWidget,
        strip: MessageStrip,
        status: QStatusBar,
        *,
        open_path: Callable[[Path], None],
        show_job: Callable[[Job], None],
        may_close_job: Callable[[], bool],
        at_step: Callable[[int], None],
        shown: Callable[[], None],
        set_in_use: Callable[[], Path | None],
        make_part: Callable[[int], None],
    ) -> None:
        super().__init__(pages)
        self._pages, self._strip, self._status = pages, strip, status
        self._open_path, self._show_job, self._may_close_job = open_path, show_job, may_close_job
        self._at_step, self._shown, self._set_in_use, self._make_part = at_step, shown, set_in_use, make_part
        self.coverage: CoveragePage | None = None
        self._before: QWidget | None = None

    def show_coverage(self, look: Look) -> None:
        """The page; with the sample library and the set in use until others are chosen. Once more: back."""
        if self.leave():
            return
        if self.coverage is None:
            self.coverage = self._made(look)
        self._before = self._pages.currentWidget()
        self.coverage.offer_set(self._set_in_use())
        self._pages.setCurrentWidget(self.coverage)
        self.coverage.head.start.setFocus()
        self._shown()

    def leave(self) -> bool:
        """Back to the page before; False when the coverage is not on screen."""
        if self.coverage is None or self._pages.currentWidget() is not self.coverage:
            return False
        if self._before is not None:
            self._pages.setCurrentWidget(self._before)
        self._shown()
        return True

    def set_look(self, look: Look) -> None:
        if self.coverage is not None:
            self.coverage.set_look(look)

    def finish(self) -> None:
        """End a search that runs."""
        if self.coverage is not None:
            self.coverage.finish()

    def _made(self, look: Look) -> "CoveragePage":
        from app.window.coverage_page import CoveragePage  # planning and its solver, seldom needed

        page = CoveragePage(look)
        page.refused.connect(self._strip.refuse)
        page.chosen_anew.connect(self._strip.end_refusal)
        page.said.connect(lambda words: self._status.showMessage(words, SAID_MS))
        page.back_asked.connect(self.leave)
        page.job_asked.connect(self._open_job)
        page.part_asked.connect(self._size_part)
        page.file_asked.connect(self._open_file)
        self._pages.addWidget(page)
        library, tool_set = samples_folder() / LIBRARY, self._set_in_use() or starter_set()
        if library.is_dir() and tool_set is not None:
            page.choose(library=library, sets=(tool_set,))
        return page

    def _open_job(self, job: Job, step: int) -> None:
        if self._may_close_job():
            self._show_job(job)
            self._at_step(step)

    def _size_part(self, job: Job, step: int) -> None:
        if self._may_close_job():
            self._show_job(job)
            self._make_part(step)

    def _open_file(self, path: Path, step: int) -> None:
        self._open_path(path)
        if self._pages.currentWidget() is not self.coverage:  # else the user stayed with the work that is not saved
            self._at_step(step)
