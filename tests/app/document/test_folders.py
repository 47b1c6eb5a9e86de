"""The state folder is where platformdirs says; it is asked for before the first frame, so it is worked out by hand."""

import sys

import pytest
from platformdirs import user_state_path

from app.document.folders import state_folder


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere platformdirs itself is asked")
@pytest.mark.parametrize("named", ["/tmp/elsewhere", "", None])
def test_state_folder_is_that_of_platformdirs(monkeypatch, named):
    monkeypatch.delenv("RINGPATH_STATE")
    if named is None:
        monkeypatch.delenv("XDG_STATE_HOME", raising=False)
    else:
        monkeypatch.setenv("XDG_STATE_HOME", named)

    assert state_folder() == user_state_path("ringpath", appauthor=False)


def test_state_folder_can_be_named(monkeypatch, tmp_path):
    monkeypatch.setenv("RINGPATH_STATE", str(tmp_path))

    assert state_folder() == tmp_path
