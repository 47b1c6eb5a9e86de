"""Diameters and lengths of a shape that is drawn freely, or a table of its corners where they would be a thicket."""

from msgspec.structs import replace

from app.drawing.thread_callout import callout_of, known_thread
from app.drawing.turned_sizes import SAME_MM, Diameter, Length, Sizes
from geometry.parts.forms import Drawn
from geometry.profile.profile import Profile
from geometry.section.body import Shape, profile_of

MOST_SIZES = 6
"""More diameters or lengths on one side are told by a table."""


def sizes_of_drawn(form: Drawn) -> Sizes:
    """A free shape: its diameters and its steps from the left face; broken edges are told in the notes."""
    shape = form.drawn
    profile = profile_of(shape)
    plain = profile_of(Shape(slices=shape.slices)) if shape.slices else profile
    diameters = _with_thread(tuple(_surfaces(plain)), form.thread)
    lengths = tuple(_steps(plain))
    sides = [sum(one.inside is inside for one in diameters) for inside in (False, True)]
    sides += [sum(one.above is above for one in lengths) for above in (False, True)]
    if max(sides) <= MOST_SIZES and len(plain.rings) == 1 and _is_seen_from_its_ends(plain):
        return Sizes(profile, diameters, lengths)
    greatest = max((one for one in diameters if not one.inside), key=lambda one: one.diameter_mm)
    corners = tuple((z - plain.z_min_mm, 2 * r) for ring in plain.rings for z, r in ring)
    return Sizes(profile, (greatest,), (Length("total", plain.z_min_mm, plain.z_max_mm),), corners)


def _with_thread(diameters: tuple[Diameter, ...], name: str | None) -> tuple[Diameter, ...]:
    """The thread called out at the smallest bore, or at the outside of its size."""
    if name is None or not diameters:
        return diameters
    known = known_thread(name)
    bores = [one for one in diameters if one.inside]
    wanted = known.major_mm if known is not None else 0.0
    threaded = (
        min(bores, key=lambda one: one.diameter_mm)
        if bores
        else min(diameters, key=lambda one: abs(one.diameter_mm - wanted))
    )
    callout = callout_of(name, inside=threaded.inside)
    return tuple(replace(one, callout=callout) if one is threaded else one for one in diameters)


def _surfaces(profile: Profile) -> list[Diameter]:
    """Each diameter once, outsides before bores; of a taper both ends."""
    found: list[Diameter] = []
    for inside, surfaces in ((False, _outsides(profile)), (True, _bores(profile))):
        seen: list[float] = []
        for z0, z1, r0, r1 in surfaces:
            is_cylinder = abs(r1 - r0) < SAME_MM
            ends = ((r0, z0, z1),) if is_cylinder else ((r0, z0, z0), (r1, z1, z1))
            for r, start, end in ends:
                if r > SAME_MM and not any(abs(r - other) < SAME_MM for other in seen):
                    seen.append(r)
                    found.append(Diameter(f"Ø{2 * r:g}", 2 * r, start, end, inside, inside))
    return found


def _steps(profile: Profile) -> list[Length]:
    """Each step once, from the left face."""
    left, right = profile.z_min_mm, profile.z_max_mm
    seen = [left]
    found: list[Length] = []
    for above, surfaces in ((False, _outsides(profile)), (True, _bores(profile))):
        for z in sorted({z for surface in surfaces for z in surface[:2]}):
            if z < right - SAME_MM and not any(abs(z - other) < SAME_MM for other in seen):
                seen.append(z)
                found.append(Length(f"{z - left:g}", left, z, above))
    return [*found, Length(f"{right - left:g}", left, right)]


def _outsides(profile: Profile) -> list[tuple[float, float, float, float]]:
    return _lengthwise(profile, outwards=True)


def _bores(profile: Profile) -> list[tuple[float, float, float, float]]:
    return _lengthwise(profile, outwards=False)


def _lengthwise(profile: Profile, *, outwards: bool) -> list[tuple[float, float, float, float]]:
    """Edges along z that look away from the axis, or at it: lower z, upper z, radius at both."""
    found = []
    for ring in profile.rings:
        for (z0, r0), (z1, r1) in zip(ring, ring[1:] + ring[:1], strict=True):
            if outwards and z1 < z0 - SAME_MM:
                found.append((z1, z0, r1, r0))
            elif not outwards and z1 > z0 + SAME_MM:
                found.append((z0, z1, r0, r1))
    return sorted(found)


def _is_seen_from_its_ends(profile: Profile) -> bool:
    """Whether outsides rise to one greatest and fall, bores fall to one smallest and rise."""
    for surfaces, sign in ((_outsides(profile), 1.0), (_bores(profile), -1.0)):
        radii = [sign * r for _, _, r0, r1 in surfaces for r in (r0, r1)]
        if not radii:
            continue
        top = radii.index(max(radii))
        rising, falling = radii[: top + 1], radii[top:]
        if rising != sorted(rising) or falling != sorted(falling, reverse=True):
            return False
        spans = [span for surface in surfaces for span in [surface[:2]]]
        if any(after[0] < before[1] - SAME_MM for before, after in zip(spans, spans[1:], strict=False)):
            return False
    return True
