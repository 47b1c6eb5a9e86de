"""Friction of seats, threads and thrust bearings, each with a band."""

from functools import cache

from geometry.errors import InputError
from geometry.facts.table import rows_of
from geometry.record import Derived


class Friction(Derived, frozen=True):
    """Coefficient of friction of one contact: expected, and the band around it [-]."""

    name: str
    low: float
    expected: float
    high: float
    source: str
    certainty: str
    band_source: str
    band_certainty: str
    note: str


def friction(name: str) -> Friction:
    """The friction of a contact, for example "press in", "pull out" or "thread lubricated".

    Raises
    ------
    InputError
        The contact is not in the table.
    """
    found = _contacts().get(name)
    if found is None:
        raise InputError("Friction", found=f"'{name}'", expected=f"one of {', '.join(friction_names())}")
    return found


def friction_names() -> tuple[str, ...]:
    """All contacts, in the order of the table."""
    return tuple(_contacts())


@cache
def _contacts() -> dict[str, Friction]:
    return {
        row["name"]: Friction(
            name=row["name"],
            low=float(row["mu_low"]),
            expected=float(row["mu_expected"]),
            high=float(row["mu_high"]),
            source=row["source"],
            certainty=row["certainty"],
            band_source=row["band_source"],
            band_certainty=row["band_certainty"],
            note=row["note"],
        )
        for row in rows_of("friction")
    }
