"""Files of readings: a sheet written as CSV, and the change that a CSV makes."""

from functools import partial
from pathlib import Path

from geometry.errors import FileError
from geometry.job.changes import Change
from geometry.job.job import Job
from geometry.job.readings_table import readings_as_csv, with_csv_readings
from geometry.job.saving import reason, save_bytes

MOST_BYTES = 2_000_000


def write_csv(job: Job, path: Path) -> None:
    """Write the sheet of a job; with a byte order mark, by which spreadsheets know UTF-8."""
    save_bytes(readings_as_csv(job).encode("utf-8-sig"), path)


def csv_change(path: Path) -> Change:
    """The change that takes the readings of a table; a file that cannot be read at all raises at once."""
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            raise FileError(str(path), found=f"{size} bytes", expected="a table of readings, less than 2 MB")
        text = path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise FileError(str(path), found=reason(error), expected="a file that can be read") from error
    except UnicodeDecodeError as error:
        raise FileError(
            str(path),
            found=f"text in another encoding (byte {error.start + 1})",
            expected="UTF-8 text; save it as such",
        ) from error
    return partial(with_csv_readings, text=text, file=path.name)
