"""What holds for tests of the window: nothing is written to the user's own folders."""

import pytest


@pytest.fixture(autouse=True)
def own_state_folder(tmp_path_factory, monkeypatch):
    monkeypatch.setenv("RINGPATH_STATE", str(tmp_path_factory.mktemp("state")))
