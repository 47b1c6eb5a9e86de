"""Trials: bench results beside predictions, from a folder of files to a table."""

from collections.abc import Iterable
from datetime import date
from itertools import chain, count
from pathlib import Path

from geometry.check.result import Band, StepCheck
from geometry.errors import FileError, RingpathError
from geometry.job.file import format_of, read_trial
from geometry.job.job import Job, Result
from geometry.job.trial import PredictedBand, Prediction, Trial
from geometry.job.versions import readings_version

COLUMNS = (
    "job", "job_version", "step", "step_title", "when", "who", "parts", "result", "torque_felt_nm",
    "torque_low_nm", "torque_expected_nm", "torque_high_nm", "felt_within_band", "force_low_n", "force_expected_n",
    "force_high_n", "stopped_at_mm", "predicted_stop_mm", "travel_needed_mm", "stopped_where", "home",
    "what_was_wrong", "predicted_verdict", "predicted_findings",
)  # fmt: skip


def trial_of(
    job: Job,
    check: StepCheck,
    *,
    when: date,
    result: Result,
    who: str = "",
    torque_felt_nm: float | None = None,
    stopped_at_mm: float | None = None,
    stopped_where: str = "",
    what_was_wrong: str = "",
) -> Trial:
    """A trial of the step that a check is of, with what the check predicts copied beside it."""
    stack = job.steps[check.step - 1].stack
    parts = ((stack.rod,) if stack.rod is not None else ()) + tuple(part.part for part in stack.parts)
    return Trial(
        format="ringpath-trial",
        version=1,
        job=job.title,
        job_version=readings_version(job),
        step=check.step,
        step_title=check.title,
        when=when.isoformat(),
        result=result,
        who=who,
        parts=parts,
        torque_felt_nm=torque_felt_nm,
        stopped_at_mm=stopped_at_mm,
        stopped_where=stopped_where,
        what_was_wrong=what_was_wrong,
        predicted=prediction_of(check),
    )


def prediction_of(check: StepCheck) -> Prediction:
    """What a check says of its step, for a trial to keep."""
    return Prediction(
        verdict=check.verdict,
        findings=tuple(dict.fromkeys(one.code for one in check.findings if one.severity != "note")),
        force_n=_kept(check.force_n),
        torque_nm=_kept(check.torque_nm),
        home=check.home,
        travel_needed_mm=check.travel.needed_mm if check.travel is not None else None,
        stops_at_mm=check.travel.stops_at_mm if check.travel is not None else None,
    )


def read_trials(folder: Path) -> tuple[tuple[Trial, ...], tuple[RingpathError, ...]]:
    """Every trial in a folder and those in it, and what is wrong with its trial files; other files are passed over."""
    if not folder.is_dir():
        raise FileError(str(folder), found="no folder", expected="a folder of trial files")
    trials, problems = [], []
    for path in sorted(folder.rglob("*.json")):
        if any(name.startswith(".") for name in path.relative_to(folder).parts):
            continue
        try:
            if format_of(path) == "ringpath-trial":
                trials.append(read_trial(path))
        except RingpathError as error:
            problems.append(error)
    return tuple(trials), tuple(problems)


def of_job(trials: Iterable[Trial], job: str) -> tuple[Trial, ...]:
    """The trials of one job by its title, the oldest first."""
    return tuple(sorted((one for one in trials if one.job == job), key=lambda one: (one.when, one.step)))


def of_part(trials: Iterable[Trial], part: str) -> tuple[Trial, ...]:
    """The trials in which a part was used, the oldest first."""
    return tuple(sorted((one for one in trials if part in one.parts), key=lambda one: (one.when, one.step)))


def trial_words(trial: Trial) -> str:
    """One trial in a line: what happened, and what was predicted."""
    torque = trial.predicted.torque_nm if trial.predicted is not None else None
    told = [f"{trial.result}, {trial.when}{f', {trial.who}' if trial.who else ''}"]
    if trial.torque_felt_nm is not None:
        told.append(f"felt {trial.torque_felt_nm:g} Nm")
    if torque is not None:
        told.append(f"predicted {torque.low:.3g} to {torque.high:.3g} Nm")
    if trial.stopped_at_mm is not None:
        told.append(f"stopped at {trial.stopped_at_mm:g} mm")
    told += [words for words in (trial.stopped_where, trial.what_was_wrong) if words]
    return "; ".join(told)


def new_trial_path(job_file: Path, trial: Trial) -> Path:
    """A file beside the job that is not there yet, named by job, step and day."""
    stem = f"{job_file.stem}-step-{trial.step}-{trial.when}"
    names = chain((f"{stem}.trial.json",), (f"{stem}-{number}.trial.json" for number in count(2)))
    return next(path for path in (job_file.with_name(name) for name in names) if not path.exists())


def trial_rows(trials: Iterable[Trial]) -> tuple[dict[str, str], ...]:
    """A row for each trial (COLUMNS), what was felt beside what was predicted; unknown figures are blank."""
    return tuple(_row(one) for one in trials)


def felt_within_band(trial: Trial) -> bool | None:
    """Whether the torque that was felt lies within the band predicted; None where one of them is not known."""
    band = trial.predicted.torque_nm if trial.predicted is not None else None
    if band is None or trial.torque_felt_nm is None:
        return None
    return band.low <= trial.torque_felt_nm <= band.high


def _row(trial: Trial) -> dict[str, str]:
    predicted = trial.predicted
    torque = predicted.torque_nm if predicted is not None else None
    force = predicted.force_n if predicted is not None else None
    within = felt_within_band(trial)
    cells = {
        "job": trial.job,
        "job_version": trial.job_version,
        "step": str(trial.step),
        "step_title": trial.step_title,
        "when": trial.when,
        "who": trial.who,
        "parts": " ".join(trial.parts),
        "result": trial.result,
        "torque_felt_nm": _figure(trial.torque_felt_nm),
        "felt_within_band": "" if within is None else ("yes" if within else "no"),
        "stopped_at_mm": _figure(trial.stopped_at_mm),
        "predicted_stop_mm": _figure(predicted.stops_at_mm if predicted is not None else None),
        "travel_needed_mm": _figure(predicted.travel_needed_mm if predicted is not None else None),
        "stopped_where": trial.stopped_where,
        "home": predicted.home if predicted is not None else "",
        "what_was_wrong": trial.what_was_wrong,
        "predicted_verdict": predicted.verdict if predicted is not None else "",
        "predicted_findings": " ".join(predicted.findings) if predicted is not None else "",
    }
    for name, unit, band in (("torque", "nm", torque), ("force", "n", force)):
        for level in ("low", "expected", "high"):
            cells[f"{name}_{level}_{unit}"] = _figure(getattr(band, level) if band is not None else None)
    return {column: cells[column] for column in COLUMNS}


def _kept(band: Band | None) -> PredictedBand | None:
    return None if band is None else PredictedBand(band.low, band.expected, band.high)


def _figure(value: float | None) -> str:
    return "" if value is None else f"{value:.4g}"
