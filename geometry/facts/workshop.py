"""Workshop: prices and times of turning, bar stock, and general tolerances."""

from functools import cache

from geometry.errors import InputError, OutOfRangeError
from geometry.facts.table import row_for_size, rows_of
from geometry.record import Derived


class Turning(Derived, frozen=True):
    """A material as it is bought in bars and turned."""

    material: str
    price_per_kg: float
    turned_mm3_per_min: float
    source: str
    certainty: str


class ShopPrices(Derived, frozen=True):
    """What a workshop asks, in the currency of the set; each figure can be replaced."""

    saw_price_per_cut: float
    machine_price_per_min: float
    set_up_min: float
    """Once for a batch."""
    handling_min: float
    """Clamping and turning round, per piece."""
    face_min: float
    fine_diameter_min: float
    """A diameter of grade 7 or finer, more than turning it."""
    finish_price_aluminium: float
    finish_price_steel: float
    finish_price_other: float
    packing_price: float
    margin_percent: float

    def __post_init__(self) -> None:
        for name in self.__struct_fields__:
            value = getattr(self, name)
            if not 0.0 <= value < 1e6:
                raise InputError(name.replace("_", " "), found=f"{value:g}", expected="a figure from 0 to a million")


@cache
def shop_prices() -> ShopPrices:
    """The invented prices that the program begins with."""
    return ShopPrices(**{row["key"]: float(row["value"]) for row in rows_of("shop_prices")})


def price_meanings() -> dict[str, str]:
    """What each price is for, in words."""
    return {row["key"]: row["meaning"] for row in rows_of("shop_prices")}


@cache
def turned_materials() -> tuple[Turning, ...]:
    """Materials that parts are turned from."""
    return tuple(
        Turning(
            material=row["material"],
            price_per_kg=float(row["price_per_kg"]),
            turned_mm3_per_min=float(row["turned_mm3_per_min"]),
            source=row["source"],
            certainty=row["certainty"],
        )
        for row in rows_of("turning")
    )


def turning(material: str) -> Turning:
    """How a material is bought and turned.

    Raises
    ------
    InputError
        No part is turned from that material.
    """
    found = next((one for one in turned_materials() if one.material == material), None)
    if found is None:
        known = ", ".join(one.material for one in turned_materials())
        raise InputError("Material of a turned part", found=f"'{material}'", expected=f"one of {known}")
    return found


def general_tolerance_mm(size_mm: float) -> float:
    """Plus and minus of a length or diameter without a tolerance of its own [mm].

    Raises
    ------
    OutOfRangeError
        The size is not over 0.5 and up to 400 mm.

    References
    ----------
    [iso-2768-1] table 1, class m (memory)
    """
    row = row_for_size(rows_of("general_tolerances"), size_mm, over="over_mm", incl="incl_mm")
    if row is None:
        raise OutOfRangeError(f"General tolerances are listed over 0.5 up to 400 mm only, not for {size_mm:g} mm.")
    return float(row["plus_minus_mm"])
