"""Turned bodies at random, for properties and for comparison with other kernels."""

from random import Random

from hypothesis import strategies as st

from geometry.profile.contour import Slice, turned
from geometry.profile.profile import Profile


def random_body(random: Random) -> Profile:
    """Two to six slices in a row, some tapered, some with a rim outside a groove; sizes in hundredths."""
    slices: list[Slice] = []
    z = 0.0
    for _ in range(random.randint(2, 6)):
        end = z + random.randint(20, 600) / 100
        bore = random.choice([0.0, random.randint(200, 2000) / 100])
        outside = bore + random.randint(200, 1500) / 100
        if random.random() < 0.3:
            slices.append((z, end, outside, outside + random.randint(-90, 90) / 100, bore, bore))
        else:
            slices.append((z, end, outside, outside, bore, bore))
        if random.random() < 0.2:
            slices.append((z, end, outside + 6, outside + 6, outside + 2, outside + 2))
        z = end
    return turned(slices)


bodies = st.randoms(use_true_random=False).map(random_body)
hundredths = st.integers(min_value=-4000, max_value=4000).map(lambda number: number / 100)
