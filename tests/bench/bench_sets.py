"""How long the cheapest set takes: run with `python -m tests.bench.bench_sets`.

500 invented jobs of four steps over 300 parts. A job has one or two sizes of bearing; a step takes a rod, two nuts, a
drift, a support and a guide, and of each family a few parts near the size would do. Goal: seconds to a few minutes.
"""

from random import Random
from time import perf_counter

from geometry.planning.needs import JobNeeds, Need
from geometry.planning.sets import base_and_add_ons, cheapest_for_all, cheapest_for_share, most_within_budget

ROLES = {"rod": 10, "nut": 10, "drift": 110, "support": 90, "guide": 80}


def invented(*, jobs: int, choices: int, seed: int, sizes: int = 30) -> tuple[list[JobNeeds], dict[str, float]]:
    """Jobs with up to `choices` stacks a step, and the price of each part."""
    random = Random(seed)
    prices = {f"{role}{n}": float(random.randint(4, 40)) for role, count in ROLES.items() for n in range(count)}

    def step(size: int) -> tuple[Need, ...]:
        stacks = []
        for _ in range(random.randint(1, choices)):
            thread = random.randrange(3)
            parts = {f"rod{3 * random.randrange(3) + thread}": 1, f"nut{thread}": 2}
            for role in ("drift", "support", "guide"):
                near = size * ROLES[role] // sizes + random.randint(-2, 2)
                parts[f"{role}{min(max(near, 0), ROLES[role] - 1)}"] = 1
            stacks.append(tuple(sorted(parts.items())))
        return tuple(stacks)

    found = []
    for number in range(jobs):
        left = random.randrange(sizes)
        right = min(left + random.choice((0, 0, 2)), sizes - 1)
        found.append(JobNeeds(f"job {number}", tuple(step(size) for size in (left, right, left, right))))
    return found, prices


def main() -> None:
    for choices in (4, 12, 40):
        jobs, prices = invented(jobs=500, choices=choices, seed=1)
        whole = sum(prices.values())
        half = 250
        for title, work in (
            ("all", lambda: cheapest_for_all(jobs, prices)),  # noqa: B023
            ("80 %", lambda: cheapest_for_share(jobs, prices, share=0.8)),  # noqa: B023
            ("budget of a third", lambda: most_within_budget(jobs, prices, budget=whole / 3)),  # noqa: B023
            ("base and add-on", lambda: base_and_add_ons({"base": jobs[:half], "more": jobs[half:]}, prices)["base"]),  # noqa: B023
        ):
            start = perf_counter()
            found = work()
            seconds = perf_counter() - start
            print(f"up to {choices:2} stacks a step, {title:18} {seconds:6.2f} s, {len(found.covered)} jobs,"
                  f" price {found.price:g}, gap {found.gap:.2%}")  # fmt: skip


if __name__ == "__main__":
    main()
