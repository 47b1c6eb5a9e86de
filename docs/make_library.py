"""Writes the sample library, samples/library/*.json: 40 invented assemblies, the same every time.

    python docs/make_library.py

Each is drawn first; what a caliper, a bore gauge and micrometers would show on it is then typed onto its reading sheet,
with small errors.
"""

import sys
from pathlib import Path
from zlib import crc32

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from geometry.job.file import job_to_bytes  # noqa: E402
from geometry.job.from_readings import job_from_readings  # noqa: E402
from geometry.job.job import Job  # noqa: E402
from geometry.planning.generate import generated_library  # noqa: E402

FOLDER = ROOT / "samples" / "library"
SEED = 1
NOISE_MM = 0.01
"""Largest error of a caliper reading; a tenth of it with finer tools."""
COUNTS = {
    "rear hub, shouldered axle": 8,
    "front hub, plain": 7,
    "rear hub, stepped axle": 6,
    "freehub, two bearings": 6,
    "freehub, three bearings": 4,
    "suspension link": 6,
    "wide shell": 3,
}


def library_files() -> dict[str, bytes]:
    """Name and content of every file."""
    return {name: job_to_bytes(_measured(job, name)) for name, job in generated_library(COUNTS, seed=SEED).items()}


def _measured(job: Job, name: str) -> Job:
    """The job with its sheet filled in."""
    return job_from_readings(job, seed=crc32(name.encode()), noise_mm=NOISE_MM)


def main() -> None:
    FOLDER.mkdir(exist_ok=True)
    files = library_files()
    for old in FOLDER.glob("*.json"):
        if old.name not in files:
            old.unlink()
    for name, data in files.items():
        (FOLDER / name).write_bytes(data)
    print(f"{FOLDER}: {len(files)} jobs")


if __name__ == "__main__":
    main()
