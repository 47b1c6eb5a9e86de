"""The one table of actions: menu, keys, buttons and the help page are made from it."""

from collections.abc import Callable
from typing import NamedTuple

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget


class ActionRow(NamedTuple):
    """One thing to do: its name, keys, menu, and a line for the help page."""

    id: str
    menu: str
    title: str
    keys: tuple[str, ...] = ()
    help: str = ""
    is_switch: bool = False
    only_in_drawing: bool = False
    """The keys count while the drawing has the focus."""


ACTIONS = (
    ActionRow("new", "File", "New job…", ("Ctrl+N",), "A kind of assembly to begin with, nothing measured yet."),
    ActionRow("open", "File", "Open…", ("Ctrl+O",), "Open a job file; or drop one on the window."),
    ActionRow("open-set", "File", "Open a tool set…", ("Ctrl+T",), "Show the parts of a set in the tray."),
    ActionRow("start-page", "File", "Sample jobs", ("Ctrl+H",), "The page with sample jobs and recent files."),
    ActionRow("save", "File", "Save", ("Ctrl+S",), "Write the job to its file."),
    ActionRow("save-as", "File", "Save as…", ("Ctrl+Shift+S",), "Write the job to another file."),
    ActionRow("reload", "File", "Read the file again", ("F5",), "Take over what is in the file now."),
    ActionRow("versions", "File", "Earlier versions…", (), "What the file held before; undo comes back from it."),
    ActionRow("readings-in", "File", "Readings from a table (CSV)…", (), "Take over what was typed in a spreadsheet."),
    ActionRow("sheet", "Export", "Set-up sheet (PDF)…", ("Ctrl+P",), "The sheet to pin on the wall."),
    ActionRow("preview", "Export", "Look at the set-up sheet…", ("Ctrl+Shift+P",), "Its pages, before it is written."),
    ActionRow("blank-sheet", "Export", "Blank reading sheet (PDF)…", ("Ctrl+R",), "To fill in at the bench."),
    ActionRow("readings-csv", "Export", "Readings as a table (CSV)…", (), "The lines of the sheet, for a spreadsheet."),
    ActionRow("compare-sheet", "Export", "Is this sheet still right?…", (), "Compare the version of a printed sheet."),
    ActionRow("export-svg", "Export", "Section as SVG…", (), "A drawing that other programs can open."),
    ActionRow("export-png", "Export", "Section as PNG…", (), "A picture of the section."),
    ActionRow("export-dxf", "Export", "Section as DXF…", (), "Outlines for drawing programs."),
    ActionRow("quit", "File", "Quit", ("Ctrl+Q",), "Close the window; unsaved work is asked about."),
    ActionRow("undo", "Edit", "Undo", ("Ctrl+Z",), "Take back the last change; any number of them."),
    ActionRow("redo", "Edit", "Redo", ("Ctrl+Shift+Z", "Ctrl+Y"), "Make the change again."),
    ActionRow("job-form", "Edit", "About the job…", ("Ctrl+J",), "Title, materials, what its maker says, limits."),
    ActionRow("bodies", "Edit", "Bodies…", (), "Add, shape or take away what the section is made of."),
    ActionRow("bearings", "Edit", "Bearings…", (), "What stands on the seals, one more or one less."),
    ActionRow("instruments", "Edit", "Instruments…", (), "How finely and how well yours read."),
    ActionRow("fit", "View", "Whole section", ("0", "Home"), "Show everything, as large as it fits."),
    ActionRow("zoom-in", "View", "Nearer", ("+", "="), "Zoom in; the wheel zooms to the pointer."),
    ActionRow("zoom-out", "View", "Farther", ("-",), "Zoom out."),
    ActionRow("half", "View", "Half section", ("H",), "Lower half seen from outside.", is_switch=True),
    ActionRow("dimensions", "View", "Dimensions", ("D",), "Sizes of the chosen body.", is_switch=True),
    ActionRow("force-path", "View", "Force path", ("P",), "The band from nut to nut.", is_switch=True),
    ActionRow("offsets", "View", "Worst offset", ("W",), "Ghosts at the worst offset, enlarged.", is_switch=True),
    ActionRow("left-places", "View", "Left panel", ("F7",), "Step, parts, readings; or more room.", is_switch=True),
    ActionRow("right-places", "View", "Right panel", ("F8",), "Findings and forces; or more room.", is_switch=True),
    ActionRow("library", "View", "Library and trials", ("Ctrl+B",), "Find a job of a folder; what the bench said."),
    ActionRow("coverage", "View", "Coverage", ("Ctrl+K",), "Which jobs of a library which sets do."),
    ActionRow("inches", "View", "Inches", ("I",), "Show lengths in inches; typing takes both.", is_switch=True),
    ActionRow("dark", "View", "Dark", ("Ctrl+D",), "Dark or light.", is_switch=True),
    ActionRow("touch", "View", "Large for touch", ("Ctrl+L",), "Large targets for gloves.", is_switch=True),
    ActionRow("part-next", "Part", "Next part", ("N",), "Choose the next part on the rod."),
    ActionRow("part-before", "Part", "Part before", ("B",), "Choose the part before it."),
    ActionRow(
        "part-left",
        "Part",
        "Move left",
        ("Left",),
        "One place; a loose part by 0.1 mm.",
        only_in_drawing=True,
    ),
    ActionRow(
        "part-right",
        "Part",
        "Move right",
        ("Right",),
        "One place; a loose part by 0.1 mm.",
        only_in_drawing=True,
    ),
    ActionRow(
        "part-far-left",
        "Part",
        "Move far left",
        ("Shift+Left",),
        "A loose part by 1 mm.",
        only_in_drawing=True,
    ),
    ActionRow(
        "part-far-right",
        "Part",
        "Move far right",
        ("Shift+Right",),
        "A loose part by 1 mm.",
        only_in_drawing=True,
    ),
    ActionRow("part-side", "Part", "To the other side", ("O",), "Across to the other side."),
    ActionRow("part-flip", "Part", "Turn round", ("F", "R"), "Turn the part round on the rod."),
    ActionRow("part-smaller", "Part", "Next size down", ("Shift+Down",), "Swap for the next smaller part."),
    ActionRow("part-bigger", "Part", "Next size up", ("Shift+Up",), "Swap for the next larger part."),
    ActionRow("part-loose", "Part", "Loose", ("L",), "Loose parts stay put and carry nothing.", is_switch=True),
    ActionRow("part-remove", "Part", "Take off", ("Delete", "Backspace"), "Take the part off the rod."),
    ActionRow("stack-clear", "Part", "Take everything off", ("Shift+Delete",), "An empty step; undo brings it back."),
    ActionRow("part-drawing", "Part", "Drawing of the part…", ("G",), "To turn it from: PDF, DXF, SVG, CSV."),
    ActionRow("part-add", "Part", "A part of your own…", (), "Type its sizes; it goes into the set in use."),
    ActionRow("part-change", "Part", "Sizes, stock, price…", (), "Of the chosen part: what it is, how many there are."),
    ActionRow("turn-nut", "Part", "Turn the other nut", ("T",), "The nut of the other side is turned."),
    ActionRow("step-before", "Step", "Step before", ("Ctrl+PgUp",), "Go to the step before."),
    ActionRow("step-next", "Step", "Next step", ("Ctrl+PgDown",), "Go to the next step."),
    ActionRow("step-add-out", "Step", "Add press out", (), "A new step behind this one."),
    ActionRow("step-add-in", "Step", "Add press in", (), "A new step behind this one."),
    ActionRow("step-earlier", "Step", "Earlier", ("Ctrl+Shift+PgUp",), "One place earlier in the sequence."),
    ActionRow("step-later", "Step", "Later", ("Ctrl+Shift+PgDown",), "One place later in the sequence."),
    ActionRow("step-copy", "Step", "Duplicate", (), "The same step once more."),
    ActionRow("step-rename", "Step", "Rename…", ("F2",), "Another title for the step."),
    ActionRow("trial", "Step", "Record a trial…", ("Ctrl+E",), "What happened at the bench, beside the prediction."),
    ActionRow("sign-off", "Step", "Sign off the job…", (), "Who did it, when, and how it went; kept with the job."),
    ActionRow("step-delete", "Step", "Delete step", (), "Without this step; undo brings it back."),
    ActionRow("travel-back", "Travel", "Back", (",",), "One moment back."),
    ActionRow("travel-on", "Travel", "On", (".",), "One moment on."),
    ActionRow("travel-start", "Travel", "To the start", ("Ctrl+,",), "Where pressing begins."),
    ActionRow("travel-end", "Travel", "To the end", ("Ctrl+.",), "Where pressing ends."),
    ActionRow("tour", "Help", "Tour", (), "Five minutes with two samples: it tells, you do."),
    ActionRow("help", "Help", "Keys and words", ("F1",), "The page with all keys."),
)

