"""The stops of the tour: what to do, where, and how the window knows that it was done."""

from collections.abc import Callable
from typing import Protocol

from PySide6.QtWidgets import QMenuBar, QPushButton, QWidget

from app.window.paper_preview import PaperPreview
from app.window.start_page import StartPage
from app.window.work_page import WorkPage
from geometry.record import Derived

WHOLE, MISTAKE = "rear-hub-shouldered-axle", "cup-too-shallow"
"""Samples, by the name of their file."""
WHOLE_TITLE, MISTAKE_TITLE = "Rear hub, axle with shoulders", "Mistake: cup too shallow for the axle end"


class Toured(Protocol):
    """What the tour needs to see of the desk."""

    start: StartPage
    work: WorkPage

    @property
    def window(self) -> QWidget: ...

    @property
    def shown_page(self) -> QWidget | None: ...


class Stop(Derived, frozen=True):
    """One thing to do; the tour goes on once `is_done`."""

    words: str
    place: Callable[[Toured], QWidget | None]
    is_done: Callable[[Toured], bool]


def _is_open(desk: Toured, sample: str) -> bool:
    """Whether a sample is on screen, changed or not."""
    if desk.shown_page is not desk.work or desk.work.job is None:
        return False
    return desk.work.job.title == desk.start.title_of(sample)


def _sample(desk: Toured, sample: str) -> QWidget | None:
    """Its card; from a job first the button that leads to the cards."""
    if desk.shown_page is desk.start:
        return desk.start.card_of(sample)
    return _tool(desk, "Sample jobs")


def _tool(desk: Toured, name: str) -> QWidget | None:
    buttons = desk.window.findChildren(QPushButton)
    return next((one for one in buttons if one.accessibleName() == name and one.isVisible()), None)


def _is_mended(desk: Toured) -> bool:
    check = desk.work.check
    codes = {one.code for one in check.findings} if check is not None else set()
    return check is not None and bool(check.travel) and not codes & {"cup-shallow", "no-reaction", "no-contact"}


STOPS = (
    Stop(
        f"Open the sample “{WHOLE_TITLE}”: click its card.",
        lambda desk: _sample(desk, WHOLE),
        lambda desk: _is_open(desk, WHOLE),
    ),
    Stop(
        "These are the steps of the job, first to last, each with its verdict. Click step 2.",
        lambda desk: desk.work.strip,
        lambda desk: desk.work.step == 1,
    ),
    Stop(
        "The band through the section is the pull from nut to nut. Pull the travel slider: the bearing moves, and the"
        " force follows on the curve.",
        lambda desk: desk.work.travel,
        lambda desk: desk.work.travel.moment > 0,
    ),
    Stop(
        "Click a part on the rod, in the section or with the buttons ◁ ▷ below it.",
        lambda desk: desk.work.view,
        lambda desk: desk.work.chosen_part is not None,
    ),
    Stop(
        f"Now one that goes wrong: press Samples and open “{MISTAKE_TITLE}”, farther down.",
        lambda desk: _sample(desk, MISTAKE),
        lambda desk: _is_open(desk, MISTAKE),
    ),
    Stop(
        "The fault says what meets what. Press “Why?” for the sum behind it.",
        lambda desk: desk.work.findings,
        lambda desk: any(card.tells_why for card in desk.work.findings.cards),
    ),
    Stop(
        "Mend it: choose the cup C39-18 and press Take off, then put the deeper C39-32 on the right side from the tray:"
        " drag it there, or press its ▶.",
        lambda desk: desk.work.tray if desk.work.chosen_part is None else desk.work.stack_bar,
        _is_mended,
    ),
    Stop(
        "Look at the sheet for the wall: Export, Look at the set-up sheet (Ctrl+Shift+P).",
        lambda desk: desk.window.findChild(QMenuBar),
        lambda desk: any(one.isVisible() for one in desk.window.findChildren(PaperPreview)),
    ),
)
