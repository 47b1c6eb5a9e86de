"""Wishes that come faster than frames."""

from app.window.one_a_frame import OneAFrame


def test_the_first_comes_at_once_and_of_the_others_only_the_newest(qtbot):
    frame, found = OneAFrame(), []
    frame.due.connect(found.append)
    for wish in ("a", "b", None, "c"):
        frame.ask(wish)
    at_once = list(found)
    qtbot.wait(60)

    assert at_once == ["a"]
    assert found == ["a", "c"]


def test_what_is_forgotten_never_comes(qtbot):
    frame, found = OneAFrame(), []
    frame.due.connect(found.append)
    frame.ask("a")
    frame.ask("b")
    frame.forget()
    qtbot.wait(60)

    assert found == ["a"]
