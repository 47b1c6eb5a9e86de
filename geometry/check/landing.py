"""Landing: the faces on which tool parts touch the assembly, moved by the worst offset."""

from dataclasses import dataclass
from math import inf, pi

from geometry.check.contact_path import Pair
from geometry.check.finding import Finding, Place, Severity
from geometry.check.nut_face import nut_face_mm
from geometry.check.result import Centring, ContactForce, Thing
from geometry.check.wording import mm, name_of, newtons
from geometry.errors import InputError
from geometry.facts.materials import Material, material
from geometry.job.job import Job, Limits
from geometry.mechanics.face import contact_area_mm2, face_pressure_mpa, least_contact_width_mm
from geometry.parts.forms import Nut
from geometry.profile.nesting import nestings
from geometry.profile.profile import Face
from geometry.profile.wall import thickness_behind
from geometry.section.bearing import measures
from geometry.section.section import Section
from geometry.stack.scene import Scene

SAME_PLANE_MM = 1e-4
LIP_DEPTH_MM = 0.5
"""How far behind a face its wall is looked at, so that a broken edge is no thin lip."""
CLAMPED_SHARE = 0.3
"""A loose part that carries more than this share of the press force on both sides is clamped."""
ZONE_REACH_MM = 0.05
"""A keep-off face counts when the landing lies this near to it along z."""

SLIGHT_MM = 0.05
"""An edge over another by less than this is led in by its broken edge."""
SCRAPES_MM = 0.30
"""Up to this a broken edge or the hand leads the drift in; beyond, it scrapes (limit of a good offset)."""

FACE_SOURCE = "force over the area touched at the worst offset; allowable: facts/materials.csv"


@dataclass(frozen=True, slots=True)
class Landing:
    """A tool part on the assembly: the face of each in the plane where they touch, and the force there."""

    tool: Thing
    on: Thing
    z_mm: float
    tool_facing_left: bool
    tool_inner_mm: float
    tool_outer_mm: float
    on_inner_mm: float
    on_outer_mm: float
    flat: bool
    force_n: float
    offset_mm: float | None
    hooked_mm2: float | None = None
    """What a hooked part covers of the ledge that it stands on, where there is one."""

    @property
    def inner_mm(self) -> float:
        return max(self.tool_inner_mm, self.on_inner_mm)

    @property
    def outer_mm(self) -> float:
        return min(self.tool_outer_mm, self.on_outer_mm)

    @property
    def width_mm(self) -> float:
        """Narrowest radial width of the contact at the worst offset."""
        return least_contact_width_mm(
            bore_mm=self.tool_inner_mm,
            outside_mm=self.tool_outer_mm,
            other_bore_mm=self.on_inner_mm,
            other_outside_mm=self.on_outer_mm,
            offset_mm=self.offset_mm or 0.0,
        )

    @property
    def area_mm2(self) -> float:
        if self.hooked_mm2 is not None:
            return self.hooked_mm2
        return contact_area_mm2(
            bore_mm=self.tool_inner_mm,
            outside_mm=self.tool_outer_mm,
            other_bore_mm=self.on_inner_mm,
            other_outside_mm=self.on_outer_mm,
            offset_mm=self.offset_mm or 0.0,
        )

    @property
    def place(self) -> Place:
        return Place(self.z_mm, (self.inner_mm + self.outer_mm) / 2)


def landings(
    pairs: tuple[Pair, ...], forces: dict[tuple[str, str], float], centring: dict[str, Centring]
) -> tuple[Landing, ...]:
    """Contacts between a tool part and the assembly that carry force, annulus by annulus."""
    found = []
    for pair in pairs:
        force = forces.get((pair.left.id, pair.right.id), 0.0)
        if force <= 0.0 or (pair.left.side is None) == (pair.right.side is None):
            continue
        tool, on = (pair.left, pair.right) if pair.left.side is not None else (pair.right, pair.left)
        offset = centring[tool.id].offset_mm if tool.id in centring else None
        found += _landings_of(pair, tool, on, force, offset)
    return tuple(found)


