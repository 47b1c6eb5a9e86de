"""What holds for every test: no screen is needed, and the same commit gives the same answer."""

import gc
import os

import pytest
from hypothesis import HealthCheck, settings

from app.window.garbage import search_where_due

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

settings.register_profile(
    "repeatable",
    derandomize=True,
    deadline=None,
    max_examples=50,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],  # a slow machine is no fault of a test
)
settings.register_profile("search", deadline=None, max_examples=2000)  # pytest --hypothesis-profile=search
settings.load_profile("repeatable")


@pytest.fixture(autouse=True)
def garbage_is_searched_between_tests():
    """Not in a thread that a test starts, where widgets that other tests left would end (app/window/garbage.py)."""
    gc.disable()
    yield
    search_where_due()
