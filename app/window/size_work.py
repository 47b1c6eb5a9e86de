"""SizeWork: sizing in a thread beside the window, so that it can be told of and stopped."""

from PySide6.QtCore import QObject, Signal

from app.window.long_work import LongWork
from geometry.errors import RingpathError
from geometry.facts.workshop import ShopPrices
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.sized_part import NotSized, SizedPart, Task


class StoppedError(RingpathError):
    """The user stopped the sizing."""


class SizeWork(QObject):
    """`told(words, share)`, then `found(SizedPart or NotSized)` or `failed(sentence)`."""

    told = Signal(str, float)
    found = Signal(object)
    failed = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._work = LongWork(self)
        self._work.told.connect(self.told)
        self._work.done.connect(self.found)
        self._work.failed.connect(self.failed)

    @property
    def is_running(self) -> bool:
        return self._work.is_running

    def size(self, task: Task, tool_set: ToolSet, role: str | None, prices: ShopPrices, batch: int) -> None:
        """Size a part for a step."""

        def work(own: LongWork) -> SizedPart | NotSized:
            from geometry.planning.size_part import size_part

            return size_part((task,), tool_set, role=role, prices=prices, batch=batch, progress=_Teller(own))

        self._work.start(work)

    def resize(self, before: SizedPart, part: ToolPart, tool_set: ToolSet, prices: ShopPrices, batch: int) -> None:
        """Work out windows, tolerances and proof of a part that was changed by hand."""

        def work(own: LongWork) -> SizedPart:
            from geometry.planning.size_part import resized

            return resized(before, part, tool_set, prices=prices, batch=batch, progress=_Teller(own))

        self._work.start(work)

    def stop(self) -> None:
        self._work.stop()

    def finish(self) -> None:
        """End for good."""
        self._work.finish()


class _Teller:
    """Passes progress on, and breaks the work off where it was stopped."""

    def __init__(self, work: LongWork) -> None:
        self._work = work

    def __call__(self, words: str, share: float) -> None:
        if self._work.is_stopped():
            raise StoppedError("Stopped; nothing was changed.")
        self._work.tell(words, share)
