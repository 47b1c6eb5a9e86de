"""Time of the plane geometry, beside one shapely intersection of the same bodies (floor.md, section 3).

python -m tests.bench.bench_profile
"""

from itertools import combinations, pairwise
from random import Random
from statistics import median
from time import perf_counter

from shapely import Polygon

from geometry.profile.contour import turned
from geometry.profile.nesting import nestings
from geometry.profile.overlap import overlap
from geometry.profile.profile import Profile, profile
from geometry.profile.touch import closing, gap_mm


def stepped_body(random: Random) -> Profile:
    """Five outside and five bore steps, 20 edges and more."""
    cuts = sorted(random.sample(range(1, 400), 4))
    ends = [0, *cuts, 400]
    slices = []
    for start, end in pairwise(ends):
        outside, bore = random.randint(2000, 4000) / 100, random.randint(600, 1800) / 100
        slices.append((start / 10, end / 10, outside, outside, bore, bore))
    return turned(slices)


def microseconds(work, *, times: int = 9) -> float:
    """Median time of the work."""
    rounds = []
    for _ in range(times):
        start = perf_counter()
        work()
        rounds.append(perf_counter() - start)
    return median(rounds) * 1e6


def main() -> None:
    random = Random(1)
    parts = [stepped_body(random) for _ in range(12)]
    places = [40.5 * number for number in range(12)]
    neighbours = list(pairwise(range(12)))
    pairs = list(combinations(range(12), 2))

    def each(function, which, **names):
        for i, j in which:
            function(parts[i], parts[j], **{name: places[(i, j)[side]] for name, side in names.items()})

    sections = [Polygon(part.rings[0]) for part in parts]
    base = microseconds(lambda: [sections[i].intersection(sections[j]).area for i, j in neighbours]) / 11
    print(f"edges of a body                         {sum(len(part.rings[0]) for part in parts) / 12:8.1f}")
    figures = {
        "one shapely intersection and area": base,
        "making a profile, checked": microseconds(lambda: profile(parts[0].rings)),
        "making a profile, unchecked": microseconds(lambda: Profile(parts[0].rings)),
        "turned, five slices": microseconds(lambda: stepped_body(Random(2))),
        "11 neighbours, closing": microseconds(
            lambda: each(closing, neighbours, left_at_mm=0, right_at_mm=1)
        ),
        "66 pairs, closing": microseconds(lambda: each(closing, pairs, left_at_mm=0, right_at_mm=1)),
        "66 pairs, gap alone": microseconds(lambda: each(gap_mm, pairs, left_at_mm=0, right_at_mm=1)),
        "66 pairs, overlap, apart": microseconds(lambda: each(overlap, pairs, a_at_mm=0, b_at_mm=1)),
        "66 pairs, overlap, all in one place": microseconds(
            lambda: [overlap(parts[i], parts[j], a_at_mm=0.0, b_at_mm=0.0) for i, j in pairs]
        ),
        "66 pairs, nestings, all in one place": microseconds(
            lambda: [nestings(parts[i], parts[j], outer_at_mm=0.0, inner_at_mm=0.0) for i, j in pairs]
        ),
    }
    for name, time in figures.items():
        print(f"{name:40}{time:8.1f} us  x{time / base:7.2f}")


if __name__ == "__main__":
    main()
