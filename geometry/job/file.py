"""Files of jobs, sets, parts and trials: read strictly, written so that nothing is lost.

bytes -> plain data -> version steps -> strict decode -> record
record -> JSON -> temporary file beside -> flush -> versions kept -> replace
"""

import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Literal, TypeVar

import msgspec

from geometry.errors import FileError, Problems, RingpathError
from geometry.job.job import Job
from geometry.job.migrations import VERSION_STEPS, Data, brought_up_to_date
from geometry.job.pretty import pretty_json
from geometry.job.saving import reason, save_bytes
from geometry.job.shapes import impossible_parts, impossible_shapes
from geometry.job.trial import Trial
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.section.body import Record

LARGEST_FILE_BYTES = 64 * 2**20  # far beyond any job; more is not one of our files
MOST_PROBLEMS = 20  # more are no help to anybody
UNSAVED = "what is to be saved"
LONGEST_NUMBER = 300  # digits; Python itself refuses whole numbers beyond 4300

Path_ = str | os.PathLike[str]


class PartFile(Record, frozen=True):
    """One tool part in a file of its own."""

    format: Literal["ringpath-part"]
    version: int
    part: ToolPart


NEWEST_VERSION = {"ringpath-job": 1, "ringpath-set": 1, "ringpath-part": 1, "ringpath-trial": 1}
_FORMATS: dict[type[Record], str] = {
    Job: "ringpath-job", ToolSet: "ringpath-set", PartFile: "ringpath-part", Trial: "ringpath-trial",
}  # fmt: skip
_NOUNS = {
    "ringpath-job": "a job", "ringpath-set": "a set", "ringpath-part": "a part", "ringpath-trial": "a trial",
}  # fmt: skip

_Kind = TypeVar("_Kind", bound=Job | ToolSet | PartFile | Trial)


def read_job(path: Path_) -> Job:
    """The job in a file; FileError (or Problems, where several fields are wrong) says what cannot be used.

    Read for its form only, so that work in progress can be saved and opened again.
    """
    return job_from_bytes(_bytes_of(Path(path)), str(path))


def read_sound_job(path: Path_) -> Job:
    """The job in a file, and its shapes tried: what is asked of a job that is to be judged or drawn."""
    job = read_job(path)
    _raise_if_any(impossible_shapes(job, place=str(path)))
    return job


def read_set(path: Path_) -> ToolSet:
    """The set of tool parts in a file, their shapes tried."""
    tool_set = _decoded(_bytes_of(Path(path)), ToolSet, str(path))
    _raise_if_any(impossible_parts(tool_set.parts, place=f"{path}, parts"))
    return tool_set


def read_part(path: Path_) -> ToolPart:
    """The tool part in a file of its own, its shape tried."""
    part = _decoded(_bytes_of(Path(path)), PartFile, str(path)).part
    _raise_if_any(impossible_parts((part,), place=f"{path}, part"))
    return part


def read_trial(path: Path_) -> Trial:
    """The trial in a file."""
    return _decoded(_bytes_of(Path(path)), Trial, str(path))


def job_from_bytes(data: bytes, place: str) -> Job:
    """The job in the bytes of a file; `place` names the file in what is raised."""
    return _decoded(data, Job, place)


def format_of(path: Path_) -> str:
    """The format that a file says it has: `ringpath-job`, `ringpath-set`, `ringpath-part` or `ringpath-trial`."""
    data = _plain(_bytes_of(Path(path)), str(path))
    return _format_in(data, tuple(NEWEST_VERSION), str(path))


def said_format(path: Path_) -> str:
    """The format that a JSON file names, ours or that of another program; empty where it names none."""
    data = _plain(_bytes_of(Path(path)), str(path))
    found = data.get("format") if isinstance(data, dict) else None
    return found if isinstance(found, str) else ""


def job_to_bytes(job: Job) -> bytes:
    """The job as readable JSON: keys in the order of the fields, defaults left out."""
    return _encoded(job)


def write_job(job: Job, path: Path_) -> None:
    """Write a job file as a whole or not at all; the last versions stay in a hidden folder beside it."""
    save_bytes(job_to_bytes(job), Path(path))


def write_set(tool_set: ToolSet, path: Path_) -> None:
    """Write a set file as a whole or not at all."""
    save_bytes(_encoded(tool_set), Path(path))


def write_part(part: ToolPart, path: Path_) -> None:
    """Write a tool part to a file of its own."""
    save_bytes(_encoded(PartFile(format="ringpath-part", version=1, part=part)), Path(path))


def write_trial(trial: Trial, path: Path_) -> None:
    """Write the record of a trial to a file of its own."""
    save_bytes(_encoded(trial), Path(path))


def _decoded(data: bytes, kind: type[_Kind], place: str) -> _Kind:
    try:
        record = msgspec.json.decode(data, type=kind)
        if record.version == NEWEST_VERSION[_FORMATS[kind]]:
            return record
    except (msgspec.MsgspecError, RingpathError, UnicodeDecodeError, RecursionError):
        pass  # said better, and with everything that is wrong, below
    plain = _up_to_date(_plain(data, place), _FORMATS[kind], place)
    return _converted(plain, kind, place)


