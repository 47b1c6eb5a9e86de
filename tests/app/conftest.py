"""What holds for tests of the app: one application for all, nothing is written to the user's own folders."""

import pytest


@pytest.fixture(autouse=True)
def own_state_folder(tmp_path_factory, monkeypatch):
    monkeypatch.setenv("RINGPATH_STATE", str(tmp_path_factory.mktemp("state")))


@pytest.fixture(autouse=True, scope="session")
def one_application(qapp):
    """A process has one application; that of a window serves drawings too, but not the other way round."""
    return qapp
