"""PartDrawingPreview: the lathe drawing of a part before it is written; revision and paper are chosen here."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from app.sheet.lathe_drawing import LatheDrawing, lathe_drawing
from app.sheet.lathe_files import write_lathe_drawing
from app.sheet.page import Paper, Sheet
from app.window.choice_box import ChoiceBox
from app.window.export import paper_of_country
from app.window.file_to_write import file_to_write
from app.window.paper_preview import PaperPreview
from geometry.errors import RingpathError
from geometry.parts.part import ToolPart

FILTERS = ";;".join(
    ("PDF (*.pdf)", "DXF at full size (*.dxf)", "SVG (*.svg)", "PNG (*.png)", "Corners of the contour, CSV (*.csv)")
)
PAPERS: dict[str, Paper] = {"A4": "a4", "Letter": "letter"}


class PartDrawingPreview(PaperPreview):
    """`written(path)`, `refused(sentence)`; `folder` says where saving begins."""

    written = Signal(object)
    refused = Signal(str)

    def __init__(
        self,
        part: ToolPart,
        *,
        folder: Callable[[], Path],
        parent: QWidget | None = None,
    ) -> None:
        self._part, self._folder = part, folder
        usual = paper_of_country()
        self._drawing: LatheDrawing = lathe_drawing(part, paper=usual)
        super().__init__(_sheet(self._drawing), save="Save as…", parent=parent)
        self.setWindowTitle(f"Drawing of {part.id}")
        self.revision = QLineEdit(part.revision)
        self.revision.setMaximumWidth(90)
        self.revision.setMaxLength(8)
        self.revision.setAccessibleName("Revision")
        self.revision.textChanged.connect(self._draw)
        self.paper_choice = ChoiceBox()
        self.paper_choice.addItems(list(PAPERS))
        self.paper_choice.setCurrentText(next(name for name, paper in PAPERS.items() if paper == usual))
        self.paper_choice.setAccessibleName("Paper")
        self.paper_choice.currentTextChanged.connect(self._draw)
        for at, widget in enumerate((QLabel("Revision"), self.revision, QLabel("Paper"), self.paper_choice)):
            self.foot.insertWidget(at, widget)
        self.save_asked.connect(self._ask_where)
        self._draw()

    def _draw(self, *_: object) -> None:
        self._drawing = lathe_drawing(
            self._part,
            revision=self.revision.text().strip(),
            date_of_issue=date.today().isoformat(),
            paper=PAPERS[self.paper_choice.currentText()],
        )
        self.paper.show_sheet(_sheet(self._drawing))

    def _ask_where(self) -> None:
        safe = "".join(letter if letter.isalnum() or letter in "-_," else "-" for letter in self._part.id)
        suggested = self._folder() / f"{safe}.pdf"
        path = file_to_write(self, "Drawing of the part", suggested, FILTERS)
        if path is not None:
            self.save_to(path)

    def save_to(self, path: Path) -> None:
        """Write in the format of the ending."""
        try:
            write_lathe_drawing(self._drawing, path)
        except RingpathError as error:
            self.say(str(error))
            self.refused.emit(str(error))
            return
        self.say(f"Written: {path}")
        self.written.emit(path)


def _sheet(drawing: LatheDrawing) -> Sheet:
    return Sheet(drawing.title, (drawing.page,))
