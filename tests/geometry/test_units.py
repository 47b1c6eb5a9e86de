"""What people type becomes the right number, or a sentence that says what to type."""

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import ReadingError
from geometry.units import (
    format_mm,
    in_inches_text,
    read_force_n,
    read_length_mm,
    read_length_with_doubt,
    read_lengths_mm,
    read_signed_length_mm,
    read_torque_nm,
    with_inches,
)


@pytest.mark.parametrize(
    ("typed", "expected_mm"),
    [
        ("15.02", 15.02),
        ("15,02", 15.02),
        ("15,02 mm", 15.02),
        (" 15.02mm ", 15.02),
        ("15.02\u00a0mm", 15.02),
        (".5 mm", 0.5),
        ("0", 0.0),
        ("1.5 cm", 15.0),
        ("20 µm", 0.02),
        ("0.5915 in", 15.0241),
        ('0.5915"', 15.0241),
        ("0,5915 inch", 15.0241),
        ('19/32"', 15.08125),
        ("19/32 in", 15.08125),
        ("1 1/2 in", 38.1),
        ('1-1/2"', 38.1),
        ("1/2 mm", 0.5),
    ],
)
def test_length(typed, expected_mm):
    """Exact: an inch is 25.4 mm, and no binary rounding comes between; pint misreads some."""
    assert read_length_mm(typed) == expected_mm


@pytest.mark.parametrize(
    ("typed", "advice"),
    [
        ("", "found nothing"),
        ("   ", "found nothing"),
        ("\u221215.02 mm", "minus sign"),
        ("-15.02", "minus sign"),
        ("15 .02 mm", "without a gap"),
        ("15. 02 mm", "without a gap"),
        ("15 02", "without a gap"),
        ("15.02 Mm", "mm in small letters"),
        ("15.02 MM", "mm in small letters"),
        ("1,234.5 mm", "one decimal sign"),
        ("1.234,5 mm", "one decimal sign"),
        ("19/32", 'expected 19/32"'),
        ("1/0 in", "more than 0 below"),
        ("12,o5", "a length such as 12.05"),
        ("15.02 Nm", "a length such as 12.05"),
        ("1e3", "a length such as 12.05"),
        ("nan", "a length such as 12.05"),
        ("15.", "a length such as 12.05"),
        ("٣", "a length such as 12.05"),
        ("15.02 15.03", "without a gap"),
        ("99999 mm", "at most 10 m"),
        ("9" * 5000, "5000 characters"),
    ],
)
def test_what_is_no_length_is_refused_with_advice(typed, advice):
    with pytest.raises(ReadingError) as error:
        read_length_mm(typed, place="Left seat, depth")

    assert str(error.value).startswith("Left seat, depth: found ")
    assert advice in str(error.value)


def test_number_without_unit_takes_the_unit_of_the_sheet():
    assert read_length_mm("19/32", unit="in") == 15.08125
    assert read_length_mm("0.5", unit="in") == 12.7
    assert read_length_mm("0.5 mm", unit="in") == 0.5


@pytest.mark.parametrize(
    ("typed", "expected_mm"),
    [("\u221215,02 mm", -15.02), ("-0.5 in", -12.7), ("+3", 3.0), ("3", 3.0), ("\u20133", -3.0)],
)
def test_signed_length(typed, expected_mm):
    assert read_signed_length_mm(typed) == expected_mm


def test_minus_nothing_is_plain_nothing():
    assert str(read_signed_length_mm("-0")) == "0.0"


@pytest.mark.parametrize("typed", ["", "-", "--3", "+-3"])
def test_sign_without_a_number_is_refused(typed):
    with pytest.raises(ReadingError):
        read_signed_length_mm(typed)


@pytest.mark.parametrize(
    ("typed", "expected_mm"),
    [
        ("15.02", (15.02,)),
        ("15,02 15,04 15,03", (15.02, 15.04, 15.03)),
        ("15.02, 15.04", (15.02, 15.04)),
        ("15,02, 15,04", (15.02, 15.04)),
        ("15.02;15.03 ; 15.04", (15.02, 15.03, 15.04)),
        ("0.5 0.25 in", (12.7, 6.35)),
        ("0.5 in 0.25", (12.7, 6.35)),
        ("15.02 mm 0.5 in", (15.02, 12.7)),
        ("1 1/2 1 5/8 in", (38.1, 41.275)),
    ],
)
def test_several_values_on_a_line(typed, expected_mm):
    assert read_lengths_mm(typed) == expected_mm


@pytest.mark.parametrize(
    "typed", ["", "15 .02", "15 02", "15. 02", "15,02,15,04", "15.02,", "15 x 28", "15 -3"]
)
def test_line_with_a_slip_is_refused(typed):
    with pytest.raises(ReadingError):
        read_lengths_mm(typed)


