"""FindingsPanel: what the check found, grouped by severity; each with its place, its sum and its way out."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from app.look.verdicts import SEVERITIES
from app.window.when_seen import ScrolledColumn
from geometry.check.finding import Finding
from geometry.check.in_words import chance_in_words

ORDER = ("fault", "caution", "note")
Subject = tuple[str, tuple[str, ...]]
HEADINGS = {"fault": "Faults", "caution": "Cautions", "note": "Worth knowing"}


class FindingsPanel(ScrolledColumn):
    """`place_asked` wants the place of a finding on screen, `fix_asked` its way out applied.

    `line_asked(line, instrument)`: to the line of the reading sheet that a finding asks for, and what to read it with.
    """

    place_asked = Signal(object)
    fix_asked = Signal(object)
    line_asked = Signal(str, str)

    def __init__(self) -> None:
        super().__init__()
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 4, 0)
        self._empty = QLabel("No findings.")
        self._empty.setObjectName("quiet")
        self._empty.setWordWrap(True)
        column.addWidget(self._empty)
        self._in_mm = QLabel("All lengths in these sentences are in mm.")
        self._in_mm.setObjectName("quiet")
        self._in_mm.setWordWrap(True)
        self._in_mm.hide()
        column.addWidget(self._in_mm)
        self._headings: dict[str, QLabel] = {}
        self._columns: dict[str, QVBoxLayout] = {}
        self._cards: dict[str, list[FindingCard]] = {severity: [] for severity in ORDER}
        for severity in ORDER:
            self._headings[severity] = _heading(severity)
            self._columns[severity] = QVBoxLayout()
            column.addWidget(self._headings[severity])
            column.addLayout(self._columns[severity])
        column.addStretch(1)
        self.setWidget(inside)
        self._findings: tuple[Finding, ...] = ()

    def set_unit(self, unit: str) -> None:
        """Findings are the same in the window, on paper and in files: where the window has inches, that is said."""
        self._in_mm.setVisible(unit != "mm")

    def show_findings(self, findings: tuple[Finding, ...], *, words_when_empty: str) -> None:
        """Show these; cards are kept and filled anew, since this runs while a part is dragged."""
        self._empty.setText(words_when_empty)
        self._empty.setVisible(not findings)
        if findings == self._findings:
            return
        self._findings = findings
        unfolded = {subject_of(card.finding) for card in self.cards if card.finding is not None and card.tells_why}
        for severity in ORDER:
            self._show_group(severity, [one for one in findings if one.severity == severity], unfolded)

    @property
    def cards(self) -> tuple["FindingCard", ...]:
        """The cards that are shown, faults first."""
        return tuple(card for severity in ORDER for card in self._cards[severity] if not card.isHidden())

    def _show_group(self, severity: str, findings: list[Finding], unfolded: set[Subject]) -> None:
        heading, cards = self._headings[severity], self._cards[severity]
        heading.setText(f"{SEVERITIES[severity].symbol}  {HEADINGS[severity]} ({len(findings)})")
        heading.setVisible(bool(findings))
        while len(cards) < len(findings):
            card = FindingCard()
            card.place_asked.connect(self._on_place_asked)
            card.fix_asked.connect(self.fix_asked)
            card.line_asked.connect(self.line_asked)
            cards.append(card)
            self._columns[severity].addWidget(card)
        for number, card in enumerate(cards):
            card.setVisible(number < len(findings))
            if number < len(findings):
                card.show_finding(findings[number], tells_why=subject_of(findings[number]) in unfolded)

    def _on_place_asked(self, finding: Finding) -> None:
        for card in self.cards:
            card.light(card.finding is finding)
        self.place_asked.emit(finding)


class FindingCard(QFrame):
    """One finding; a click anywhere shows its place, the buttons do so too."""

    place_asked = Signal(object)
    fix_asked = Signal(object)
    line_asked = Signal(str, str)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("finding")
        self.finding: Finding | None = None
        self._word = QLabel()
        self._message = QLabel()
        self._message.setWordWrap(True)
        self._why_text = QLabel()
        self._why_text.setWordWrap(True)
        self._why_text.setObjectName("quiet")
        self._why_text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._why_text.hide()
        self._place = QPushButton("Show")
        self._why = QPushButton("Why?")
        self._why.setCheckable(True)
        self.read = QPushButton("Read it again")
        self.read.clicked.connect(self._ask_line)
        self._fix = QPushButton("Fix")
        self._fix.setObjectName("main")
        self._fix.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._place.clicked.connect(self._ask_place)
        self._why.toggled.connect(self._why_text.setVisible)
        self._fix.clicked.connect(self._ask_fix)
        buttons = QHBoxLayout()
        buttons.addWidget(self._place)
        buttons.addWidget(self._why)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 8, 8)
        column.setSpacing(4)
        column.addWidget(self._word)
        column.addWidget(self._message)
        column.addWidget(self._why_text)
        column.addLayout(buttons)
        column.addWidget(self.read)
        column.addWidget(self._fix)

    def show_finding(self, finding: Finding, *, tells_why: bool) -> None:
        """Fill the card; what somebody reads stays unfolded when a later check tells of the same thing."""
        self._why.setChecked(tells_why)
        if finding == self.finding:
            return
        self.finding = finding
        sign = SEVERITIES[finding.severity]
        self._word.setText(f"{sign.symbol} {sign.word}{certainty_words(finding)}")
        self._message.setText(finding.message)
        self._why_text.setText(why_text(finding))
        self._place.setVisible(finding.place is not None)
        self._place.setAccessibleName(f"Show the place: {finding.message}")
        self._why.setAccessibleName(f"Why: {finding.message}")
        self.read.setVisible(bool(finding.line))
        self.read.setText("Read it" if finding.code == "reading-missing" else "Read it again")
        self.read.setAccessibleName(f"To the line of the readings: {finding.message}")
        self._fix.setVisible(finding.fix is not None)
        self._fix.setText(finding.fix.title if finding.fix is not None else "Fix")
        self._fix.setToolTip(finding.fix.title if finding.fix is not None else "")
        self.light(False)
        for widget in (self, self._word):
            widget.setProperty("severity", finding.severity)
            widget.style().unpolish(widget)
            widget.style().polish(widget)

    @property
    def tells_why(self) -> bool:
        """Whether the sum behind it is unfolded."""
        return self._why.isChecked()

    def light(self, lit: bool) -> None:
        """Show that this finding's place is the one on screen."""
        if bool(self.property("lit")) != lit:
            self.setProperty("lit", lit)
            self.style().unpolish(self)
            self.style().polish(self)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._ask_place()

    def _ask_place(self) -> None:
        if self.finding is not None:
            self.place_asked.emit(self.finding)

    def _ask_line(self) -> None:
        if self.finding is not None:
            self.line_asked.emit(self.finding.line, self.finding.instrument)

    def _ask_fix(self) -> None:
        if self.finding is not None and self.finding.fix is not None:
            self.fix_asked.emit(self.finding.fix)


def subject_of(finding: Finding) -> Subject:
    """What a finding is about, whatever its figures."""
    return finding.code, finding.bodies


def certainty_words(finding: Finding) -> str:
    """How sure a finding is: nothing, `likely` or `cannot tell`, with its chance where the readings give one."""
    if finding.certainty == "certain":
        return ""
    chance = f", {chance_in_words(finding.values['chance'])}" if "chance" in finding.values else ""
    return f" · {'likely' if finding.certainty == 'likely' else 'cannot tell'}{chance}"


def why_text(finding: Finding) -> str:
    """The sum behind a finding, its way out, its source and its code."""
    lines = (
        finding.sum,
        f"Way out: {finding.way_out}" if finding.way_out else "",
        f"Source: {finding.source}" if finding.source else "",
        f"Code: {finding.code}",
    )
    return "\n".join(line for line in lines if line)


def _heading(severity: str) -> QLabel:
    label = QLabel()
    label.setObjectName("heading")
    label.setProperty("severity", severity)
    return label
