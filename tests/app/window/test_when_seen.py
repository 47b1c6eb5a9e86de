"""A place in the window is filled when somebody looks at it."""

import pytest
from PySide6.QtWidgets import QLabel

from app.window.when_seen import ScrolledColumn, WhenSeen


class Told(WhenSeen, QLabel):
    def __init__(self) -> None:
        super().__init__()
        self.filled: list[str] = []

    def show_words(self, words: str) -> None:
        self._want(words)

    def _fill(self, words: str) -> None:
        self.filled.append(words)


@pytest.fixture
def told(qtbot):
    label = Told()
    qtbot.addWidget(label)
    return label


def test_only_what_was_wanted_last_is_made_when_it_comes_on_screen(told):
    told.show_words("first")
    told.show_words("second")
    assert told.filled == []

    told.show()

    assert told.filled == ["second"]


def test_what_is_on_screen_is_not_made_again(told):
    told.show()
    told.show_words("one")
    told.show_words("one")
    told.hide()
    told.show()
    told.show_words("another")

    assert told.filled == ["one", "another"]


def test_what_a_column_shows_takes_the_place_of_what_it_showed(qtbot):
    column = ScrolledColumn()
    qtbot.addWidget(column)
    before, after = QLabel("before"), QLabel("after")
    column.put(before)
    with qtbot.waitSignal(before.destroyed):
        column.put(after)

    assert column.widget() is after
