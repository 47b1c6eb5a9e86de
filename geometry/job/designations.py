"""Other bearings in an assembly: what was drawn for the old ones follows in diameter and along the axis."""

from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise

from msgspec.structs import replace

from geometry.errors import InputError
from geometry.facts.bearings import bearing_size
from geometry.job.job import Job
from geometry.job.links import PLACE, layout_of
from geometry.job.naming import drawn_values_mm
from geometry.job.quantities import SAME_MM, Surface, stations_mm, surfaces
from geometry.job.rebuilding import section_at
from geometry.record import Derived
from geometry.section.bearing import Bearing, Measures, measures
from geometry.section.body import Body
from geometry.section.section import Section


class _Exchange(Derived, frozen=True):
    """One bearing before and after, both where the old one is."""

    before: Measures
    after: Measures

    def diameter_mm(self, old_mm: float) -> float:
        """Bore, faces and outside of the old ring become those of the new one; between them in proportion."""
        old = (0.0, *_diameters(self.before))
        new = (0.0, *_diameters(self.after))
        for (a, b), (c, d) in zip(pairwise(old), pairwise(new), strict=True):
            if old_mm <= b + SAME_MM:
                return c + (old_mm - a) * (d - c) / (b - a)
        return old_mm + new[-1] - old[-1]

    def grown_mm(self, z_mm: float) -> float:
        """How far a place lies farther to the right, because the new bearing is wider."""
        start, end = self.before.outer_from_z_mm, self.before.outer_to_z_mm
        share = min(max((z_mm - start) / (end - start), 0.0), 1.0)
        return share * (self.after.width_mm - self.before.width_mm)

    def distance_mm(self, from_z_mm: float, to_z_mm: float) -> float:
        """How far a length of a body is from the bearing along the axis."""
        return max(self.before.outer_from_z_mm - to_z_mm, from_z_mm - self.before.outer_to_z_mm, 0.0)


def with_designations(job: Job, designations: Mapping[str, str]) -> Job:
    """The job with other bearings, by id; bores, journals, shoulders and lengths that are drawn follow.

    Readings stay as they are: what was measured does not follow a designation.

    Raises
    ------
    InputError
        A bearing or designation is not known, or the assembly is impossible with it.
    """
    section = job.section
    ids = [bearing.id for bearing in section.bearings]
    for id in designations:
        if id not in ids:
            raise InputError("Bearing", found=id, expected=f"one of {', '.join(ids)}")
    changed = {one.id: _renamed(one, designations.get(one.id)) for one in section.bearings}
    exchanges = tuple(_Exchange(measures(one), measures(changed[one.id])) for one in section.bearings)
    try:
        by_sizes = replace(section, bearings=tuple(_by_sizes(one) for one in section.bearings))
        resized = section_at(by_sizes, dict(_values_mm(section, changed, exchanges)))
    except ValueError as error:
        words = ", ".join(f"{id} {designation}" for id, designation in designations.items())
        raise InputError(words, found=str(error), expected="bearings that this kind of assembly can hold") from error
    bearings = tuple(
        replace(changed[one.id], outer_from_z_mm=one.outer_from_z_mm, mouth_z_mm=one.mouth_z_mm,
                inner_from_z_mm=one.inner_from_z_mm, inner_to_z_mm=one.inner_to_z_mm)
        for one in resized.bearings
    )  # fmt: skip
    zones = tuple(
        replace(zone, from_mm=round(_follow(exchanges, before.face_z_mm, before.face_z_mm, min)(zone.from_mm), 3),
                to_mm=round(_follow(exchanges, before.face_z_mm, before.face_z_mm, max)(zone.to_mm), 3))
        for zone, before in zip(resized.keep_off, section.keep_off, strict=True)
    )  # fmt: skip
    return replace(job, section=replace(resized, bearings=bearings, keep_off=zones))


def _renamed(bearing: Bearing, designation: str | None) -> Bearing:
    """The bearing with the standard sizes of another designation; as it is where there is none."""
    if designation is None or designation == bearing.designation:
        return bearing
    size = bearing_size(designation)
    return replace(
        bearing, designation=size.designation, bore_mm=None, outside_mm=None, width_mm=size.width_mm,
        inner_face_outside_mm=None, outer_face_inside_mm=None, corner_mm=size.corner_min_mm,
    )  # fmt: skip


def _by_sizes(bearing: Bearing) -> Bearing:
    """The bearing without its designation, so that no standard size contradicts a new one."""
    m = measures(bearing)
    return replace(
        bearing, designation="", bore_mm=m.bore_mm, outside_mm=m.outside_mm, width_mm=m.width_mm,
        inner_face_outside_mm=m.inner_face_outside_mm, outer_face_inside_mm=m.outer_face_inside_mm,
        corner_mm=m.corner_mm,
    )  # fmt: skip


def _values_mm(
    section: Section, changed: Mapping[str, Bearing], exchanges: tuple[_Exchange, ...]
) -> Iterator[tuple[str, float]]:
    """Every quantity after the exchange."""
    yield from drawn_values_mm(section).items()

    def placed(z_mm: float) -> float:
        return z_mm + sum(one.grown_mm(z_mm) for one in exchanges)

    for body in section.bodies:
        first, *others = stations_mm(body)
        for station, z_mm in enumerate(others, start=1):
            yield f"{body.id}.z{station}", round(placed(z_mm) - placed(first), 3)
        for surface in surfaces(body):
            yield surface.name, round(_of_surface(exchanges, body, surface), 3)
    root_mm = stations_mm(section.body(layout_of(section).root))[0]
    for name, offset_mm in layout_of(section).offsets_mm.items():
        assert name.endswith(PLACE)
        yield name, round(placed(root_mm + offset_mm) - placed(root_mm), 3)
    for bearing in changed.values():
        m = measures(bearing)
        yield f"{bearing.id}.bore", m.bore_mm
        yield f"{bearing.id}.outside", m.outside_mm
        yield f"{bearing.id}.width", m.width_mm
        yield f"{bearing.id}.inner_face", m.inner_face_outside_mm
        yield f"{bearing.id}.outer_face", m.outer_face_inside_mm


def _of_surface(exchanges: tuple[_Exchange, ...], body: Body, surface: Surface) -> float:
    """A bore stays as small, an outside of what holds bearings as large as any bearing beside it wants it."""
    choose = max if surface.form == "outside" and body.role in ("housing", "insert") else min
    return _follow(exchanges, surface.from_z_mm, surface.to_z_mm, choose)(surface.diameter_mm)


def _follow(
    exchanges: tuple[_Exchange, ...], from_z_mm: float, to_z_mm: float, choose: Callable[[Iterator[float]], float]
) -> Callable[[float], float]:
    """How a diameter between two places follows the bearings nearest to it."""
    nearest = min((one.distance_mm(from_z_mm, to_z_mm) for one in exchanges), default=0.0)
    beside = [one for one in exchanges if one.distance_mm(from_z_mm, to_z_mm) <= nearest + SAME_MM]
    return lambda old_mm: choose(one.diameter_mm(old_mm) for one in beside) if beside else old_mm


def _diameters(m: Measures) -> tuple[float, ...]:
    return m.bore_mm, m.inner_face_outside_mm, m.outer_face_inside_mm, m.outside_mm
