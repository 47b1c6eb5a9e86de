"""Invented covering problems: jobs whose steps are done by small stacks of parts, with prices."""

from random import Random

from geometry.planning.needs import JobNeeds, Need

PARTS = tuple("abcdefgh")


def small_case(seed: int, *, jobs: int = 5, parts: int = 8) -> tuple[list[JobNeeds], dict[str, float]]:
    """Few enough parts that every set of them can be tried; some stacks take a part twice."""
    random = Random(seed)
    names = [f"p{number}" for number in range(parts)]
    prices = {name: random.choice((1.5, 2.0, 3.25, 4.0, 7.0)) for name in names}

    def need() -> Need:
        chosen = random.sample(names, random.randint(1, 4))
        return tuple(sorted((name, 2 if random.random() < 0.15 else 1) for name in chosen))

    def step() -> tuple[Need, ...]:
        return tuple(need() for _ in range(random.randint(1, 4)))

    found = [
        JobNeeds(f"job {n}", tuple(step() for _ in range(random.randint(1, 3))), float(random.randint(1, 3)))
        for n in range(jobs)
    ]
    return found, prices
