"""How long a check takes: run with `python -m tests.bench.bench_check`.

Times are given with the ratio to one shapely intersection of two plain profiles in the same run, since machines change
speed. Goal while dragging: seats, collision, contact path at the start and centring of a 12-part stack within 5 ms on a
machine where that intersection takes 27 µs, a ratio of some 190.
"""

from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import perf_counter

from msgspec.structs import replace
from shapely import Polygon

from geometry.check.check import check_step, quick_check
from geometry.job.file import read_job
from geometry.job.job import Job

ONE = Polygon([(0, 0), (10, 0), (10, 8), (4, 8), (4, 3), (0, 3)])
OTHER = Polygon([(5, 2), (15, 2), (15, 9), (5, 9)])
SAMPLE = Path(__file__).parents[2] / "samples" / "rear-hub-shouldered-axle.json"


def intersection_seconds(clock: Callable[[], float]) -> float:
    """What one intersection takes now, with its area."""
    start = clock()
    for _ in range(50):
        ONE.intersection(OTHER).area  # noqa: B018
    return (clock() - start) / 50


def seconds_and_ratio(work: Callable[[], object], rounds: int) -> tuple[float, float]:
    """Median time of a call, and the median of its ratio to the intersection, timed right before each call."""
    times, ratios = [], []
    for _ in range(rounds):
        base = intersection_seconds(perf_counter)
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
        ratios.append(times[-1] / base)
    return median(times), median(ratios)


def dragged(job: Job, index: int) -> Job:
    """The same job as another object, as while a part is dragged: nothing of the step is remembered as a whole."""
    step = job.steps[index]
    return replace(job, steps=(*job.steps[:index], replace(step, note=step.note + "."), *job.steps[index + 1 :]))


def main() -> None:
    job = read_job(SAMPLE)
    for index, step in enumerate(job.steps):
        quick_check(job, index)
        quick, quick_ratio = seconds_and_ratio(lambda index=index: quick_check(dragged(job, index), index), 25)
        whole, whole_ratio = seconds_and_ratio(lambda index=index: check_step(dragged(job, index), index), 9)
        parts = len(step.stack.parts)
        print(f"step {index + 1}, {parts:2d} parts: quick {quick * 1e3:6.2f} ms (x{quick_ratio:5.0f}),"
              f" whole {whole * 1e3:6.2f} ms (x{whole_ratio:5.0f})")  # fmt: skip


if __name__ == "__main__":
    main()