def _landings_of(pair: Pair, tool: Thing, on: Thing, force: float, offset: float | None) -> list[Landing]:
    found = []
    annuli = pair.touch.annuli
    for annulus in annuli:
        flat = (
            abs(annulus.z_inner_mm - annulus.z_outer_mm) < SAME_PLANE_MM
            and annulus.outer_radius_mm > annulus.inner_radius_mm
        )
        z = annulus.z_inner_mm
        left_face = _face_at(
            pair.left.profile.faces_right,
            z - pair.touch.distance_mm - pair.left.at_mm,
            annulus.inner_radius_mm,
            annulus.outer_radius_mm,
        )
        right_face = _face_at(
            pair.right.profile.faces_left,
            z - pair.right.at_mm,
            annulus.inner_radius_mm,
            annulus.outer_radius_mm,
        )
        tool_face, on_face = (left_face, right_face) if tool is pair.left else (right_face, left_face)
        moved_z = z if on is pair.right else z - pair.touch.distance_mm
        found.append(
            Landing(
                tool,
                on,
                moved_z,
                tool is pair.right,
                2 * tool_face[0],
                2 * tool_face[1],
                2 * on_face[0],
                2 * on_face[1],
                flat,
                force / len(annuli),
                offset,
            )
        )
    return found


def _face_at(faces: tuple[Face, ...], z: float, inner: float, outer: float) -> tuple[float, float]:
    """Inner and outer radius of the flat face in a plane that spans the radii given; of a cone, those."""
    low, high = inner, outer
    for r0, r1, z0, z1 in faces:
        if abs(z0 - z) < SAME_PLANE_MM and abs(z1 - z) < SAME_PLANE_MM and r0 <= high + 1e-6 and r1 >= low - 1e-6:
            low, high = min(low, r0), max(high, r1)
    return low, high


def landing_findings(
    job: Job, all_landings: tuple[Landing, ...], press_force_n: float, sliding_force_n: float
) -> list[Finding]:
    """Judge where tool parts stand: zones, lips, rings, seals, edges and face pressure."""
    found: list[Finding] = []
    scale = press_force_n / sliding_force_n if sliding_force_n > 0.0 else 1.0
    for landing in all_landings:
        if landing.force_n < 0.01 * sliding_force_n:
            continue
        found += _zone_findings(job.section, landing)
        found += _kind_findings(landing, job.limits)
        if landing.flat:
            found += [] if is_hooked(job, landing.tool) else _width_findings(landing, job.limits)
            found += [] if landing.hooked_mm2 else _pressure_findings(job, landing, landing.force_n * scale)
        else:
            found.append(
                Finding(
                    "edge-contact",
                    "caution",
                    (landing.tool.id, landing.on.id),
                    f"{name_of(landing.tool.id)} touches {name_of(landing.on.id)} on an edge only.",
                    f"circle of {mm(landing.outer_mm)}",
                    "first contact of the sections",
                    "Use a part whose face is flat there.",
                    landing.place,
                )
            )
    return found


def loose_part_findings(scene: Scene, contacts: tuple[ContactForce, ...], press_force_n: float) -> list[Finding]:
    """Parts that are put in loose, to centre or to hold, and carry the pull all the same."""
    found = []
    for thing in scene.things:
        carried = [c for c in contacts if thing.id in c.between and c.force_n > CLAMPED_SHARE * press_force_n]
        if thing.side is None or not thing.loose or len(carried) < 2:
            continue
        other = next(id for id in carried[0].between if id != thing.id)
        force = max(c.force_n for c in carried)
        found.append(
            Finding(
                "keep-off-face",
                "fault",
                (thing.id, other),
                f"{name_of(thing.id)} lies loose and should carry nothing: here {newtons(force)} run through it.",
                f"{newtons(force)} of {newtons(press_force_n)} press force",
                "contact network: force on both of its faces",
                f"Give it air at {name_of(other)}, or clamp it as a part that is meant to carry.",
                Place(carried[0].z_mm, carried[0].inner_diameter_mm),
                values={"force_n": force},
            )
        )
    return found


def is_hooked(job: Job, tool: Thing) -> bool:
    """Whether a tool part is hooked in from one side: off the axis on purpose, and judged by its ledge."""
    return job.part(tool.id.split("@")[0]).goes_in_sideways


