"""`ringpath trials`: the bench results of a folder, by job and by part."""

import argparse
import json
import sys
from pathlib import Path

import msgspec

from app.command_line.arguments import GOOD, UNREADABLE
from geometry.planning.table import as_csv
from geometry.planning.trials import COLUMNS, of_job, of_part, read_trials, trial_rows, trial_words


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The folder, what is looked for, and the form of the answer."""
    parser.add_argument("folder", metavar="FOLDER", type=Path, help="folder with trial files")
    parser.add_argument("--job", metavar="TITLE", help="trials of this job only, by its title")
    parser.add_argument("--part", metavar="ID", help="trials in which this part was used only")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="answer as JSON")
    form.add_argument("--csv", action="store_true", help="answer as CSV: a row for each trial")


def run(arguments: argparse.Namespace) -> int:
    """Print the trials, the oldest first."""
    trials, problems = read_trials(arguments.folder)
    if arguments.job is not None:
        trials = of_job(trials, arguments.job)
    if arguments.part is not None:
        trials = of_part(trials, arguments.part)
    for problem in problems:
        print(f"ringpath: {problem}", file=sys.stderr)
    if arguments.json:
        data = {"format": "ringpath-trials", "version": 1, "trials": [msgspec.to_builtins(one) for one in trials]}
        print(json.dumps(data, indent=2, allow_nan=False))
    elif arguments.csv:
        print(as_csv(trial_rows(trials), COLUMNS), end="")
    else:
        for one in trials:
            print(f"{one.job}, step {one.step}: {trial_words(one)}")
        print(f"{len(trials)} trials")
    return UNREADABLE if problems else GOOD
