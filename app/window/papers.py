"""Papers: previews of the set-up sheet and of the drawings of parts, on their way from the screen to a file."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QApplication, QMainWindow

from app.window.message_strip import MessageStrip
from geometry.job.job import Job
from geometry.parts.part import ToolPart


class Papers(QObject):
    """Opens the previews; `folder` says where the user's files are."""

    def __init__(self, window: QMainWindow, *, strip: MessageStrip, folder: Callable[[], Path]) -> None:
        super().__init__(window)
        self._window, self._strip, self._folder = window, strip, folder

    def show_part(self, part: ToolPart | None) -> None:
        """The lathe drawing of a part."""
        if part is None:
            self._strip.say("Choose a part on the rod first, or use the menu of its card in the tray.")
            return
        from app.window.part_drawing_preview import PartDrawingPreview

        preview = PartDrawingPreview(part, folder=self._folder, parent=self._window)
        preview.refused.connect(self._strip.say)
        preview.written.connect(lambda path: self._window.statusBar().showMessage(f"Written: {path}", 8000))
        preview.open()

    def show_sheet(self, job: Job | None, *, job_file: str, save: Callable[[], str]) -> None:
        """The set-up sheet as it would be written; `save` asks where, and says what came of it."""
        if job is None:
            return
        from app.sheet.setup_sheet import lay_out
        from app.window.export import paper_of_country
        from app.window.paper_preview import PaperPreview
        from geometry.check.check import check_job

        QApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            today = date.today().isoformat()
            sheet = lay_out(
                job, check_job(job), paper=paper_of_country(), date_of_issue=today, file_name=job_file
            )
            preview = PaperPreview(sheet, save="Save as PDF…", parent=self._window)
        finally:
            QApplication.restoreOverrideCursor()
        preview.save_asked.connect(lambda: preview.say(save()))
        preview.open()
