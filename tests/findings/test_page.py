"""docs/findings.md explains each code that the check raises, and shows what the program says today."""

import struct

import pytest

from docs.make_findings import PICTURES, with_examples
from tests.findings.cases import CASES
from tests.findings.codes import PAGE, codes_explained, codes_raised, codes_to_come

WIDTH_PIXELS, LARGEST_BYTES = 900, 60_000


def test_each_code_has_a_case():
    assert codes_raised() == {case.code for case in CASES}


def test_each_code_is_explained():
    assert codes_raised() <= set(codes_explained())


def test_what_is_explained_is_raised_or_comes_later():
    assert set(codes_explained()) | set(codes_to_come()) == codes_raised() | set(codes_to_come())


def test_what_comes_later_is_not_raised_yet():
    assert not codes_raised() & set(codes_to_come())


def test_each_code_is_explained_once():
    assert len(codes_explained()) == len(set(codes_explained()))


def test_the_examples_are_what_the_program_says():
    page = PAGE.read_text(encoding="utf-8")

    assert page == with_examples(page), "run: python docs/make_findings.py"


@pytest.mark.parametrize("code", sorted({case.code for case in CASES}))
def test_the_picture_is_there_and_small(code):
    data = (PICTURES / f"{code}.png").read_bytes()
    width, height = struct.unpack(">II", data[16:24])

    assert (width, len(data) < LARGEST_BYTES, 200 < height < 600) == (WIDTH_PIXELS, True, True)


@pytest.mark.parametrize("case", [case for case in CASES if case.rows], ids=lambda case: case.name)
def test_the_table_of_failures_names_the_finding_that_catches_them(case):
    rows = PAGE.read_text(encoding="utf-8").splitlines()
    named = {row.split("|")[1].strip(): row for row in rows if row.startswith("| ")}

    assert all(f"`{case.code}`" in named[str(row)] for row in case.rows)