def _zone_findings(section: Section, landing: Landing) -> list[Finding]:
    found = []
    offset = landing.offset_mm or 0.0
    for zone in section.keep_off:
        facing_tool = zone.facing == "left" if not landing.tool_facing_left else zone.facing == "right"
        at_home = zone.face_z_mm + landing.on.at_mm
        if zone.body != landing.on.id or not facing_tool or abs(at_home - landing.z_mm) > ZONE_REACH_MM:
            continue
        reach_in = landing.inner_mm - 2 * offset if landing.tool_inner_mm >= landing.on_inner_mm else landing.inner_mm
        reach_out = min(landing.tool_outer_mm + 2 * offset, landing.on_outer_mm)
        if reach_in < zone.to_mm - 1e-9 and reach_out > zone.from_mm + 1e-9:
            found.append(
                Finding(
                    "keep-off-face",
                    "fault",
                    (landing.tool.id, landing.on.id),
                    f"{name_of(landing.tool.id)} lies across a face that must carry no force: {zone.reason}.",
                    f"landing {mm(landing.inner_mm)} to {mm(landing.outer_mm)},"
                    f" moved by {mm(offset)}: {mm(reach_in)} to {mm(reach_out)};"
                    f" kept off {mm(zone.from_mm)} to {mm(zone.to_mm)}",
                    "keep-off face drawn in the section",
                    f"Use a part that stays inside {mm(zone.from_mm)} or outside {mm(zone.to_mm)} mm.",
                    landing.place,
                    values={"from_mm": reach_in, "to_mm": reach_out},
                )
            )
    return found


def _kind_findings(landing: Landing, limits: Limits) -> list[Finding]:
    pair = (landing.tool.id, landing.on.id)
    if landing.on.kind == "seals":
        return [
            Finding(
                "seal-touched",
                "fault",
                pair,
                f"{name_of(landing.tool.id)} stands on the {name_of(landing.on.id)}.",
                f"landing {mm(landing.inner_mm)} to {mm(landing.outer_mm)} lies between the rings",
                "first contact of the sections",
                "Use a drift whose face lies on a ring.",
                landing.place,
            )
        ]
    if landing.on.kind == "screws":
        return [
            Finding(
                "screw-head-contact",
                "fault",
                pair,
                f"{name_of(landing.tool.id)} stands on screw heads,"
                f" at {mm(landing.inner_mm)} to {mm(landing.outer_mm)} mm.",
                f"landing {mm(landing.inner_mm)} to {mm(landing.outer_mm)}",
                "first contact of the sections",
                f"Take the screws off, or use a part of at most {mm(landing.on_inner_mm)} mm outside.",
                landing.place,
            )
        ]
    if landing.on.kind == "circlip":
        return [
            Finding(
                "retaining-ring-in-the-way",
                "fault",
                pair,
                f"{name_of(landing.tool.id)} pushes on the circlip.",
                f"landing {mm(landing.inner_mm)} to {mm(landing.outer_mm)}",
                "first contact of the sections",
                "Take the circlip out first.",
                landing.place,
            )
        ]
    if landing.on.kind != "housing" or not landing.flat:
        return []
    wall = thickness_behind(
        landing.on.profile,
        z_mm=landing.z_mm - landing.on.at_mm,
        radius_mm=(landing.inner_mm + landing.outer_mm) / 4,
        facing_left=not landing.tool_facing_left,
        depth_mm=LIP_DEPTH_MM,
    )
    if wall >= limits.thin_lip_mm - 1e-9:
        return []
    return [
        Finding(
            "thin-lip",
            "fault",
            pair,
            f"{name_of(landing.tool.id)} stands on a lip of {name_of(landing.on.id)}"
            f" that is {mm(wall)} mm thick; it will fold.",
            f"wall {mm(wall)} < {mm(limits.thin_lip_mm)}",
            "lips thinner than 1.2 mm do not carry (common practice)",
            "Let the support stand on a solid face.",
            landing.place,
            values={"wall_mm": wall},
        )
    ]


def _width_findings(landing: Landing, limits: Limits) -> list[Finding]:
    width, offset = landing.width_mm, landing.offset_mm or 0.0
    if width >= limits.contact_ring_mm - 1e-9:
        return []
    severity: Severity = "caution" if width > 1e-6 else "fault"
    what = f"only {mm(width)} mm wide" if width > 1e-6 else "gone on one side"
    return [
        Finding(
            "ring-partly-covered",
            severity,
            (landing.tool.id, landing.on.id),
            f"{name_of(landing.tool.id)} on {name_of(landing.on.id)}:"
            f" the ring of contact is {what} at the worst offset.",
            f"face {mm(landing.tool_inner_mm)} to {mm(landing.tool_outer_mm)}"
            f" on {mm(landing.on_inner_mm)} to {mm(landing.on_outer_mm)},"
            f" moved by {mm(offset)}: {mm(width)} left; at least {mm(limits.contact_ring_mm)}",
            "faces moved against each other by the worst offset; least width: common practice",
            f"Use a part that covers {mm(landing.on_inner_mm)} to {mm(landing.on_outer_mm)} mm, or centre it better.",
            landing.place,
            values={"width_mm": width},
        )
    ]


