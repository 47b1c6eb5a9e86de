"""Hollow things that stand with their mouth towards the work: what goes in and what meets the rim."""

from geometry.profile.profile import Face
from geometry.section.thing import Thing

SAME_MM = 1e-6


def stands_on_rim(cup: Thing, moving: Thing) -> bool:
    """Whether a thing is too wide for the hollow of a cup that has one."""
    rim, deeper = _rim_and_floor(cup)
    if not rim or not deeper:
        return False
    mouth = min(face[0] for face in rim)
    return moving.profile.r_max_mm > mouth + 1e-9 and any(face[0] < mouth for face in deeper)


def mouth_mm(cup: Thing) -> float:
    """Inside diameter of a cup at its rim; 0 without a rim."""
    rim, _ = _rim_and_floor(cup)
    return 2 * min((face[0] for face in rim), default=0.0)


def _rim_and_floor(cup: Thing) -> tuple[list[Face], list[Face]]:
    """Faces towards the work: those at its end, and those behind."""
    work_is_right = cup.side == "left"
    faces = cup.profile.faces_right if work_is_right else cup.profile.faces_left
    ends = [z for face in faces for z in face[2:]]
    end = max(ends) if work_is_right else min(ends)
    rim = [face for face in faces if abs(face[2] - end) < SAME_MM and abs(face[3] - end) < SAME_MM]
    return rim, [face for face in faces if face not in rim]
