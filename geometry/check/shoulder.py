"""Shoulder: what stops a bearing at home, under the press force and a firm turn more."""

from math import inf, pi

from geometry.check.contact_path import OVERPRESS_N
from geometry.check.finding import Place
from geometry.check.member import Member, material_or_none, working_stress_mpa
from geometry.check.result import Band, Utilisation
from geometry.check.wording import mm, name_of, newtons
from geometry.facts.materials import Material
from geometry.job.job import Job, Step
from geometry.mechanics.rod import SHEAR_OF_TENSION
from geometry.profile.profile import Face, Profile, face_z
from geometry.section.bearing import Bearing, measures
from geometry.section.body import Body, profile_of

AT_HOME_MM = 0.05
"""A face is the shoulder of a ring when it lies this near to where the ring ends at home."""


def shoulder_members(job: Job, step: Step, force: Band) -> list[Member]:
    """The shoulder of each outer ring that goes in: shear, bending and pressure, the worst of them."""
    if step.operation != "press in":
        return []
    found = []
    for id in step.bearings:
        bearing = job.section.bearing(id)
        group = job.section.rigid_group(bearing.housing)
        for body in job.section.bodies:
            if job.section.rigid_group(body.id) == group and body.role in ("housing", "insert"):
                found += _of_body(job, bearing, body, force)
    return found


def _of_body(job: Job, bearing: Bearing, body: Body, force: Band) -> list[Member]:
    facts = material_or_none(body.material)
    working = working_stress_mpa(facts) if facts is not None else None
    m = measures(bearing)
    to_right = bearing.leaves == "left"
    z = m.outer_to_z_mm if to_right else m.outer_from_z_mm
    profile = profile_of(body.shape)
    face = _shoulder(profile, z, m.outer_face_inside_mm / 2, m.outside_mm / 2, looks_left=to_right)
    if face is None or facts is None or working is None:
        return []
    inner = max(face[0], m.outer_face_inside_mm / 2)
    outer = min(face[1], m.outside_mm / 2 - m.corner_mm)
    if outer - inner < 1e-3:
        return []
    root = min(face[1], m.outside_mm / 2)
    depth = _depth(profile, (inner + outer) / 2, z, to_right=to_right)
    rows = _stresses(facts, working, inner, outer, root, depth)
    per_newton, what, allowable, inverse = max(rows, key=lambda row: row[0] / row[2])
    expected, high = force.expected + OVERPRESS_N, force.high + OVERPRESS_N
    value = expected * per_newton
    caution = job.limits.utilisation_caution
    most = caution * allowable / per_newton
    sum_ = (
        f"({newtons(force.expected)} + a firm turn {newtons(OVERPRESS_N)}): lip {mm(depth)} thick,"
        f" {mm(2 * inner)} to {mm(2 * outer)} under the ring: {value:.0f} MPa; {100 * value / allowable:.0f} % of"
        f" {allowable:.0f} MPa"
    )
    enough = depth * (value / (caution * allowable)) ** inverse if inverse else 0.0
    would = f"; a lip {mm(enough)} mm thick would bear it" if inverse else ""
    return [
        Member(
            Utilisation(
                body.id, what, value, allowable, "MPa", value / allowable, high * per_newton / allowable, sum_,
                "shear over pi d t, lip as a strip held at its root, force over the face (memory);"
                " yield, at most the face pressure of facts/materials.csv",
            ),
            "shoulder-overstressed",
            f"Pressed home, {bearing.id} puts {value:.0f} MPa on its shoulder in {name_of(body.id)}"
            f" ({what}); {facts.name} bears {allowable:.0f}.",
            f"Warm the housing so that the bearing goes in easily, and stop at {newtons(most)}{would}.",
            Place(z, inner + outer),
            bodies=(body.id, f"{bearing.id}.outer"),
            is_with_force=False,
        )
    ]  # fmt: skip


def _stresses(
    facts: Material, working: float, inner: float, outer: float, root: float, depth: float
) -> list[tuple[float, str, float, float]]:
    """Rows of (stress for each newton, what, allowable, power of the stress by which a thicker lip would do)."""
    area = pi * (outer**2 - inner**2)
    rows = [(1 / area, "pressure on the shoulder", facts.allowable_face_pressure_mpa or inf, 0.0)]
    if depth < inf:
        lever = root - (inner + outer) / 2
        bending = 6 * lever / (2 * pi * root * depth**2)
        shear = 1.5 / (2 * pi * root * depth) / SHEAR_OF_TENSION
        rows += [(bending, "bending of the lip", working, 0.5), (shear, "shear of the lip", working, 1.0)]
    return rows


def _shoulder(profile: Profile, z: float, inner: float, outer: float, *, looks_left: bool) -> Face | None:
    faces = profile.faces_left if looks_left else profile.faces_right
    for face in faces:
        flat = abs(face[2] - face[3]) < 1e-6
        if flat and abs(face[2] - z) < AT_HOME_MM and face[0] < outer and face[1] > inner:
            return face
    return None


def _depth(profile: Profile, radius: float, z: float, *, to_right: bool) -> float:
    """Material along z behind the shoulder at a radius; infinite where there is no end of it to be found."""
    for inner, outer, spans in profile.strips:
        if inner <= radius <= outer:
            for a0, b0, a1, b1 in spans:
                start = face_z((inner, outer, a0, a1), radius)
                end = face_z((inner, outer, b0, b1), radius)
                if start - AT_HOME_MM <= z <= end + AT_HOME_MM:
                    return max(end - z if to_right else z - start, 1e-3)
    return inf
