"""Writes the readings into samples/*.json and samples/mistakes/*.json: invented, the same every time.

    python docs/make_samples.py

The section of each file stays as it is drawn; what a caliper, a bore gauge and micrometers would show on it is typed
onto its reading sheet, with small errors. Two files more are made from whole samples: what they lack is one reading.
"""

import sys
from pathlib import Path
from zlib import crc32

from msgspec.structs import replace

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from geometry.job.file import job_to_bytes, read_job  # noqa: E402
from geometry.job.from_readings import job_from_readings  # noqa: E402
from geometry.job.job import Job  # noqa: E402
from geometry.job.reading_changes import set_line_instrument, type_reading  # noqa: E402

FOLDER = ROOT / "samples"
STARTER_SET = "starter-set.json"
NOISE_MM = 0.01
"""Largest error of a caliper reading; a tenth of it with finer tools."""


def sample_files() -> dict[str, bytes]:
    """Name below the folder and content of every sample job."""
    drawn = {path.relative_to(FOLDER).as_posix(): path for path in (*FOLDER.glob("*.json"), *_mistakes())}
    files = {name: measured(read_job(path), name) for name, path in drawn.items() if name != STARTER_SET}
    files |= {f"mistakes/{name}": job for name, job in (
        ("doubtful-fit.json", doubtful_fit(files["rear-hub-shouldered-axle.json"])),
        ("doubtful-spacer.json", doubtful_spacer(files["freehub-captive-spacer.json"])),
    )}  # fmt: skip
    return {name: job_to_bytes(job) for name, job in sorted(files.items())}


def measured(job: Job, name: str) -> Job:
    """The job with its sheet filled in."""
    return job_from_readings(replace(job, readings=None), seed=crc32(name.encode()), noise_mm=NOISE_MM)


def doubtful_fit(hub: Job) -> Job:
    """A good step whose seat was read once, with a caliper."""
    step = next(one for one in hub.steps if one.title == "New left bearing in")
    job = replace(
        hub, title="The seat was read with a caliper", steps=(step,), absent=("BL", "BR", "axle"),
        instructions=None,
        summary="A caliper cannot tell a fit of some 0.01 mm: one reading of the seat with a bore gauge settles it.",
    )  # fmt: skip
    job = set_line_instrument(job, line="shell.bore1", instrument="inside jaws")
    return type_reading(job, line="shell.bore1", typed="29.97")


def doubtful_spacer(freehub: Job) -> Job:
    """A good step whose spacer was read once, with a caliper."""
    step = next(one for one in freehub.steps if one.title.startswith("New right bearing in"))
    job = replace(
        freehub, title="The spacer was read with a caliper", steps=(replace(step, put_on=()),), absent=("BR",),
        summary="Whether the spacer is too long hangs on one reading: a micrometer settles it.",
    )  # fmt: skip
    job = set_line_instrument(job, line="spacer.z1", instrument="outside jaws")
    return type_reading(job, line="spacer.z1", typed="27.03")


def _mistakes() -> list[Path]:
    made = ("doubtful-fit.json", "doubtful-spacer.json")
    return [path for path in (FOLDER / "mistakes").glob("*.json") if path.name not in made]


def main() -> None:
    for name, data in sample_files().items():
        (FOLDER / name).write_bytes(data)
        print(FOLDER / name)


if __name__ == "__main__":
    main()
