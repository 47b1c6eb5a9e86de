"""Ledge view: the ledge behind a ring with the toe on it, as seen along the axis, in figures."""

from collections.abc import Iterator
from math import atan, degrees, hypot, pi, radians

from msgspec.structs import replace

from geometry.check.ball_row import ball_row
from geometry.check.interference import outer_interference_band_mm
from geometry.check.landing import Landing, is_hooked
from geometry.check.result import LedgeView, ToeFit
from geometry.check.wording import mm
from geometry.errors import InputError, OutOfRangeError
from geometry.facts.materials import material
from geometry.facts.tolerances import radial_clearance_um
from geometry.job.job import Job, Step
from geometry.mechanics.balls import free_tilt_rad
from geometry.mechanics.face import face_pressure_mpa
from geometry.parts.forms import Toe
from geometry.parts.part import ToolPart, part_profile
from geometry.profile.nesting import Nesting, nestings
from geometry.profile.transverse import ToeContact, ledge, toe_contact_at
from geometry.section.bearing import Bearing, Measures, measures
from geometry.section.body import profile_of
from geometry.section.thing import Thing
from geometry.stack.scene import Scene

BESIDE_MM = 1.0
"""A spacer stands beside a face when one of its ends is this near."""
HALF_ROUND_DEG = 180.0
"""Arc of a hooked part whose form does not tell."""


def with_ledges(job: Job, step: Step, scene: Scene, landed: tuple[Landing, ...]) -> tuple[Landing, ...]:
    """The landings; of a hooked part with the area that it covers of its ledge in place of a whole annulus."""
    areas = {(view.tool, view.ring): view.toe_area_mm2 for view in ledge_views(job, step, scene, landed)}
    return tuple(replace(one, hooked_mm2=areas.get((one.tool.id, one.on.id), 0.0) or None) for one in landed)


def ledge_views(
    job: Job, step: Step, scene: Scene, landed: tuple[Landing, ...], *, force_scale: float = 1.0
) -> tuple[LedgeView, ...]:
    """The ledge under each part that is hooked behind an inner ring, for each spacer beside that ring.

    Parameters
    ----------
    force_scale
        Press force expected over the force that the landings were worked out with.
    """
    return tuple(
        _view(job, scene, landing, spacer, step.pushed_aside_mm.get(spacer, 0.0), force_scale * landing.force_n)
        for landing in landed
        if landing.on.kind == "inner ring" and landing.tool.side is not None and is_hooked(job, landing.tool)
        for spacer in _beside(step, scene, landing)
    )


def _beside(step: Step, scene: Scene, landing: Landing) -> Iterator[str]:
    """Bodies that the step holds aside, and spacers beside the ring that nobody pushes."""
    yield from step.pushed_aside_mm
    for thing in scene.things:
        near = min(abs(thing.left_mm - landing.z_mm), abs(thing.right_mm - landing.z_mm)) < BESIDE_MM
        if thing.kind == "spacer" and near and thing.id not in step.pushed_aside_mm:
            yield thing.id


def _view(job: Job, scene: Scene, landing: Landing, spacer: str, asked_mm: float, force_n: float) -> LedgeView:
    bearing = job.section.bearing(landing.on.id.split(".")[0])
    m, body = measures(bearing), job.section.body(spacer)
    bore, outside = 2 * profile_of(body.shape).r_min_mm, 2 * profile_of(body.shape).r_max_mm
    room = body.side_play_mm or room_aside_mm(scene, spacer)
    aside = abs(asked_mm) if room is None else min(abs(asked_mm), room)
    bare = ledge(
        edge_radius_mm=m.bore_mm / 2 + m.corner_mm,
        face_radius_mm=m.inner_face_outside_mm / 2,
        spacer_bore_radius_mm=bore / 2,
        aside_mm=aside,
    )
    part = job.part(landing.tool.id.split("@")[0])
    toe = _on_ledge(part, m, bore, aside)
    ring_bears = _bears_mpa("bearing steel") or 0.0
    doubt = hypot(1.0, 0.5, 0.5) * job.doubt_mm  # of the way aside and of both bore radii, independent
    play = max(0.0, -outer_interference_band_mm(job, bearing).low)
    rod = next((thing for thing in scene.things if thing.kind == "rod"), None)
    return LedgeView(
        ring=landing.on.id,
        spacer=spacer,
        tool=landing.tool.id,
        asked_mm=abs(asked_mm),
        room_mm=room,
        aside_mm=aside,
        ring_bore_mm=m.bore_mm,
        edge_mm=m.bore_mm + 2 * m.corner_mm,
        face_mm=m.inner_face_outside_mm,
        spacer_bore_mm=bore,
        spacer_outside_mm=outside,
        housing_bore_mm=_housing_bore_mm(scene, spacer),
        rod_mm=2 * rod.profile.r_max_mm if rod is not None else 0.0,
        shank_mm=_shank_mm(part),
        toe_reach_mm=_reach_mm(part, bore, aside),
        toe_edge_mm=_edge_mm(part, m, bore),
        toe_arc_deg=_arc_deg(part),
        width_mm=bare.width_mm,
        least_width_mm=max(0.0, bare.width_mm - (m.corner_band_mm[1] - m.corner_mm) - doubt),
        area_mm2=bare.area_mm2,
        half_angle_deg=degrees(bare.half_angle_rad),
        toe_area_mm2=toe.area_mm2,
        off_axis_mm=toe.off_axis_mm,
        force_n=force_n,
        pressure_mpa=_pressure_mpa(force_n, toe.area_mm2),
        ring_bears_mpa=ring_bears,
        toe_bears_mpa=_bears_mpa(part.material),
        moment_nm=force_n * toe.off_axis_mm / 1000.0,
        tilt_deg=degrees(atan(play / m.width_mm)),
        inner_tilt_deg=_inner_tilt_deg(bearing),
        ball_factor=1.0 + 4.0 * toe.off_axis_mm / ball_row(m).pitch_mm,
        toes=tuple(_fit(one, m, bore, aside, force_n, ring_bears) for one in job.parts if isinstance(one.form, Toe)),
    )


