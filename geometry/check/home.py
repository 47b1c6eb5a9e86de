"""Home in words: what the caliper reads when the bearing is where it should be."""

from geometry.check.wording import mm, name_of
from geometry.job.job import Step
from geometry.section.bearing import Bearing, measures
from geometry.section.body import profile_of
from geometry.section.section import Section


def home_in_words(section: Section, step: Step) -> str:
    """Depth of each outer ring below the edge of its bore at home; pressed out: when it is free."""
    bearings = [section.bearing(id) for id in step.bearings]
    if step.operation == "press out":
        return "; ".join(
            f"{b.id} is free when its outer ring has left the bore at z {mm(b.mouth_z_mm)} mm" for b in bearings
        )
    return "; ".join(_depth(section, bearing) for bearing in bearings)


def _depth(section: Section, bearing: Bearing) -> str:
    m = measures(bearing)
    to_right = bearing.leaves == "right"
    face = m.outer_to_z_mm if to_right else m.outer_from_z_mm
    edge = _edge_z_mm(section, bearing)
    below = edge - face if to_right else face - edge
    where = f"the {bearing.leaves} edge of its bore in {name_of(bearing.housing)}"
    if abs(below) < 0.005:
        return f"{bearing.id}: outer ring level with {where}"
    return f"{bearing.id}: outer ring {mm(abs(below))} mm {'below' if below > 0 else 'above'} {where}"


def _edge_z_mm(section: Section, bearing: Bearing) -> float:
    """The face round the mouth of the bore; the end of the tight bore if there is none."""
    m = measures(bearing)
    profile = profile_of(section.body(bearing.housing).shape)
    to_right = bearing.leaves == "right"
    faces = profile.faces_right if to_right else profile.faces_left
    near = [
        (r0, z0)
        for r0, _, z0, z1 in faces
        if abs(z0 - z1) < 1e-6
        and r0 >= m.outside_mm / 2 - 0.6
        and (z0 >= bearing.mouth_z_mm - 2.0 if to_right else z0 <= bearing.mouth_z_mm + 2.0)
    ]
    return min(near)[1] if near else bearing.mouth_z_mm
