"""Prices are marked as invented; general tolerances as the standard is remembered."""

import pytest
from msgspec.structs import replace

from geometry.errors import InputError, OutOfRangeError
from geometry.facts.table import rows_of
from geometry.facts.workshop import general_tolerance_mm, price_meanings, shop_prices, turned_materials, turning


def test_every_price_is_marked_as_invented():
    rows = rows_of("shop_prices") + rows_of("turning")

    assert {row["certainty"] for row in rows} == {"invented"}
    assert price_meanings().keys() == set(shop_prices().__struct_fields__)


@pytest.mark.parametrize(("size_mm", "expected_mm"), [(3.0, 0.1), (6.0, 0.1), (6.1, 0.2), (30.0, 0.2), (31.0, 0.3)])
def test_general_tolerances_of_class_m(size_mm, expected_mm):
    """ISO 2768-1 table 1, class m (memory)."""
    found = general_tolerance_mm(size_mm)

    assert found == expected_mm


def test_a_size_beyond_the_table_is_refused():
    with pytest.raises(OutOfRangeError, match="0.4 mm"):
        general_tolerance_mm(0.4)


def test_a_material_that_nobody_turns_is_refused_with_those_that_are():
    with pytest.raises(InputError, match="acetal, aluminium, steel"):
        turning("carbon composite")

    assert turning("steel") in turned_materials()


def test_a_price_below_zero_is_refused():
    with pytest.raises(InputError, match="machine price per min"):
        replace(shop_prices(), machine_price_per_min=-1.0)
