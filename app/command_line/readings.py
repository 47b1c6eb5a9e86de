"""`ringpath readings`: what was measured and what is still missing; tables of readings taken in and written."""

import argparse
from pathlib import Path

from app.command_line.arguments import GOOD
from app.sheet.filled_readings import closure_sentences
from app.window.readings_files import csv_change, write_csv
from geometry.job.file import read_job, write_job
from geometry.job.job import Job
from geometry.job.measured import Measured, measured_section
from geometry.job.reading_changes import is_skipped, start_readings
from geometry.job.repeats import uneven_repeats
from geometry.job.worksheet import needed_for


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The job, and the tables."""
    parser.add_argument("job", metavar="JOB", type=Path, help="job file")
    take = "take the readings of a table into the job, in place of those of the lines that it names"
    parser.add_argument("--take", metavar="IN.csv", type=Path, help=take)
    parser.add_argument("-o", dest="output", metavar="OUT.csv", type=Path, help="write the sheet as a table")


def run(arguments: argparse.Namespace) -> int:
    """Take, write, and tell."""
    job = read_job(arguments.job)
    if arguments.take is not None:
        job = csv_change(arguments.take)(job)
        write_job(job, arguments.job)
    if arguments.output is not None:
        write_csv(job, arguments.output)
        print(arguments.output)
    for sentence in _told(start_readings(job)):
        print(sentence)
    return GOOD


def _told(job: Job) -> list[str]:
    """How far the sheet is, whether it agrees, what to look at, and what each step still waits for."""
    measured = measured_section(job)
    lines = measured.readings.lines
    read = sum(1 for line in lines if any(one.typed.strip() for one in measured.readings.read_on(line.id)))
    told = [f"{job.title}: {read} of {len(lines)} lines are read.", *closure_sentences(measured)]
    told += [one.sentence for _, one in measured.suspicions]
    told += [str(one) for one in measured.problems]
    told += [one.sentence for one in uneven_repeats(measured)]
    for step, title in enumerate(one.title for one in job.steps):
        waiting = _waiting_for(job, step, measured)
        state = f"not read yet: {'; '.join(waiting)}." if waiting else "all is read."
        told.append(f"Step {step + 1}, {title}: {state}")
    return told


def _waiting_for(job: Job, step: int, measured: Measured) -> list[str]:
    """Lines that a step needs, that no reading fixes, and that nobody has skipped."""
    lines = (measured.readings.line(id) for id in needed_for(job, step))
    return [
        line.title
        for line in lines
        if not measured.fit.is_determined({term.quantity: term.factor for term in line.terms})
        and not is_skipped(measured.readings, line.id)
    ]