def pressure_between_parts(
    job: Job, pairs: tuple[Pair, ...], forces: dict[tuple[str, str], float], share: float
) -> list[Finding]:
    """Face pressure where tool parts stand on each other, at `share` times the forces given."""
    found = []
    for landing in landings_between_parts(pairs, forces):
        if landing.flat:
            found += _pressure_findings(job, landing, landing.force_n * share)
    return found


def landings_between_parts(pairs: tuple[Pair, ...], forces: dict[tuple[str, str], float]) -> tuple[Landing, ...]:
    """Contacts of tool parts with each other that carry force, annulus by annulus."""
    found = []
    for pair in pairs:
        force = forces.get((pair.left.id, pair.right.id), 0.0)
        if force > 0.0 and pair.left.side is not None and pair.right.side is not None:
            found += _landings_of(pair, pair.left, pair.right, force, 0.0)
    return tuple(found)


@dataclass(frozen=True, slots=True)
class FacePressure:
    """Pressure on the face of one of the two that stand on each other."""

    thing: Thing
    on: Thing
    material: str
    force_n: float
    area_mm2: float
    allowable_mpa: float
    held_mpa: float | None
    place: Place

    @property
    def pressure_mpa(self) -> float:
        return face_pressure_mpa(force_n=self.force_n, area_mm2=self.area_mm2)

    @property
    def share(self) -> float:
        return self.pressure_mpa / self.allowable_mpa

    @property
    def sum(self) -> str:
        return (
            f"{self.force_n:.0f} N / {self.area_mm2:.1f} mm² = {self.pressure_mpa:.0f} MPa;"
            f" {100 * self.share:.0f} % of {self.allowable_mpa:.0f} MPa"
        )


def face_pressures(job: Job, landing: Landing, force_n: float) -> tuple[FacePressure, ...]:
    """Pressure on both faces of a flat landing, for each whose material is known to bear a pressure."""
    found = []
    area = min(landing.area_mm2, _nut_face_mm2(job, landing.tool), _nut_face_mm2(job, landing.on))
    for thing, other in ((landing.tool, landing.on), (landing.on, landing.tool)):
        facts = _face_facts(_material_of(job, thing))
        if facts is not None and facts.allowable_face_pressure_mpa is not None:
            allowable, held = facts.allowable_face_pressure_mpa, facts.held_face_pressure_mpa
            found.append(FacePressure(thing, other, facts.name, force_n, area, allowable, held, landing.place))
    return tuple(found)


def _nut_face_mm2(job: Job, thing: Thing) -> float:
    """Face that a hexagon nut stands on: turned to less than its flats, countersunk at the thread; else no bound."""
    part = job.part(thing.id.split("@")[0]) if thing.side is not None else None
    if part is None or not isinstance(part.form, Nut):
        return inf
    outside, inside = nut_face_mm(part)
    return pi / 4 * (outside**2 - inside**2)


def _pressure_findings(job: Job, landing: Landing, force: float) -> list[Finding]:
    return [
        Finding(
            "part-overstressed",
            "fault" if one.share >= 1.0 else "caution",
            (one.thing.id,),
            f"{name_of(one.thing.id)} carries {one.pressure_mpa:.0f} MPa on its face;"
            f" {one.material} bears {one.allowable_mpa:.0f}.",
            one.sum,
            FACE_SOURCE,
            "Use a part of harder material or with a wider face.",
            one.place,
            values={"pressure_mpa": min(one.pressure_mpa, 1e6), "allowable_mpa": one.allowable_mpa},
        )
        for one in face_pressures(job, landing, force)
        if one.share >= job.limits.utilisation_caution
    ]


def _material_of(job: Job, thing: Thing) -> str:
    if thing.side is not None:
        return job.part(thing.id.split("@")[0]).material
    body = next((body for body in job.section.bodies if body.id == thing.id), None)
    return body.material if body is not None else "bearing steel"


def _face_facts(name: str) -> Material | None:
    try:
        facts = material(name)
    except InputError:
        return None
    return None if facts.name == "bearing steel" else facts


def offset_findings(
    job: Job, scene: Scene, pusher: Thing | None, landing: Landing | None, home_shift: dict[str, float]
) -> list[Finding]:
    """What the worst offset of the pushing part does: its edge on the bore, its rim over the seal."""
    if pusher is None or landing is None or landing.offset_mm is None:
        return []
    return _bore_findings(scene, pusher, landing, home_shift) + _seal_findings(job.section, pusher, landing)


