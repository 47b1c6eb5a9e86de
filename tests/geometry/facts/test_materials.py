"""Values of the materials as their sources print them."""

import pytest

from geometry.errors import InputError
from geometry.facts.materials import material, material_names

ASKED_FOR = {
    "aluminium", "steel", "hardened steel", "bearing steel", "stainless steel", "spring steel", "titanium",
    "brass", "acetal", "polyamide", "carbon composite",
}  # fmt: skip


def test_all_materials_are_there():
    assert set(material_names()) == ASKED_FOR


def test_bearing_steel_of_the_catalogues():
    """cat-2203 table 13.7: 208 GPa, 12.5e-6 1/K, 7.83 kg/dm3."""
    found = material("bearing steel")

    assert (found.youngs_modulus_mpa, found.expansion_per_k, found.density_kg_m3) == (208_000, 12.5e-6, 7830)


@pytest.mark.parametrize(
    ("name", "minute_mpa", "held_mpa"), [("acetal", 25, 15), ("aluminium", 200, 200), ("steel", 500, 500)]
)
def test_face_pressure_of_common_practice(name, minute_mpa, held_mpa):
    """Limits of press parts, common practice."""
    found = material(name)

    assert (found.allowable_face_pressure_mpa, found.held_face_pressure_mpa) == (minute_mpa, held_mpa)
    assert found.face_pressure_certainty == "common practice"


@pytest.mark.parametrize("name", sorted(ASKED_FOR))
def test_values_are_in_the_order_that_they_can_be(name):
    found = material(name)

    assert 1e3 < found.youngs_modulus_mpa < 220e3
    assert 0 < found.poisson < 0.5
    assert 0 < found.expansion_per_k < 2e-4
    if (
        found.held_face_pressure_mpa is not None and name != "steel"
    ):  # soft steel held in by the steel around it
        assert found.yield_mpa is None or found.held_face_pressure_mpa <= found.yield_mpa


def test_carbon_composite_carries_no_press_force():
    assert [name for name in material_names() if not material(name).carries_press_force] == [
        "carbon composite"
    ]
    assert material("carbon composite").allowable_face_pressure_mpa is None


def test_unknown_material_names_the_known_ones():
    with pytest.raises(InputError, match="aluminium, steel"):
        material("cheese")
