"""MessageStrip: a sentence across the window, with a way to answer it."""

from collections.abc import Callable

from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget


class MessageStrip(QFrame):
    """Stays until it is answered; nothing pops up over the work. A refusal goes with the next change that is done."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("strip")
        self._text = QLabel()
        self._text.setWordWrap(True)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(12, 6, 8, 6)
        self._row.addWidget(self._text, stretch=1)
        self._answers: list[QPushButton] = []
        self._is_refusal = False
        close = QPushButton("Close")
        close.setAccessibleName("Close the message")
        close.clicked.connect(self.hide)
        self._row.addWidget(close)
        self.hide()

    def say(self, text: str, answers: dict[str, Callable[[], object]] | None = None) -> None:
        """Show a sentence with its answers."""
        for button in self._answers:
            button.hide()
            button.deleteLater()
        self._answers = []
        for number, (name, answer) in enumerate((answers or {}).items()):
            button = QPushButton(name)
            button.clicked.connect(lambda _, answer=answer: (self.hide(), answer()))
            self._row.insertWidget(1 + number, button)
            self._answers.append(button)
        self._text.setText(text)
        self._is_refusal = False
        self.show()

    def refuse(self, text: str, answers: dict[str, Callable[[], object]] | None = None) -> None:
        """Show why a change was not made, or a file not written."""
        self.say(text, answers)
        self._is_refusal = True

    def end_refusal(self) -> None:
        """A change was made or a file written: what was refused before is mended or given up."""
        if self._is_refusal:
            self.hide()

    @property
    def text(self) -> str:
        return self._text.text() if not self.isHidden() else ""