def _bore_findings(scene: Scene, pusher: Thing, landing: Landing, home_shift: dict[str, float]) -> list[Finding]:
    offset = landing.offset_mm or 0.0
    found = []
    for housing in scene.things:
        if housing.kind not in ("housing", "insert"):
            continue
        rows = nestings(
            housing.profile,
            pusher.profile,
            outer_at_mm=housing.at_mm + home_shift.get(housing.group, 0.0),
            inner_at_mm=pusher.at_mm + home_shift.get(pusher.group, 0.0),
        )
        for nest in rows[:1]:
            over = offset - nest.radial_clearance_mm
            if over <= SLIGHT_MM:
                continue
            scrapes = over > SCRAPES_MM
            found.append(
                Finding(
                    "scrapes-bore" if scrapes else "edge-contact",
                    "fault" if scrapes else "caution",
                    (pusher.id, housing.id),
                    f"Hanging to one side, {name_of(pusher.id)} catches the edge of the bore of {name_of(housing.id)}.",
                    f"offset {mm(offset)} - clearance {mm(nest.radial_clearance_mm)} to one side"
                    f" = {mm(over)} over the edge",
                    "worst offset at the start against the bore entered later",
                    f"Centre it to {mm(nest.radial_clearance_mm)} mm with a guide,"
                    f" or use a drift {mm(2 * over)} mm smaller outside.",
                    Place(nest.from_z_mm, 2 * pusher.profile.r_max_mm),
                    values={"over_mm": over},
                )
            )
    return found


def cup_findings(scene: Scene, support: Landing | None, goal_shift: dict[str, float]) -> list[Finding]:
    """What comes into the support while it hangs to one side: does it clear the mouth?"""
    if support is None or support.offset_mm is None:
        return []
    cup, found = support.tool, []
    for thing in scene.things:
        moved = goal_shift.get(thing.group, 0.0)
        if thing.side is not None or thing.id == "rod" or thing.kind == "seals" or abs(moved) < 1.0:
            continue
        rows = nestings(
            cup.profile,
            thing.profile,
            outer_at_mm=cup.at_mm + goal_shift.get(cup.group, 0.0),
            inner_at_mm=thing.at_mm + moved,
        )
        over = support.offset_mm - rows[0].radial_clearance_mm if rows else 0.0
        if over <= SLIGHT_MM:
            continue
        catches = over > SCRAPES_MM
        found.append(
            Finding(
                "cup-narrow" if catches else "edge-contact",
                "fault" if catches else "caution",
                (cup.id, thing.id),
                f"{name_of(thing.id)} can catch the edge of {name_of(cup.id)}, which can hang"
                f" {mm(support.offset_mm)} mm to one side.",
                f"offset {mm(support.offset_mm)} - clearance {mm(rows[0].radial_clearance_mm)} to one side"
                f" = {mm(over)} over the edge",
                "worst offset of the support against what comes into it",
                "Centre the cup, or use a wider one.",
                support.place,
                values={"over_mm": over},
            )
        )
    return found


def _seal_findings(section: Section, pusher: Thing, landing: Landing) -> list[Finding]:
    bearing = next((b for b in section.bearings if landing.on.id.startswith(f"{b.id}.")), None)
    if bearing is None or landing.on.kind == "seals":
        return []
    m, offset = measures(bearing), landing.offset_mm or 0.0
    seal = (m.inner_face_outside_mm / 2, m.outer_face_inside_mm / 2)
    faces = pusher.profile.faces_left if landing.tool_facing_left else pusher.profile.faces_right
    into = -1.0 if landing.tool_facing_left else 1.0
    plane = landing.z_mm
    for r0, r1, z0, z1 in faces:
        ahead = max(into * (z + pusher.at_mm - plane) for z in (z0, z1))
        outer_ring_face = m.outer_from_z_mm if into > 0 else m.outer_to_z_mm
        proud = abs(outer_ring_face + landing.on.at_mm - plane)
        if ahead <= bearing.seal_recess_mm + proud or r1 + offset <= seal[0] or r0 - offset >= seal[1]:
            continue
        return [
            Finding(
                "seal-touched",
                "caution",
                (pusher.id, f"{bearing.id}.seals"),
                f"Hanging to one side, {name_of(pusher.id)} can touch the seal of {bearing.id}.",
                f"face {mm(2 * r0)} to {mm(2 * r1)} moved by {mm(offset)}"
                f" reaches the seal {mm(2 * seal[0])} to {mm(2 * seal[1])}",
                "worst offset of the pushing part",
                "Centre the drift better.",
                Place(plane, 2 * seal[0]),
            )
        ]
    return []