def _converted(plain: Data, kind: type[_Kind], place: str) -> _Kind:
    from geometry.job.malformed import problems_in  # only a bad or an old file needs it

    try:
        problems = problems_in(plain, kind, place=place)
    except RecursionError:
        raise FileError(place, found="lists within lists without end", expected="a Ringpath file") from None
    _raise_if_any(problems)
    try:
        return msgspec.convert(plain, kind)
    except (msgspec.ValidationError, RingpathError) as error:
        raise FileError(place, found=f"what cannot be used ({error})", expected="a Ringpath file") from error


def _raise_if_any(problems: tuple[FileError, ...]) -> None:
    if len(problems) > 1:
        raise Problems(problems[:MOST_PROBLEMS])
    if problems:
        raise problems[0]


def _up_to_date(data: object, file_format: str, place: str) -> Data:
    """Plain data in the newest version; FileError for another format or a version that is not known."""
    found = _format_in(data, (file_format,), place)
    assert isinstance(data, dict)
    version, newest = data.get("version"), NEWEST_VERSION[found]
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        shown = json.dumps(version) if "version" in data else "nothing"
        raise FileError(f"{place}, version", found=shown, expected=f"a whole number from 1 to {newest}")
    if version > newest:
        raise FileError(
            f"{place}, version",
            found=f"{version}, written by a newer Ringpath",
            expected=f"at most {newest}; open it with that Ringpath, or save it there in an older version",
        )
    return brought_up_to_date(data, steps=VERSION_STEPS[found], from_version=version, to_version=newest)


def _format_in(data: object, allowed: tuple[str, ...], place: str) -> str:
    expected = " or ".join(f'{_NOUNS[one]} (an object with "format": "{one}")' for one in allowed)
    if not isinstance(data, dict):
        raise FileError(place, found="no object at the top", expected=expected)
    found = data.get("format")
    if isinstance(found, str) and found in allowed:
        return found
    if isinstance(found, str) and found in _NOUNS:
        raise FileError(place, found=f'{_NOUNS[found]} ("format": "{found}")', expected=expected)
    shown = json.dumps(found)[:60] if "format" in data else "nothing"
    raise FileError(f"{place}, format", found=shown, expected=" or ".join(f'"{one}"' for one in allowed))


def _plain(data: bytes, place: str) -> object:
    """Plain JSON data; FileError for everything that is not JSON in UTF-8."""
    text = _text(data, place)
    try:
        return json.loads(text, parse_int=_whole_number(place))
    except json.JSONDecodeError as error:
        where = f"{place}, line {error.lineno}, column {error.colno}"
        raise FileError(where, found=_near(text, error.pos), expected=f"JSON ({error.msg.lower()})") from None
    except RecursionError:
        raise FileError(place, found="lists within lists without end", expected="a Ringpath file") from None


def _text(data: bytes, place: str) -> str:
    if data.startswith((b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")):
        raise FileError(place, found="a byte order mark", expected="plain UTF-8 without one")
    if not data.strip():
        raise FileError(place, found="an empty file", expected="a Ringpath file (JSON)")
    if b"\x00" in data:
        raise FileError(place, found="binary data", expected="a text file (JSON in UTF-8)")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise FileError(f"{place}, byte {error.start + 1}", found="what is not UTF-8",
                        expected="a text file (JSON in UTF-8)") from None  # fmt: skip


def _whole_number(place: str) -> Callable[[str], int]:
    def read(digits: str) -> int:
        if len(digits) > LONGEST_NUMBER:
            raise FileError(place, found=f"a number of {len(digits)} digits", expected="fewer digits")
        return int(digits)

    return read


def _near(text: str, position: int) -> str:
    here = text[position : position + 20].split("\n")[0].strip()
    return json.dumps(here, ensure_ascii=False) if here else "the end of the line or file"


def _bytes_of(path: Path) -> bytes:
    place = str(path)
    try:
        if path.is_dir():
            raise FileError(place, found="a folder", expected="a file")
        if path.exists() and not path.is_file():
            raise FileError(place, found="something that is not a file on disk", expected="a file")
        if path.stat().st_size > LARGEST_FILE_BYTES:
            raise FileError(place, found=f"a file of {path.stat().st_size / 2**20:.0f} MiB",
                            expected=f"at most {LARGEST_FILE_BYTES // 2**20} MiB")  # fmt: skip
        return path.read_bytes()
    except FileNotFoundError:
        raise FileError(place, found="nothing there", expected="a file") from None
    except (OSError, ValueError) as error:  # ValueError: a name with a zero character
        raise FileError(place, found=reason(error), expected="a file that can be read") from error


def _encoded(record: Job | ToolSet | PartFile | Trial) -> bytes:
    """The record as JSON, read back before it is trusted: what is written can be read."""
    try:
        data = pretty_json(msgspec.to_builtins(record)).encode("utf-8")
    except ValueError:
        raise FileError(UNSAVED, found="a number without value", expected="numbers only") from None
    _decoded(data, type(record), UNSAVED)
    return data
