"""`ringpath find`: jobs of a library by bearing, axle, kind and name, and by what the bench said of them."""

import argparse
import json
import sys
from pathlib import Path

from app.command_line.arguments import GOOD, NOT_GOOD, UNREADABLE
from app.command_line.numbers import length
from geometry.job.finding_jobs import COLUMNS, WantedJob, job_row, jobs_wanted
from geometry.job.library import jobs_of_folder
from geometry.planning.table import as_csv


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The library, what is looked for, and the form of the answer."""
    parser.add_argument("library", metavar="LIBRARY", type=Path, help="folder of job files")
    parser.add_argument("-d", dest="bore", metavar="BORE", type=length, help="bore of a bearing")
    parser.add_argument("-D", dest="outside", metavar="OUTSIDE", type=length, help="outside diameter of that bearing")
    parser.add_argument("-B", dest="width", metavar="WIDTH", type=length, help="width of that bearing")
    parser.add_argument("--axle", metavar="SIZE", type=length, help="a diameter of the axle, outside or bore")
    parser.add_argument("--kind", default="", help="such as 'rear hub' or 'link'")
    parser.add_argument("--name", default="", help="words of file, title and summary")
    bench = parser.add_mutually_exclusive_group()
    bench.add_argument("--signed", action="store_true", help="done at the bench and not changed since")
    bench.add_argument("--not-signed", action="store_true", help="not done at the bench yet, or changed since")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="answer as JSON")
    form.add_argument("--csv", action="store_true", help="answer as CSV")


def run(arguments: argparse.Namespace) -> int:
    """Print the jobs that are meant; 1 when there is none."""
    jobs, problems = jobs_of_folder(arguments.library)
    signed = True if arguments.signed else (False if arguments.not_signed else None)
    wanted = WantedJob(
        bore_mm=arguments.bore, outside_mm=arguments.outside, width_mm=arguments.width, axle_mm=arguments.axle,
        kind=arguments.kind, name=arguments.name, signed_off=signed,
    )  # fmt: skip
    rows = [job_row(name, job) for name, job in jobs_wanted(jobs, wanted).items()]
    for problem in problems:
        print(f"ringpath: {problem}", file=sys.stderr)
    if arguments.json:
        print(json.dumps({"format": "ringpath-jobs", "version": 1, "jobs": rows}, indent=2))
    elif arguments.csv:
        print(as_csv(rows, COLUMNS), end="")
    else:
        for row in rows:
            print(f"{row['job']}: {row['title']}")
            axle = f"; axle {row['axle_mm']}" if row["axle_mm"] else ""
            print(f"    {row['kind']}; {row['bearings']}{axle}; {row['steps']} steps; {row['signed_off']}")
        print(f"{len(rows)} of {len(jobs)} jobs")
    if problems:
        return UNREADABLE
    return GOOD if rows else NOT_GOOD
