"""Cost of a part against a sum done by hand."""

from math import pi

import pytest
from msgspec.structs import replace

from geometry.errors import InputError
from geometry.facts.workshop import shop_prices
from geometry.parts.forms import Hollow, Ring
from geometry.parts.part import ToolPart
from geometry.planning.cost import cost_of

PRICES = replace(
    shop_prices(),
    saw_price_per_cut=1.0, machine_price_per_min=2.0, set_up_min=30.0, handling_min=2.0, face_min=1.0,
    fine_diameter_min=0.5, finish_price_aluminium=3.0, packing_price=0.5, margin_percent=20.0,
)  # fmt: skip
PLATE = ToolPart(id="P40", kind="plate", form=Ring(outside_mm=40.0, bore_mm=10.0, length_mm=8.0), material="aluminium")


def test_sum_of_a_plain_ring_by_hand():
    """Bar 45 (40 and 1 to clean up), 8 and 2 faced and 3 parted; aluminium 7.50 a kg, 2700 kg/m³, 8000 mm³ a minute."""
    area = pi / 4 * 45.0**2
    stock = area * 13.0 * 2700e-9 * 7.50
    turned = (area * 10.0 - pi / 4 * (40.0**2 - 10.0**2) * 8.0) / 8000.0
    before = stock + 1.0 + 2.0 * (30.0 / 5 + 2.0 + turned + 2 * 1.0 + 1 * 0.5) + 3.0 + 0.5
    expected = 1.2 * before

    cost = cost_of(PLATE, PRICES, batch=5, fine_diameters=1)

    assert cost.each == pytest.approx(expected, abs=0.02)  # each line rounded to a hundredth
    assert (cost.bar.diameter_mm, cost.bar.length_mm) == (45.0, 13.0)


@pytest.mark.parametrize("length_mm", [8.0, 8.3, 9.1, 12.7, 15.9])
def test_the_lines_as_they_are_printed_add_up(length_mm):
    part = replace(PLATE, form=replace(PLATE.form, length_mm=length_mm))
    cost = cost_of(part, shop_prices(), batch=7, fine_diameters=1)
    printed = [round(100 * float(f"{line.amount:.2f}")) for line in cost.lines]

    assert sum(printed) == round(100 * cost.each)
    assert f" of {sum(printed[:-1]) / 100:.2f}" in cost.lines[-1].sum


def test_a_pot_has_three_faces_to_turn():
    pot = ToolPart(id="C", kind="cup", form=Hollow(40.0, 30.0, 10.0, 6.0, 10.0), material="aluminium")

    cost = cost_of(pot, PRICES, batch=5)

    assert next(line for line in cost.lines if line.what == "3 faces").amount == pytest.approx(6.0)


def test_a_large_batch_shares_the_set_up():
    one, many = (cost_of(PLATE, PRICES, batch=batch).each for batch in (1, 100))

    assert one - many == pytest.approx(1.2 * 2.0 * (30.0 - 0.3), abs=0.011)


def test_a_batch_of_none_is_refused():
    with pytest.raises(InputError, match="from 1 to"):
        cost_of(PLATE, PRICES, batch=0)
