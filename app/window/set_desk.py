"""SetDesk: the set in use and its file, and the parts that are added to it, changed, kept in it and taken out."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QMainWindow

from app.window.message_strip import MessageStrip
from app.window.work_page import WorkPage
from geometry.errors import RingpathError
from geometry.job import changes
from geometry.job.file import read_set
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet


class SetDesk(QObject):
    """`path` is the file of the set in use; `prefer` stores it for the next start, `folder` is where the job is."""

    def __init__(
        self,
        window: QMainWindow,
        strip: MessageStrip,
        work: WorkPage,
        *,
        prefer: Callable[..., None],
        folder: Callable[[], Path],
    ) -> None:
        super().__init__(window)
        self._window, self._strip, self._work, self._prefer, self._folder = window, strip, work, prefer, folder
        self.path: Path | None = None
        tray = work.tray
        tray.change_asked.connect(self.change_part)
        tray.take_out_asked.connect(self._take_out_of_job)
        tray.take_out_of_set_asked.connect(self._take_out_of_set)
        tray.add_asked.connect(self.add_part)
        work.new_part.keep_asked.connect(self._keep_part)

    def show(self, path: Path | None) -> None:
        """Put the parts of a set into the tray; what cannot be read becomes a sentence."""
        if path is None:
            return
        try:
            tool_set = read_set(path)
        except RingpathError as error:
            self._strip.say(str(error))
            return
        self.path = path
        self._work.set_tool_set(tool_set.parts, tool_set.title)
        self._window.statusBar().showMessage(f"Tool set: {tool_set.title}", 6000)

    def use(self, path: Path) -> None:
        """The same, and for the next start too."""
        self.show(path)
        self._prefer(tool_set=str(path.resolve()))

    def add_part(self) -> None:
        """A part of the user's own, into the set in use."""
        part = self._typed(None)
        if part is None:
            return
        if part.id in {one.id for one in self._work.tray_parts}:
            self._strip.say(f"Name on the part: found {part.id}, which is there already, expected another name.")
        else:
            self._put_into_set(part, "is in")

    def change_part(self, part: ToolPart) -> None:
        """Other sizes, stock, price or name for a part, in the job and in the set that have it."""
        changed, job = self._typed(part), self._work.job
        if changed is None:
            return
        if job is not None and any(one.id == part.id for one in job.parts):
            self._work.apply(f"Change {part.id}", lambda job: changes.set_tool_part(job, id=part.id, part=changed))
        if any(one.id == part.id for one in self._work.set_parts):
            self._put_into_set(changed, "is changed in")

    def change_chosen(self) -> None:
        """The same for the part that is chosen on the rod."""
        if self._work.chosen_part is not None:
            self.change_part(self._work.chosen_part)

    def _typed(self, part: ToolPart | None) -> ToolPart | None:
        """A part as it was typed; None where nothing was."""
        from app.window.part_dialog import PartDialog

        look = self._work.look
        dialog = PartDialog(part, look.palette, look.unit, self._window)
        given = dialog.exec() == PartDialog.DialogCode.Accepted and dialog.part != part
        return dialog.part if given else None

    def _take_out_of_job(self, part: ToolPart) -> None:
        self._work.apply(f"Take out {part.id}", lambda job: changes.remove_tool_part(job, id=part.id))

    def _take_out_of_set(self, part: ToolPart) -> None:
        from geometry.planning.part_names import without_part

        self._change_set(lambda one: without_part(one, part.id), f"{part.id} is no more in")

    def _put_into_set(self, part: ToolPart, said: str) -> None:
        from geometry.planning.part_names import with_part

        self._change_set(lambda one: with_part(one, part), f"{part.id} {said}")

    def _change_set(self, change: Callable[[ToolSet], ToolSet], said: str) -> None:
        """The set in use with a change, in its file."""
        from app.window.set_keeping import change_set

        self._use_what_is_written(lambda: change_set(self._window, change, self.path, folder=self._folder()), said)

    def _keep_part(self, part: ToolPart) -> None:
        """A new part into a set file that is asked for, which then is the set in use."""
        from app.window.set_keeping import keep_in_set

        said = f"{part.id} is in"
        self._use_what_is_written(lambda: keep_in_set(self._window, part, self.path, folder=self._folder()), said)

    def _use_what_is_written(self, written: Callable[[], Path | None], said: str) -> None:
        try:
            path = written()
        except RingpathError as error:
            self._strip.say(str(error))
            return
        if path is not None:
            self.use(path)
            self._window.statusBar().showMessage(f"{said} {path}, which is the set in use now", 8000)
