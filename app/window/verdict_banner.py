"""VerdictBanner: the verdict of the step on screen, by colour, symbol and word."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.checking.step_checks import ShownCheck
from app.look.verdicts import VERDICTS
from geometry.check.finding import Verdict


class VerdictBanner(QFrame):
    """Large symbol and word; nothing looks good while a check is still running."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("banner")
        self._symbol = QLabel("…")
        self._symbol.setObjectName("banner-symbol")
        self._symbol.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._symbol.setMinimumWidth(44)
        self._word = QLabel()
        self._word.setObjectName("banner-word")
        self._sentence = QLabel()
        self._sentence.setWordWrap(True)
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(self._word)
        words.addWidget(self._sentence)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 8, 10, 8)
        row.addWidget(self._symbol)
        row.addLayout(words, stretch=1)

    def show_check(self, shown: ShownCheck, *, is_preview: bool) -> None:
        """Show the verdict of a check, or that it is not known yet."""
        verdict = shown.verdict
        if verdict is None:
            word = "IF YOU LET GO" if is_preview else "CHECKING"
            self._show("", "…", word, _so_far(shown))
            return
        sign = VERDICTS[verdict]
        self._show(verdict, sign.symbol, sign.word, shown.sentence or sign.meaning)

    def show_foretold(self, verdict: Verdict) -> None:
        """The verdict of a set-up that is only looked at, checked in full when it was found."""
        sign = VERDICTS[verdict]
        self._show(verdict, sign.symbol, sign.word, "If you take it over; checked in full.")

    def show_nothing(self, word: str, sentence: str) -> None:
        """No step, no verdict."""
        self._show("", "–", word, sentence)

    @property
    def word(self) -> str:
        return self._word.text()

    def _show(self, verdict: str, symbol: str, word: str, sentence: str) -> None:
        self._symbol.setText(symbol)
        self._word.setText(word)
        self._sentence.setText(sentence)
        if self.property("verdict") != verdict:
            self.setProperty("verdict", verdict)
            for widget in (self, self._symbol, self._word):
                widget.style().unpolish(widget)
                widget.style().polish(widget)


def _so_far(shown: ShownCheck) -> str:
    """What the quick check has found; the travel is not checked yet."""
    findings = shown.check.findings if shown.check is not None else ()
    faults = sum(1 for finding in findings if finding.severity == "fault")
    cautions = sum(1 for finding in findings if finding.severity == "caution")
    if not faults and not cautions:
        return "Nothing against it at the start; travel not checked yet."
    return f"{counted(faults, 'fault')} and {counted(cautions, 'caution')} at the start; travel not checked yet."


def counted(number: int, noun: str) -> str:
    """`1 fault`, `2 faults`, `no faults`."""
    return f"{number or 'no'} {noun}{'' if number == 1 else 's'}"
