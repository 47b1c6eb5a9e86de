"""Rows of docs/verification.md: limits of size, sideways play, faces, first contact."""

from functools import partial
from math import pi

import numpy as np
from pressfit.tables import it_value, shaft_deviation
from shapely import Point

from geometry.facts.tolerances import deviations_um
from geometry.mechanics.sideways import FaceTie, Guide, Positions, chain_sideways
from geometry.profile.contour import turned
from geometry.profile.overlap import overlap
from geometry.profile.touch import closing
from geometry.profile.transverse import ledge
from tests.against.test_sideways_brute_force import corners, question, rows_of
from tests.against.test_solid_kernel import FACET_SHARE, faceted
from tests.verification import Row, in_group, within

LIMITS = "Limits of size"
SIDEWAYS = "Off-centre"
SOLIDS = "Sections against solids"
PRESSFIT = "library pressfit 0.1, its own table of ISO 286-1"
CORNERS = "all corners of the play, enumerated (numpy)"
NOTES = "Ringpath's mechanics notes, section 4 (another program)"
FACETS = "library manifold3d, solids of 96 facets"


def _table(zone, found, reference, source):
    why = "both are tables of whole micrometres"
    return within(f"upper deviation of {zone}", "µm", found, reference, source, why, share=0.0, digits=0)


def _hole_h(size_mm):
    found = deviations_um("H7", size_mm)[1]
    return _table(f"{size_mm:g} H7", found, it_value(size_mm, 7), PRESSFIT)


def _hole_by_rule(size_mm, letter):
    delta = it_value(size_mm, 7) - it_value(size_mm, 6)
    reference = -shaft_deviation(size_mm, letter, 7) + delta
    found = deviations_um(f"{letter.upper()}7", size_mm)[1]
    source = f"{PRESSFIT}, shaft {letter} mirrored by the rule of ISO 286-1 (memory)"
    return _table(f"{size_mm:g} {letter.upper()}7", found, reference, source)


def _shaft(size_mm, letter, grade):
    found = deviations_um(f"{letter}{grade}", size_mm)[1]
    reference = shaft_deviation(size_mm, letter, grade) + it_value(size_mm, grade)
    return _table(f"{size_mm:g} {letter}{grade}", found, reference, PRESSFIT)


in_group(LIMITS)(partial(_hole_h, 28.0))
in_group(LIMITS)(partial(_hole_by_rule, 28.0, "n"))
in_group(LIMITS)(partial(_hole_by_rule, 42.0, "p"))
in_group(LIMITS)(partial(_shaft, 15.0, "k", 6))


@in_group(SIDEWAYS)
def rod_without_guide():
    found = Positions(2, [Guide(1, 0, 2.0, 0.0, 80.0)], []).worst(1, 90.0).offset_mm
    return within("rod 8 in a 12 bore, 10 mm outside it", "mm", found, 2.50, NOTES, "none", share=0.002)


@in_group(SIDEWAYS)
def hollow_drift_on_a_step():
    found = chain_sideways([Guide(1, 0, 0.05, 0.0, 20.0)], 25.0).offset_mm
    return within("hollow drift bored 12.1 on a 12 step", "mm", found, 0.075, NOTES, "none", share=0.01, digits=3)


GUIDES = [
    Guide(1, 0, 0.05, 0.0, 12.0), Guide(1, 0, 0.14, 60.0, 70.0), Guide(2, 1, 0.10, 20.0, 40.0),
    Guide(2, 0, 0.35, 15.0, 30.0),
]  # fmt: skip
TIES = [FaceTie(1, 2, 0.004)]


def _loop(question_number, words, unit):
    every = corners(*rows_of(3, GUIDES, TIES))
    asked = question(3, 2, 95.0)[question_number]
    worst = Positions(3, GUIDES, TIES).worst(2, 95.0)
    found = (worst.offset_mm, worst.tilt_rad)[question_number]
    why = "the same linear program, solved in another way"
    return within(words, unit, found, np.max(every @ asked), CORNERS, why, share=1e-6)


in_group(SIDEWAYS)(partial(_loop, 0, "offset of a drift on a rod in two guides, a loop of four clearances", "mm"))
in_group(SIDEWAYS)(partial(_loop, 1, "its tilt", "rad"))


@in_group(SOLIDS)
def ledge_behind_a_bearing():
    sizes = {"edge_radius_mm": 7.7, "face_radius_mm": 9.3, "spacer_bore_radius_mm": 7.5, "aside_mm": 0.5}
    spacer = Point(sizes["aside_mm"], 0).buffer(sizes["spacer_bore_radius_mm"], quad_segs=4096)
    edge, face = (Point(0, 0).buffer(sizes[name], quad_segs=4096) for name in ("edge_radius_mm", "face_radius_mm"))
    reference = spacer.intersection(face).difference(edge).area
    source = "library shapely, circles of 16384 corners"
    return within("ledge of a spacer held 0.5 mm aside", "mm²", ledge(**sizes).area_mm2, reference, source,
                  "corners against circles", share=2e-4)  # fmt: skip


NOSE = turned([(0.0, 10.0, 24.0, 24.0, 12.0, 12.0), (10.0, 14.0, 24.0, 20.0, 12.0, 12.0)])
MOUTH = turned([(0.0, 5.0, 40.0, 40.0, 25.0, 18.0), (5.0, 12.0, 40.0, 40.0, 18.0, 18.0)])
APART_MM = 30.0


@in_group(SOLIDS)
def first_contact():
    """A cone goes into a steeper one; facets are found to share volume by halving the way."""
    low, high = 0.0, APART_MM
    still = faceted(MOUTH, APART_MM)
    while high - low > 1e-5:
        middle = (low + high) / 2
        if (faceted(NOSE, middle) ^ still).volume() > 1e-7:
            high = middle
        else:
            low = middle
    found = closing(NOSE, MOUTH, left_at_mm=0.0, right_at_mm=APART_MM).distance_mm
    return Row("way of a cone into a mouth until they touch", "mm", found, round(low, 3), f"{FACETS}, the way halved",
               "facets need some volume before they count as touching", -2e-3, 2e-3, 5)  # fmt: skip


@in_group(SOLIDS)
def common_volume():
    at_mm = 7.4
    reference = (faceted(NOSE, 0.0) ^ faceted(MOUTH, at_mm)).volume() / FACET_SHARE
    found = overlap(NOSE, MOUTH, a_at_mm=0.0, b_at_mm=at_mm).volume_mm3
    return within("volume that they would share some 3 mm further in", "mm³", found, reference, FACETS,
                  "facets against circles, corrected by their area", share=2e-4)  # fmt: skip


@in_group(SOLIDS)
def volume_of_a_ring():
    ring = turned([(0.0, 7.0, 28.0, 28.0, 15.0, 15.0)])
    found = overlap(ring, ring, a_at_mm=0.0, b_at_mm=0.0).volume_mm3
    return within("volume of a plain ring 15x28x7", "mm³", found, pi / 4 * (28**2 - 15**2) * 7, "by hand", "none",
                  share=1e-9)  # fmt: skip
