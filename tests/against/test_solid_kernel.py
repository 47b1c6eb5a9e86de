"""Sections against solids: first contact and common volume of random turned bodies.

manifold3d
    Facets, n round the axis: a volume is that of the body of revolution times n / (2 pi) sin(2 pi / n).
build123d (Open CASCADE)
    Exact surfaces of revolution.
shapely
    First contact by bisection of the swept section.
"""

from math import pi, sin
from random import Random

import pytest
from shapely import Polygon, union_all
from shapely.affinity import translate

from geometry.profile.outline import area_mm2, edges
from geometry.profile.overlap import overlap
from geometry.profile.touch import closing
from tests.geometry.profile.shapes import random_body

FACETS = 96
FACET_SHARE = FACETS / (2 * pi) * sin(2 * pi / FACETS)


def pairs(first, last):
    """Pairs of random bodies and a place at which the right one may lie in, over or beside the left one."""
    sources = [Random(number) for number in range(first, last)]
    return [
        (random_body(random), random_body(random), random.randint(-1500, 1500) / 100) for random in sources
    ]


def apart(left, right):
    """A place at which the right body lies 3 mm beyond the left one."""
    return left.z_max_mm - right.z_min_mm + 3.0


def faceted(body, at_mm):
    """The body as facets; manifold3d revolves (x, y) about y, x being the radius."""
    from manifold3d import CrossSection, FillRule, Manifold

    rings = [
        [(r, z) for z, r in ring][::-1] for ring in body.rings
    ]  # the exchange of axes turns the walk round
    return Manifold.revolve(CrossSection(rings, FillRule.Positive), FACETS).translate((0, 0, at_mm))


@pytest.mark.parametrize(("a", "b", "b_at_mm"), pairs(0, 40))
def test_common_volume_of_facets(a, b, b_at_mm):
    expected = (faceted(a, 0.0) ^ faceted(b, b_at_mm)).volume() / FACET_SHARE

    found = overlap(a, b, a_at_mm=0, b_at_mm=b_at_mm)

    assert (found.volume_mm3 if found else 0.0) == pytest.approx(expected, rel=2e-4, abs=1e-3)


@pytest.mark.parametrize(("left", "right", "_"), pairs(100, 130))
def test_facets_are_apart_up_to_first_contact_and_not_beyond(left, right, _):
    right_at = apart(left, right)
    still = faceted(right, right_at)

    found = closing(left, right, left_at_mm=0, right_at_mm=right_at)

    reach = found.distance_mm if found else right.z_max_mm + right_at - left.z_min_mm
    on_the_way = [(faceted(left, share * reach) ^ still).volume() for share in (0.3, 0.6, 0.9)]
    assert [*on_the_way, (faceted(left, reach - 2e-4) ^ still).volume()] == pytest.approx([0] * 4, abs=1e-4)
    if found:
        assert (faceted(left, reach + 0.02) ^ still).volume() > 1e-4


def solid(body, at_mm):
    from build123d import Axis, Face, Pos, Wire, revolve

    faces = [
        Face(Wire.make_polygon([(r, 0, z) for z, r in ring])) for ring in body.rings if area_mm2(ring) > 0
    ]
    holes = [
        Face(Wire.make_polygon([(r, 0, z) for z, r in ring])) for ring in body.rings if area_mm2(ring) < 0
    ]
    turned_round = [revolve(face, Axis.Z) for face in faces]
    whole = turned_round[0].fuse(*turned_round[1:]) if len(turned_round) > 1 else turned_round[0]
    for hole in holes:
        whole = whole.cut(revolve(hole, Axis.Z))
    return Pos(0, 0, at_mm) * whole


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # build123d's own, at import
@pytest.mark.parametrize(("a", "b", "b_at_mm"), pairs(200, 206))
def test_common_volume_of_exact_solids(a, b, b_at_mm):
    common = solid(a, 0.0).intersect(solid(b, b_at_mm))
    expected = sum(part.volume for part in common) if common else 0.0

    found = overlap(a, b, a_at_mm=0, b_at_mm=b_at_mm)

    assert (found.volume_mm3 if found else 0.0) == pytest.approx(expected, rel=1e-9, abs=1e-9)


def section(body, at_mm=0.0):
    outer = union_all([Polygon(ring) for ring in body.rings if area_mm2(ring) > 0])
    return translate(
        outer.difference(union_all([Polygon(r) for r in body.rings if area_mm2(r) < 0])), xoff=at_mm
    )


def swept(body, distance):
    """The section of all that the body passes through on its way."""
    trails = [
        Polygon([(z0, r0), (z1, r1), (z1 + distance, r1), (z0 + distance, r0)])
        for ring in body.rings
        for (z0, r0), (z1, r1) in edges(ring)
        if r0 != r1
    ]
    return union_all([section(body), section(body, distance), *trails])


@pytest.mark.parametrize(("left", "right", "_"), pairs(300, 340))
def test_first_contact_by_bisection_of_the_sweep(left, right, _):
    right_at = apart(left, right)
    still = section(right, right_at)
    low, high = 0.0, right.z_max_mm + right_at - left.z_min_mm
    passes = swept(left, high).intersection(still).area < 1e-11
    while high - low > 1e-6:
        middle = (low + high) / 2
        if swept(left, middle).intersection(still).area < 1e-11:
            low = middle
        else:
            high = middle

    found = closing(left, right, left_at_mm=0, right_at_mm=right_at)

    assert (found is None) == passes
    if found:
        assert found.distance_mm == pytest.approx(low, abs=2e-5)
