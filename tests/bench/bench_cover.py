"""How long a coverage takes: run with `python -m tests.bench.bench_cover [JOBS [PARTS]]`; left out: 500 and 300.

Goal: 500 jobs against 300 parts in seconds to a few minutes on two cores. The jobs are generated, half of them
measured; the parts are those of the starter set and the same with other diameters.
"""

import sys
from pathlib import Path
from time import perf_counter, process_time

from msgspec.structs import replace

from geometry.job.file import read_set
from geometry.job.from_readings import job_from_readings
from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.coverage import HowToRun, cover
from geometry.planning.generate import KINDS, generated_job
from geometry.planning.part_trial import with_dimensions
from geometry.planning.suggested_stacks import some_stacks

STARTER = Path(__file__).parents[2] / "samples" / "starter-set.json"


def jobs(count: int) -> dict[str, Job]:
    """Generated jobs of all kinds, every second with readings."""
    kinds = list(KINDS)
    drawn = [generated_job(kinds[number % len(kinds)], number) for number in range(count)]
    return {
        f"{number}": job_from_readings(job, seed=number, noise_mm=0.01) if number % 2 else job
        for number, job in enumerate(drawn)
    }


def parts(count: int) -> ToolSet:
    """The starter set, and its parts a little larger outside, until there are enough."""
    starter = read_set(STARTER)
    found = list(starter.parts)
    turned = [part for part in starter.parts if hasattr(part.form, "outside_mm") and part.kind != "rod"]
    larger_mm = 0.0
    while len(found) < count:
        larger_mm += 0.7
        found += [one for part in turned if (one := _larger(part, larger_mm)) is not None]
    return replace(starter, title="Many", parts=tuple(found[:count]))


def _larger(part: ToolPart, by_mm: float) -> ToolPart | None:
    changed = with_dimensions(part, [("outside_mm", round(part.form.outside_mm + by_mm, 2))])
    return None if changed is None else replace(changed, id=f"{part.id}+{by_mm:.1f}".replace(".", ","))


def main() -> None:
    given = [int(one) for one in sys.argv[1:3]]
    job_count, part_count = (*given, *(500, 300)[len(given) :])
    range_of_jobs, tool_set = jobs(job_count), parts(part_count)
    started, used = perf_counter(), process_time()
    found = cover(range_of_jobs, (tool_set,), HowToRun(some_stacks, workers=2))
    states = [cell.state for cell in found.cells.values()]
    told = ", ".join(f"{states.count(one)} {one}" for one in sorted(set(states)))
    print(f"{job_count} jobs, {part_count} parts, two processes: {perf_counter() - started:.0f} s;"
          f" {process_time() - used:.0f} s of them here; {told}")  # fmt: skip


if __name__ == "__main__":
    main()