MENUS = {
    "File": "&File", "Edit": "&Edit", "View": "&View", "Part": "&Part", "Step": "&Step", "Travel": "&Travel",
    "Export": "E&xport", "Help": "&Help",
}  # fmt: skip
"""The menus, each with the letter that opens it with Alt."""


class Actions:
    """The QActions of one window, by id."""

    def __init__(self, window: QWidget, do: Callable[[ActionRow, bool], None]) -> None:
        """`do` is told which action was triggered, and of a switch whether it is on."""
        self._by_id: dict[str, QAction] = {}
        for row in ACTIONS:
            action = QAction(row.title, window)
            action.setObjectName(row.id)
            action.setShortcuts([QKeySequence(key) for key in row.keys])
            keys = ", ".join(readable_keys(row))
            action.setToolTip(f"{row.title} ({keys})\n{row.help}" if keys else f"{row.title}\n{row.help}")
            action.setStatusTip(row.help)
            action.setCheckable(row.is_switch)
            if not row.only_in_drawing:
                window.addAction(action)
            action.triggered.connect(lambda on=False, row=row: do(row, on))
            self._by_id[row.id] = action

    def __getitem__(self, id: str) -> QAction:
        return self._by_id[id]

    def give_keys_to_drawing(self, drawing: QWidget) -> None:
        """Keys such as the arrows work while the drawing has the focus, and keep their meaning elsewhere."""
        from PySide6.QtCore import Qt  # its names take 30 ms: not before the first frame

        for row in ACTIONS:
            if row.only_in_drawing:
                self._by_id[row.id].setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
                drawing.addAction(self._by_id[row.id])

    def menu(self, title: str, parent: QWidget) -> QMenu:
        """One menu, in the order of the table."""
        menu = QMenu(MENUS[title], parent)
        for row in ACTIONS:
            if row.menu == title:
                menu.addAction(self._by_id[row.id])
        return menu


def readable_keys(row: ActionRow) -> tuple[str, ...]:
    """Keys as people read them."""
    words = {"PgUp": "Page Up", "PgDown": "Page Down", "Left": "←", "Right": "→", "Up": "↑", "Down": "↓"}
    return tuple("+".join(words.get(one, one) for one in _parts(key)) for key in row.keys)


def _parts(key: str) -> list[str]:
    return [key] if len(key) == 1 else key.split("+")
