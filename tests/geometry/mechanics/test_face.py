"""Mean pressure on a face: force over area, and its ends."""

from math import inf

from geometry.mechanics.face import face_pressure_mpa


def test_pressure():
    assert face_pressure_mpa(force_n=1000, area_mm2=50) == 20.0
    assert face_pressure_mpa(force_n=1000, area_mm2=0) == inf
    assert face_pressure_mpa(force_n=0, area_mm2=0) == 0.0
