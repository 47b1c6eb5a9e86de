"""What holds for every test: no screen is needed, and the same commit gives the same answer."""

import os

from hypothesis import HealthCheck, settings

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
