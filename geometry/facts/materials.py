"""Materials of parts and bodies: elastic values, strength, expansion and face pressure."""

from functools import cache

from geometry.errors import InputError
from geometry.facts.table import Row, number, rows_of
from geometry.record import Derived


class Material(Derived, frozen=True):
    """A material as the calculation sees it; None where no value can be given without knowing more."""

    name: str
    standard_material: str
    """What the values are those of, for example 6061-T6."""
    youngs_modulus_mpa: float
    poisson: float
    yield_mpa: float | None
    expansion_per_k: float
    density_kg_m3: float
    carries_press_force: bool
    """False: no support and no drift may rest on it."""
    allowable_face_pressure_mpa: float | None
    """On a face, for a press of a minute."""
    held_face_pressure_mpa: float | None
    """On a face, for a load that is held."""
    source: str
    certainty: str
    face_pressure_source: str
    face_pressure_certainty: str
    note: str


def material(name: str) -> Material:
    """The material of a name.

    Raises
    ------
    InputError
        The name is not in the table.
    """
    found = _materials().get(name.strip().lower())
    if found is None:
        raise InputError("Material", found=f"'{name}'", expected=f"one of {', '.join(material_names())}")
    return found


def material_names() -> tuple[str, ...]:
    """All names, in the order of the table."""
    return tuple(_materials())


@cache
def _materials() -> dict[str, Material]:
    return {row["name"]: _material_of(row) for row in rows_of("materials")}


def _material_of(row: Row) -> Material:
    return Material(
        name=row["name"],
        standard_material=row["standard_material"],
        youngs_modulus_mpa=round(float(row["E_GPa"]) * 1e3, 6),
        poisson=float(row["poisson"]),
        yield_mpa=number(row, "yield_MPa"),
        expansion_per_k=float(f"{row['cte_um_per_m_K']}e-6"),
        density_kg_m3=float(row["density_kg_m3"]),
        carries_press_force=row["carries_press_force"] == "yes",
        allowable_face_pressure_mpa=number(row, "face_pressure_MPa"),
        held_face_pressure_mpa=number(row, "held_face_pressure_MPa"),
        source=row["source"],
        certainty=row["certainty"],
        face_pressure_source=row["face_pressure_source"],
        face_pressure_certainty=row["face_pressure_certainty"],
        note=row["note"],
    )
