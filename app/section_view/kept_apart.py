"""Points that lie too close to be told apart, moved away from each other as little as it takes."""

from collections.abc import Sequence
from itertools import combinations
from math import cos, hypot, sin

from app.drawing.marks import Point

ROUNDS = 100
CLOSE = 1e-6


def kept_apart(points: Sequence[Point], least: float) -> tuple[Point, ...]:
    """Each pair at least so far apart; those that have room stay where they are."""
    places = list(points)
    for _ in range(ROUNDS):
        near = [(a, b) for a, b in combinations(range(len(places)), 2) if _distance(places, a, b) < least - CLOSE]
        if not near:
            break
        for a, b in near:
            x, y = _way(places, a, b)
            by = max(least - _distance(places, a, b), 0.0) / 2
            places[a] = (places[a][0] - x * by, places[a][1] - y * by)
            places[b] = (places[b][0] + x * by, places[b][1] + y * by)
    return tuple(places)


def _distance(places: Sequence[Point], a: int, b: int) -> float:
    return hypot(places[b][0] - places[a][0], places[b][1] - places[a][1])


def _way(places: Sequence[Point], a: int, b: int) -> Point:
    """From one to the other; for two in one place some way, another one for each pair."""
    distance = _distance(places, a, b)
    if distance < CLOSE:
        return cos(a + 2 * b), sin(a + 2 * b)
    return (places[b][0] - places[a][0]) / distance, (places[b][1] - places[a][1]) / distance
