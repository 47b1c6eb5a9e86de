"""What a file held before it was saved over comes back as one change."""

import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QInputDialog

from app.document.earlier_versions import earlier_versions
from geometry.job.changes import set_fate
from geometry.job.file import write_job
from geometry.job.saving import kept_versions
from tests.plain_hub import plain_hub

THIRD = replace(plain_hub(), title="Third")


@pytest.fixture
def hub(window, tmp_path):
    """A hub that was saved three times."""
    path = tmp_path / "hub.json"
    for title in ("First", "Second", "Third"):
        write_job(replace(plain_hub(), title=title), path)
    window.begin(path)
    return window


def test_an_earlier_version_comes_back_and_goes_again(hub, monkeypatch):
    offered = []

    def answer(*arguments):
        offered.extend(arguments[3])
        return arguments[3][1], True

    monkeypatch.setattr(QInputDialog, "getItem", answer)
    hub.actions_["versions"].trigger()
    back = hub.desk.work.job
    hub.actions_["undo"].trigger()

    assert [words.partition(": ")[2] for words in offered] == ["Second, 2 steps", "First, 2 steps"]
    assert back == replace(plain_hub(), title="First")
    assert hub.desk.work.job == THIRD


def test_without_any_it_is_said(window, tmp_path, monkeypatch):
    write_job(plain_hub(), tmp_path / "hub.json")
    window.begin(tmp_path / "hub.json")
    monkeypatch.setattr(QInputDialog, "getItem", lambda *_: pytest.fail("there is nothing to choose from"))
    window.actions_["versions"].trigger()

    assert window.strip.text == "hub.json has no earlier version: it was not saved over yet."


def test_a_damaged_version_is_left_out(hub):
    path = hub.desk.open_job.path
    kept_versions(path)[0].write_bytes(b"{")

    assert [one.job.title for one in earlier_versions(path)] == ["First"]


def test_saving_after_that_keeps_what_was_there(hub, monkeypatch):
    monkeypatch.setattr(QInputDialog, "getItem", lambda *arguments: (arguments[3][0], True))
    hub.actions_["versions"].trigger()
    hub.desk.work.apply("Fate", lambda job: set_fate(job, step=1, bearing="BR", fate="scrap"))
    hub.actions_["save"].trigger()

    assert earlier_versions(hub.desk.open_job.path)[0].job == THIRD