@pytest.mark.parametrize(
    ("typed", "expected_mm"),
    [
        ("15.02", (15.02, None)),
        ("15.02±0.05", (15.02, 0.05)),
        ("15,02 +- 0,05 mm", (15.02, 0.05)),
        ("0.5 +/- 0.001 in", (12.7, 0.0254)),
        ("15.02 mm ± 0.001 in", (15.02, 0.0254)),
    ],
)
def test_length_with_its_doubt(typed, expected_mm):
    assert read_length_with_doubt(typed) == expected_mm


@pytest.mark.parametrize("typed", ["15±", "±0.05", "1±2±3", "15.02±-0.05", ""])
def test_doubt_that_cannot_be_read_is_refused(typed):
    with pytest.raises(ReadingError):
        read_length_with_doubt(typed)


@pytest.mark.parametrize(
    ("value_mm", "expected"),
    [
        (15.02, "15.02"),
        (15.0, "15"),
        (100.0, "100"),
        (12.3456, "12.346"),
        (-0.0001, "0"),
        (-0.5, "-0.5"),
        (0.1 + 0.2, "0.3"),
    ],
)
def test_length_as_text(value_mm, expected):
    assert format_mm(value_mm) == expected


def test_length_in_inches_as_text():
    assert in_inches_text(15.0241) == "0.5915 in"
    assert in_inches_text(25.4) == "1 in"


@pytest.mark.parametrize(
    ("sentence", "expected"),
    [
        ("BL: outer ring 1.06 mm below the edge", "BL: outer ring 0.0417 in (1.06) below the edge"),  # 1.06 / 25.4
        ("free at z -25.4 mm; 200 mm on", "free at z -1 in (-25.4); 7.874 in (200) on"),
        ("pressure 12 N/mm², 3 mm², 6 Nm, B12 mm", "pressure 12 N/mm², 3 mm², 6 Nm, B12 mm"),
    ],
)
def test_lengths_in_a_sentence_become_inches(sentence, expected):
    assert with_inches(sentence) == expected


@given(thousandths=st.integers(min_value=0, max_value=9_999_999))
def test_what_is_written_reads_back(thousandths):
    value_mm = thousandths / 1000

    assert read_length_mm(format_mm(value_mm)) == value_mm


@given(value_mm=st.floats(min_value=0, max_value=9_000))
def test_inches_read_back_within_half_their_last_digit(value_mm):
    found = read_length_mm(in_inches_text(value_mm))

    assert found == pytest.approx(value_mm, abs=0.00005 * 25.4 * 1.001)


@given(text=st.text(alphabet="0123456789.,/ -−±\"'inmMc;", max_size=12))
def test_any_text_is_read_or_refused_in_a_sentence(text):
    for read in (read_length_mm, read_signed_length_mm, read_lengths_mm, read_length_with_doubt):
        try:
            found = read(text)
        except ReadingError as error:
            assert str(error).endswith(".")
        else:
            assert found is not None


@pytest.mark.parametrize(
    ("read", "typed", "expected"),
    [
        (read_torque_nm, "12 Nm", 12.0),
        (read_torque_nm, "12 N·m", 12.0),
        (read_torque_nm, "500 Nmm", 0.5),
        (read_torque_nm, "9 in-lbf", 9 * 0.0254 * 4.4482216152605),
        (read_torque_nm, "10 ft lbf", 10 * 0.3048 * 4.4482216152605),
        (read_force_n, "1,5 kN", 1500.0),
        (read_force_n, "1500", 1500.0),
        (read_force_n, "100 lbf", 444.82216152605),
        (read_force_n, "10 kgf", 98.0665),
    ],
)
def test_other_quantities(read, typed, expected):
    """NIST SP 811 appendix B (memory): lbf 4.448 221 615 260 5 N, kgf 9.806 65 N."""
    assert read(typed) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("read", "typed", "advice"),
    [
        (read_torque_nm, "9 in lb", "9 in lbf, if that is meant"),
        (read_torque_nm, "9 in-lb", "9 in lbf, if that is meant"),
        (read_torque_nm, "12 mm", "a torque such as 12 Nm"),
        (read_force_n, "20 kg", "20 kgf, if that is meant"),
        (read_force_n, "", "found nothing"),
        (read_force_n, "-4 N", "a force such as"),
    ],
)
def test_what_means_two_things_is_asked_about(read, typed, advice):
    with pytest.raises(ReadingError, match=advice):
        read(typed)


def test_reading_lengths_and_newtons_loads_no_pint():
    program = (
        "import sys; from geometry.units import read_length_mm, read_torque_nm; "
        "read_length_mm('19/32 in'); read_torque_nm('12 Nm'); print('pint' in sys.modules)"
    )
    found = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout

    assert found.strip() == "False"
