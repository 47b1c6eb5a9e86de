"""Faces that tool parts stand on: which they must not touch, which fold, how much of a ring is covered."""

from geometry.check.face_pressure import pressure_findings
from geometry.check.finding import Finding, Place, Severity
from geometry.check.landing import Landing, is_hooked
from geometry.check.result import ContactForce
from geometry.check.wording import mm, name_of, newtons
from geometry.job.job import Job, Limits
from geometry.profile.wall import thickness_behind
from geometry.section.section import Section
from geometry.stack.scene import Scene

LIP_DEPTH_MM = 0.5
"""How far behind a face its wall is looked at, so that a broken edge is no thin lip."""
CLAMPED_SHARE = 0.3
"""A loose part that carries more than this share of the press force on both sides is clamped."""
ZONE_REACH_MM = 0.05
"""A keep-off face counts when the landing lies this near to it along z."""


def landing_findings(
    job: Job, all_landings: tuple[Landing, ...], press_force_n: float, sliding_force_n: float
) -> list[Finding]:
    """Judge where tool parts stand: zones, lips, rings, seals, edges and face pressure."""
    found: list[Finding] = []
    scale = press_force_n / sliding_force_n if sliding_force_n > 0.0 else 1.0
    for landing in all_landings:
        if landing.force_n < 0.01 * sliding_force_n:
            continue
        found += standing_findings(job, landing)
        if landing.flat and not landing.hooked_mm2:
            found += pressure_findings(job, landing, landing.force_n * scale)
    return found


def standing_findings(job: Job, landing: Landing) -> list[Finding]:
    """The same of one landing, whatever the force: zones, lips, rings, seals and edges."""
    found = _zone_findings(job.section, landing) + _kind_findings(landing, job.limits)
    if landing.flat:
        return found if is_hooked(job, landing.tool) else found + _width_findings(landing, job.limits)
    edge = Finding(
        "edge-contact",
        "caution",
        (landing.tool.id, landing.on.id),
        f"{name_of(landing.tool.id)} touches {name_of(landing.on.id)} on an edge only.",
        f"circle of {mm(landing.outer_mm)}",
        "first contact of the sections",
        "Use a part whose face is flat there.",
        landing.place,
    )
    return [*found, edge]


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
