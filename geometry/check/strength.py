"""Strength of a step: rod, threads, faces, parts, shoulders and the hand, each as a share of what it bears."""

from geometry.check.contact_path import Pair
from geometry.check.face_pressure import FACE_SOURCE, FacePressure, face_pressures
from geometry.check.finding import Finding, Severity
from geometry.check.landing import Landing, landings_between_parts
from geometry.check.member import Member
from geometry.check.part_strength import part_members
from geometry.check.result import Band, Moment, Utilisation
from geometry.check.rod_strength import galling_findings, hand_member, rod_members
from geometry.check.shoulder import shoulder_members
from geometry.check.wording import name_of, newtons
from geometry.job.job import Job, Limits, Step
from geometry.stack.scene import Scene

ONLY_CAUTIONS = ("force-high", "torque-high", "galling")
IDLE_SHARE = 0.01
"""A landing with less than this share of the press force is idle."""


def strength_of(
    job: Job,
    step: Step,
    scene: Scene,
    sliding: Moment,
    force: Band,
    torque: Band | None,
    landed: tuple[Landing, ...],
    pairs: tuple[Pair, ...],
) -> tuple[Member, ...]:
    """All members of a step, the most used first.

    Parameters
    ----------
    sliding
        The moment whose contacts are judged, scaled to the expected force.
    landed
        Landings of tool parts on the assembly at that moment, moved by the worst offset.
    pairs
        Pairs of things that can touch, for the faces of tool parts on each other.
    """
    scale = force.expected / max(sliding.force_n, 1e-9)
    high = force.high / max(force.expected, 1e-9)
    members = rod_members(job, step, scene, force)
    members += face_members(job, sliding, landed, pairs, scale=scale, high=high)
    members += part_members(job, scene, sliding, scale=scale, high=high)
    members += shoulder_members(job, step, force)
    hand = hand_member(job, scene, torque)
    members += [hand] if hand is not None else []
    return tuple(sorted(members, key=lambda one: -one.row.share))


def utilisations(members: tuple[Member, ...]) -> tuple[Utilisation, ...]:
    """The rows of the members, for StepCheck.strength."""
    return tuple(member.row for member in members)


def face_members(
    job: Job, sliding: Moment, landed: tuple[Landing, ...], pairs: tuple[Pair, ...], *, scale: float, high: float
) -> list[Member]:
    """The most pressed face of each thing; its finding comes from the check of the landings."""
    forces = {c.between: c.force_n for c in sliding.contacts if c.by == "face"}
    worst: dict[str, FacePressure] = {}
    for landing in landed + landings_between_parts(pairs, forces):
        if landing.flat and landing.force_n >= IDLE_SHARE * sliding.force_n:
            for one in face_pressures(job, landing, scale * landing.force_n):
                if one.thing.id not in worst or one.share > worst[one.thing.id].share:
                    worst[one.thing.id] = one
    return [_face_member(one, high) for one in worst.values()]


def _face_member(one: FacePressure, high: float) -> Member:
    held = one.held_mpa
    only_short = held is not None and held < one.allowable_mpa and one.pressure_mpa > held
    sum_ = f"{one.sum}, {held:.0f} MPa if the load is left on" if only_short else one.sum
    row = Utilisation(
        one.thing.id,
        f"face pressure on {name_of(one.on.id)}",
        one.pressure_mpa,
        one.allowable_mpa,
        "MPa",
        one.share,
        one.share * high,
        sum_,
        FACE_SOURCE,
    )
    says = f"{name_of(one.thing.id)} carries {one.pressure_mpa:.0f} MPa on its face; {one.material} bears more for"
    says += f" a minute only, {held:.0f} MPa held" if only_short else " a press"
    return Member(
        row, "", f"{says}.", "Use a part of harder material or with a wider face.", one.place, held_mpa=held
    )


def strength_findings(job: Job, step: Step, scene: Scene, force: Band, members: tuple[Member, ...]) -> list[Finding]:
    """What is used too far: at the expected force, or only at the high end of its band; galling and hand besides."""
    found = galling_findings(job, step, scene) + _torque_of_the_maker(job, members)
    for member in members:
        found += _finding_of(member, job.limits)
    return found + _force_findings(job.limits, force, members)


def _finding_of(member: Member, limits: Limits) -> list[Finding]:
    row = member.row
    bodies = member.bodies or (row.member,)
    values = {"value": min(row.value, 1e9), "allowable": row.allowable, "share": min(row.share, 1e6)}
    if row.share >= limits.utilisation_caution:
        if not member.code:
            return []
        severity: Severity = "fault" if row.share >= 1.0 and member.code not in ONLY_CAUTIONS else "caution"
        return [
            Finding(
                member.code, severity, bodies, member.says, row.sum, row.source, member.way_out, member.place,
                values=values,
            )
        ]  # fmt: skip
    code = member.code or "part-overstressed"
    if row.share_high > 1.0:
        says = f"{member.says} If the fit holds as hard as it can, {100 * row.share_high:.0f} % is used."
        way_out = f"Stop when the torque passes what was expected. {member.way_out}"
        sum_ = f"{row.sum}; high end of the force {100 * row.share_high:.0f} %"
        values["share_high"] = row.share_high
        return [Finding(code, "caution", bodies, says, sum_, row.source, way_out, member.place, values=values)]
    if member.held_mpa is not None and row.value > member.held_mpa:
        says = f"{member.says} Do not leave it under load."
        return [Finding(code, "note", bodies, says, row.sum, row.source, member.way_out, member.place, values=values)]
    return []


def _torque_of_the_maker(job: Job, members: tuple[Member, ...]) -> list[Finding]:
    """The nut asks for more than the hub's maker allows."""
    most = job.instructions.torque_nm if job.instructions is not None else None
    hand = next((one for one in members if one.code == "torque-high"), None)
    if most is None or hand is None or hand.torque_nm <= most:
        return []
    return [
        Finding(
            "torque-high",
            "caution",
            (hand.row.member,),
            f"The nut asks for {hand.torque_nm:.1f} Nm; the maker of the hub allows {most:g} Nm.",
            f"{hand.torque_nm:.1f} Nm against {most:g} Nm",
            "instructions of the hub's maker in the job",
            f"Stop at {most:g} Nm and find out what holds.",
            hand.place,
            values={"torque_nm": hand.torque_nm, "most_nm": most},
        )
    ]


def _force_findings(limits: Limits, force: Band, members: tuple[Member, ...]) -> list[Finding]:
    """The press force against the member that governs: where to stop."""
    governing = max(
        (one for one in members if one.is_with_force), key=lambda one: one.row.share, default=None
    )
    if governing is None or governing.row.share < limits.utilisation_caution:
        return []
    row = governing.row
    most = limits.utilisation_caution * force.expected / row.share
    return [
        Finding(
            "force-high",
            "caution",
            (row.member,),
            f"The press force of {newtons(force.expected)} uses {100 * row.share:.0f} % of what"
            f" {name_of(row.member)} bears ({row.what}).",
            f"{100 * limits.utilisation_caution:.0f} % of it is {newtons(most)}; expected {newtons(force.expected)},"
            f" up to {newtons(force.high)}",
            row.source,
            f"Stop at {newtons(most)}, warm the housing to ease the fit, or change {name_of(row.member)}.",
            governing.place,
            values={"force_n": force.expected, "most_n": most},
        )
    ]
