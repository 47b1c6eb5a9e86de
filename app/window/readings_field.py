"""ReadingField: a field for what a caliper reads, by hand, by a caliper that types, or pasted from a spreadsheet."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import (
    QClipboard,
    QContextMenuEvent,
    QDropEvent,
    QFocusEvent,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
)
from PySide6.QtWidgets import QLineEdit

from geometry.job.readings_table import column_cells
from geometry.readings.readings import LONGEST_TYPED


class ReadingField(QLineEdit):
    """`accepted` for Enter, `given_up` for Escape; `column_given(text)` where several rows are pasted or dropped."""

    entered = Signal()
    accepted = Signal()
    given_up = Signal()
    column_given = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setMaxLength(LONGEST_TYPED)
        self._is_clicked_into = False

    def mark_wrong(self, wrong: bool) -> None:
        """Show that the text cannot be used."""
        if bool(self.property("wrong")) != wrong:
            self.setProperty("wrong", wrong)
            self.style().unpolish(self)
            self.style().polish(self)

    def go_on(self) -> None:
        """To the field behind this one."""
        self.focusNextChild()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.selectAll()
        self._is_clicked_into = event.reason() == Qt.FocusReason.MouseFocusReason
        self.entered.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.given_up.emit()
            return
        if event.matches(QKeySequence.StandardKey.Paste):
            self._paste(QClipboard.Mode.Clipboard)
            return
        super().keyPressEvent(event)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.accepted.emit()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.MiddleButton and self._is_column(QClipboard.Mode.Selection):
            self._paste(QClipboard.Mode.Selection)
            return
        super().mouseReleaseEvent(event)
        if self._is_clicked_into and not self.hasSelectedText():
            self.selectAll()  # the first click put the cursor somewhere; what a caliper types would go in there
        self._is_clicked_into = False

    def dropEvent(self, event: QDropEvent) -> None:
        if len(column_cells(event.mimeData().text())) > 1:
            self.column_given.emit(event.mimeData().text())
            event.acceptProposedAction()
            return
        super().dropEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        menu = self.createStandardContextMenu()
        for action in menu.actions():
            if action.objectName() == "edit-paste":
                action.triggered.disconnect()
                action.triggered.connect(lambda: self._paste(QClipboard.Mode.Clipboard))
        menu.exec(event.globalPos())
        menu.deleteLater()

    def _is_column(self, mode: QClipboard.Mode) -> bool:
        return len(column_cells(QGuiApplication.clipboard().text(mode))) > 1

    def _paste(self, mode: QClipboard.Mode) -> None:
        """Several rows go on in the fields that follow; a line edit would make repeats of one line of them."""
        text = QGuiApplication.clipboard().text(mode)
        if self._is_column(mode):
            self.column_given.emit(text)
        else:
            self.insert(" ".join(column_cells(text)))
            self.setModified(True)
            self.textEdited.emit(self.text())
