"""The next size of a family."""

from geometry.parts.sizes import next_size
from tests.plain_hub import TOOL_PARTS

BY_ID = {part.id: part for part in TOOL_PARTS}


def test_next_size_stays_in_the_family():
    # D26, D28 and D30 have pilots of one diameter: the flange decides
    assert next_size(BY_ID["D28"], TOOL_PARTS, "larger") is BY_ID["D30"]
    assert next_size(BY_ID["D28"], TOOL_PARTS, "smaller") is BY_ID["D26"]


def test_the_largest_has_no_larger_one():
    assert next_size(BY_ID["D30"], TOOL_PARTS, "larger") is None
    assert next_size(BY_ID["G15"], TOOL_PARTS, "smaller") is None