def _inner_tilt_deg(bearing: Bearing) -> float | None:
    """Tilt that the largest clearance of its group leaves inside a bearing: it has it back as its fit lets go."""
    m = measures(bearing)
    try:
        _, most_um = radial_clearance_um(bearing.clearance_group, m.bore_mm)
    except OutOfRangeError:
        return None
    return degrees(free_tilt_rad(ball_row(m), radial_clearance_mm=most_um / 1000))


def room_aside_mm(scene: Scene, spacer: str) -> float | None:
    """How far a body can go to one side in the bores round it; None where none is round it."""
    return min((max(0.0, clearance) for clearance, _ in _housings(scene, spacer)), default=None)


def _housing_bore_mm(scene: Scene, spacer: str) -> float | None:
    """The narrowest bore round a body."""
    return min((bore for _, bore in _housings(scene, spacer)), default=None)


def _housings(scene: Scene, spacer: str) -> list[tuple[float, float]]:
    """Air to one side and bore of each housing or insert round a body."""
    inner = next((thing for thing in scene.things if thing.id == spacer), None)
    if inner is None:
        return []
    found = []
    for outer in scene.things:
        if outer.kind not in ("housing", "insert"):
            continue
        rows = nestings(outer.profile, inner.profile, outer_at_mm=outer.at_mm, inner_at_mm=inner.at_mm)
        if rows:
            found.append((rows[0].radial_clearance_mm, 2 * (rows[0].radial_clearance_mm + _radius_at(inner, rows[0]))))
    return found


def _radius_at(thing: Thing, nest: Nesting) -> float:
    """Outside radius of a body where it lies in a bore."""
    z = (nest.from_z_mm + nest.to_z_mm) / 2 - thing.at_mm
    return max((max(r0, r1) for z0, z1, r0, r1 in thing.profile.outsides if z0 <= z <= z1), default=0.0)


def _on_ledge(part: ToolPart, m: Measures, spacer_bore_mm: float, aside_mm: float) -> ToeContact:
    """What a hooked part covers when it is pushed out as far as it reaches, or until it meets the spacer.

    Its edge has the curve of the bore through which it went in: a rounder one would not pass, a wider one would
    touch the spacer at two points.
    """
    reach, edge = _reach_mm(part, spacer_bore_mm, aside_mm), _edge_mm(part, m, spacer_bore_mm)
    return toe_contact_at(
        edge_radius_mm=m.bore_mm / 2 + m.corner_mm,
        face_radius_mm=m.inner_face_outside_mm / 2,
        spacer_bore_radius_mm=spacer_bore_mm / 2,
        aside_mm=aside_mm,
        toe_radius_mm=edge / 2,
        toe_half_angle_rad=min(radians(_arc_deg(part) / 2), pi),
        toe_width_mm=edge / 2,
        toe_centre_mm=reach - edge / 2,
    )


def _fit(
    part: ToolPart, m: Measures, spacer_bore_mm: float, aside_mm: float, force_n: float, ring_bears_mpa: float
) -> ToeFit:
    """Whether a toe part passes the ring, reaches its ledge and bears the force there."""
    toe = _on_ledge(part, m, spacer_bore_mm, aside_mm)
    if _shank_mm(part) >= m.bore_mm:
        words = f"its shank {mm(_shank_mm(part))} mm does not pass the bore {mm(m.bore_mm)} mm"
        return ToeFit(part.id, False, 0.0, None, words)
    pressure = _pressure_mpa(force_n, toe.area_mm2)
    if pressure is None:
        reach = mm(_reach_mm(part, spacer_bore_mm, aside_mm))
        flat = mm(m.bore_mm / 2 + m.corner_mm)
        return ToeFit(part.id, False, 0.0, None, f"reaches {reach} mm off the axis, the flat begins at {flat} mm")
    bears = min(_bears_mpa(part.material) or ring_bears_mpa, ring_bears_mpa)
    words = f"{toe.area_mm2:.1f} mm², {pressure:.0f} MPa of {bears:.0f}"
    return ToeFit(part.id, pressure <= bears, toe.area_mm2, pressure, words)


def _reach_mm(part: ToolPart, spacer_bore_mm: float, aside_mm: float) -> float:
    return min(_outside_mm(part) / 2, aside_mm + spacer_bore_mm / 2)


def _edge_mm(part: ToolPart, m: Measures, spacer_bore_mm: float) -> float:
    return min(_outside_mm(part), m.bore_mm, spacer_bore_mm)


def _outside_mm(part: ToolPart) -> float:
    return part.form.toe_outside_mm if isinstance(part.form, Toe) else 2 * part_profile(part).r_max_mm


def _shank_mm(part: ToolPart) -> float:
    return part.form.shank_mm if isinstance(part.form, Toe) else 2 * part_profile(part).r_min_mm


def _arc_deg(part: ToolPart) -> float:
    return part.form.arc_deg if isinstance(part.form, Toe) else HALF_ROUND_DEG


def _pressure_mpa(force_n: float, area_mm2: float) -> float | None:
    return face_pressure_mpa(force_n=force_n, area_mm2=area_mm2) if area_mm2 > 0.0 else None


def _bears_mpa(name: str) -> float | None:
    try:
        return material(name).allowable_face_pressure_mpa
    except InputError:
        return None
