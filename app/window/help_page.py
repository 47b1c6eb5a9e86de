"""HelpPage: all keys, from the table of actions, and the words of the trade."""

from html import escape

from PySide6.QtWidgets import QTextBrowser, QWidget

from app.window.actions import ACTIONS, MENUS, readable_keys

WORDS = (
    ("drift", "a part that pushes"),
    ("support", "a part that bears on the housing: a cup lets the bearing travel into it, a plate does not"),
    ("guide", "a plug that centres the rod in a bore; meant to carry no force"),
    ("toe drift, keeper", "a drift that hooks a ledge from one side; the half-shell that keeps it there"),
    ("depth stop", "a part that ends the travel at home where the bore has no shoulder"),
    ("home", "the place where a bearing that goes in is meant to end"),
    ("fate", "what becomes of a bearing: keep or scrap; asked, never assumed"),
    ("loose", "a part that stays where it is put and is not clamped"),
    ("assumed", "a size that no reading has fixed yet; it is drawn dashed and never taken as measured"),
    ("closure", "whether readings that check each other agree"),
    ("sign-off", "who did a job at the bench, when and how it went; the window says if the job was changed since"),
    ("trial", "what happened at the bench in a step, kept beside what was predicted; it alters no prediction"),
    ("coverage", "which steps of which jobs a set of parts can do"),
    ("driving nut", "the nut that is turned; the standing nut is the one at the other end"),
)

READINGS = (
    "<h3>In the readings</h3><p>Type what the caliper reads: 15.02, 15,02, 15.02 15.03, 15,02±0,05, 1 1/2 in."
    " Enter goes to the next line that nobody has read, so that a caliper that types fills one after the other; Esc"
    " gives what was there. Numbers are those of the printed sheet. A column copied from a spreadsheet and pasted into"
    " a field goes on in the lines below. With Dimensions on, a click on a figure in the section goes to its field."
    " ± is 95 %: twice the standard uncertainty. Dashed edges are assumed as drawn.</p>"
)


class HelpPage(QTextBrowser):
    """Keys and words on one page."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Keys and words")
        self.setHtml(help_html())


def help_html() -> str:
    """The page, from the one table of actions."""
    parts = ["<h1>Keys and words</h1><p>Esc brings you back. Everything is also a button or a menu entry.</p>"]
    for menu in MENUS:
        parts.append(f"<h3>{menu}</h3><table cellpadding='4' width='100%'>")
        for row in ACTIONS:
            if row.menu == menu:
                keys = " or ".join(f"<b>{escape(key)}</b>" for key in readable_keys(row)) or "–"
                parts.append(
                    f"<tr><td width='170'>{keys}</td><td width='190'>{escape(row.title)}</td>"
                    f"<td>{escape(row.help)}</td></tr>"
                )
        parts.append("</table>")
    parts.append("<h3>In the drawing</h3><p>Drag a part to its place; drag the ground to move the section; the")
    parts.append(" wheel zooms to the pointer; Esc drops what you carry where it was. On a small screen the")
    parts.append(" places beside the section can be pushed away by their edge; one that is turned to comes back.</p>")
    parts.append(READINGS)
    parts.append("<h3>Words</h3><table>")
    parts += [f"<tr><td width='170'><b>{word}</b></td><td>{meaning}</td></tr>" for word, meaning in WORDS]
    parts.append("</table>")
    return "".join(parts)
