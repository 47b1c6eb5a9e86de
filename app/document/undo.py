"""The one undo command: it keeps the job before and after a change."""

from collections.abc import Callable

from PySide6.QtGui import QUndoCommand

from geometry.job.job import Job

MERGES = 1
STANDS_ALONE = -1


class JobChange(QUndoCommand):
    """One entry of the undo list; changes of one gesture melt into one entry."""

    def __init__(
        self, title: str, before: Job, after: Job, show: Callable[[Job], None], gesture: object = None
    ) -> None:
        super().__init__(title)
        self._before, self._after, self._show, self._gesture = before, after, show, gesture

    def redo(self) -> None:
        self._show(self._after)

    def undo(self) -> None:
        self._show(self._before)

    def id(self) -> int:
        return STANDS_ALONE if self._gesture is None else MERGES

    def mergeWith(self, other: QUndoCommand) -> bool:
        """Take in a later change of the same gesture; a gesture that ends where it began leaves no entry."""
        if not isinstance(other, JobChange) or other._gesture != self._gesture:
            return False
        self._after = other._after
        self.setObsolete(self._after == self._before)
        return True
