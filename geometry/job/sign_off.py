"""Sign-off: who did a job at the bench, when, and how it went; it stays with the job and says whether that changed."""

from datetime import date

import msgspec
from msgspec.structs import replace

from geometry.errors import InputError
from geometry.job.job import Job, Result, SignOff
from geometry.job.versions import DIGITS


def signed_off(job: Job, *, who: str, when: date, result: Result, note: str = "") -> Job:
    """The job with one more sign-off, for the work as it is now."""
    if not who.strip():
        raise InputError("Who signs off", found="nothing", expected="a name")
    one = SignOff(who=who.strip(), when=when.isoformat(), result=result, note=note.strip(), work=work_version(job))
    return replace(job, sign_offs=(*job.sign_offs, one))


def work_version(job: Job) -> str:
    """Eight hexadecimal digits that change with the section, its readings, the parts or the steps."""
    bare = [replace(step, title="", note="") for step in job.steps]
    used = {part for step in job.steps for part in (step.stack.rod, *(one.part for one in step.stack.parts))}
    parts = [replace(part, price=0.0, stock=1, name="") for part in job.parts if part.id in used]
    work = (job.section, job.doubt_mm, job.readings, job.absent, parts, bare)
    from hashlib import sha256  # its library takes longer to load than the first section to check

    return sha256(msgspec.json.encode(work)).hexdigest()[:DIGITS]


def last_sign_off(job: Job) -> SignOff | None:
    """The newest sign-off."""
    return job.sign_offs[-1] if job.sign_offs else None


def is_signed_off(job: Job) -> bool:
    """Whether the newest sign-off says that the job as it is now was done."""
    last = last_sign_off(job)
    return last is not None and last.result != "not done" and last.work == work_version(job)


def sign_off_words(job: Job) -> str:
    """The newest sign-off in one line, or that there is none."""
    lines = sign_off_lines(job)
    return lines[0] if lines else "not signed off"


def sign_off_lines(job: Job) -> tuple[str, ...]:
    """Every sign-off in a line, the newest first; each says whether the job is another one now."""
    now = work_version(job) if job.sign_offs else ""
    return tuple(
        f"{one.result}, {one.who}, {one.when}{f': {one.note}' if one.note else ''}"
        f"{'' if one.work == now else '; the job was changed since'}"
        for one in reversed(job.sign_offs)
    )


def copied(job: Job, *, title: str) -> Job:
    """The job under another title, to be changed; what the bench said of the first one is not said of this one."""
    if not title.strip():
        raise InputError("Title of the copy", found="nothing", expected="a title")
    return replace(job, title=title.strip(), sign_offs=())
