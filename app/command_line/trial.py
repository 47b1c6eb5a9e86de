"""`ringpath trial`: what happened at the bench in one step, beside what was predicted, as a file of its own."""

import argparse
from datetime import date
from pathlib import Path

from app.command_line.arguments import GOOD, step_number
from app.command_line.numbers import day, length, torque
from app.command_line.sign import RESULTS
from geometry.check.check import check_step
from geometry.errors import FileError
from geometry.job.file import read_job, write_trial
from geometry.planning.trials import new_trial_path, trial_of, trial_words


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The job and its step; what was felt and seen."""
    parser.add_argument("job", metavar="JOB", type=Path, help="job file")
    parser.add_argument("--step", metavar="N", type=step_number, required=True, help="the step, counted from 1")
    parser.add_argument("--result", choices=RESULTS, default="done", help="how it went (default: done)")
    parser.add_argument("--who", default="", help="who did it")
    parser.add_argument("--when", metavar="DAY", type=day, default=None, help="such as 2031-05-28 (default: today)")
    parser.add_argument("--torque", metavar="NM", type=torque, help="torque felt, in Nm or with its unit")
    parser.add_argument("--stopped", metavar="TRAVEL", type=length, help="how far the bearing had gone when it stopped")
    parser.add_argument("--where", default="", help="where it stopped, in words")
    parser.add_argument("--wrong", default="", help="what was wrong, in words")
    parser.add_argument("-o", dest="output", metavar="TRIAL.json", type=Path, help="file (default: beside the job)")


def run(arguments: argparse.Namespace) -> int:
    """Check the step, so that the prediction stands beside what happened, and write the record."""
    job = read_job(arguments.job)
    if arguments.step > len(job.steps):
        raise FileError(f"{arguments.job}, step {arguments.step}", found=f"{len(job.steps)} steps",
                        expected="a step of the job")  # fmt: skip
    when = arguments.when or date.today()
    trial = trial_of(
        job, check_step(job, arguments.step - 1), when=when, result=arguments.result, who=arguments.who,
        torque_felt_nm=arguments.torque, stopped_at_mm=arguments.stopped, stopped_where=arguments.where,
        what_was_wrong=arguments.wrong,
    )  # fmt: skip
    path = arguments.output or new_trial_path(arguments.job, trial)
    if path.exists():
        raise FileError(str(path), found="a file that is there already", expected="a new name")
    write_trial(trial, path)
    print(f"{path}: {trial_words(trial)}")
    return GOOD
