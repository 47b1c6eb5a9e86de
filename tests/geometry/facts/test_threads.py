"""Threads and property classes by name."""

import pytest

from geometry.errors import InputError
from geometry.facts.threads import property_class, thread, thread_names


@pytest.mark.parametrize("name", ["M10", "m10", "M10x1.5", "M10 x 1.5", "M10×1,5", " M 10 X 1.5 "])
def test_names_of_one_thread(name):
    assert thread(name) is thread("M10")
    assert thread(name).name == "M10x1.5"


def test_fine_thread_needs_its_pitch():
    assert thread("M10x1").pitch_mm == 1.0
    assert thread("M10").pitch_mm == 1.5


def test_unknown_thread_names_the_known_ones():
    with pytest.raises(InputError, match="M10x1.25"):
        thread("M11")


def test_threads_run_from_m5_to_m16():
    assert thread_names()[0] == "M5x0.8"
    assert thread_names()[-1] == "M16x1"


@pytest.mark.parametrize(
    ("name", "major_mm", "expected_mpa"),
    [
        ("4.6", 10, 225),
        ("8.8", 16, 580),
        ("8.8", 20, 600),
        ("10.9", 10, 830),
        ("12.9", 10, 970),
        ("unmarked", 8, 225),
    ],
)
def test_proof_stress_of_iso_898_1(name, major_mm, expected_mpa):
    """ISO 898-1 proof stresses; an unmarked rod counts as 4.6 (common practice)."""
    assert property_class(name, major_mm=major_mm).proof_mpa == expected_mpa


def test_stainless_steel_is_judged_by_its_proof_strength():
    """ISO 3506-1: Rp0.2 210, 450 and 600 MPa for -50, -70 and -80."""
    found = [property_class(name, major_mm=10).proof_mpa for name in ("A2-50", "A2-70", "A4-80")]

    assert found == [210, 450, 600]


def test_class_carries_its_source():
    assert property_class("5.8", major_mm=10).certainty == "memory"


def test_unknown_class_names_the_known_ones():
    with pytest.raises(InputError, match="unmarked"):
        property_class("9.8", major_mm=10)
