"""Cases of readings: what is missing, disagrees, looks like a slip, or decides; each job is measured without noise."""

from msgspec.structs import replace

from geometry.job.from_readings import job_from_readings
from geometry.job.job import Job
from geometry.readings.readings import Reading
from tests.findings.case import Case
from tests.findings.hubs import left_in, over_axle_in


def read(job: Job, line: str, *typed: str, instrument: str | None = None) -> Job:
    """The job measured, with other readings of one line; none: it is left out."""
    sheet = (job if job.readings is not None else job_from_readings(job)).readings
    assert sheet is not None
    kept = tuple(one for one in sheet.readings if one.line != line)
    further = tuple(Reading(line, text, instrument) for text in typed)
    return replace(job, readings=replace(sheet, readings=kept + further))


ROUGHLY_READ = read(left_in(), "shell.bore1", "27.96", instrument="inside jaws")

READING_CASES = (
    Case("readings-disagree", "caution", "the collar of the axle was read as 42.3", "over_axle_in",
         read(over_axle_in(), "axle.z2 from z1", "42.300"),
         "58 - 8 - 8 = 42; read 42.3: the loop of four readings is open by 0.3, and each of them would close it",
         ("+0.300", "-0.300"), (49,), certainty="in doubt"),
    Case("readings-disagree", "caution", "one of three readings of a depth is 0.3 too much", "left_in",
         read(left_in(), "shell.z1", "9.000", "9.300", "9.001"),
         "9.300 - (9.000 + 9.001)/2 = 0.2995", ("+0.299",), (49,), certainty="in doubt"),
    Case("reading-missing", "caution", "nobody measured how deep the left seat is", "left_in",
         read(left_in(), "shell.z1"), "drawn 9, and no other line has it", ("9",), certainty="in doubt"),
    Case("mixed-units-suspected", "caution", "an outside of 40 was typed as 1.575", "left_in",
         read(left_in(), "shell.outside1", "1.575"), "1.575 x 25.4 = 40.005", ("1.575", "40.005", "40"), (46,)),
    Case("designation-mismatch", "fault", "the bearing was measured as 8 wide", "left_in",
         read(left_in(), "BL.width", "8.00"), "6902: 7 less half of 0.12 (ISO 492) = 6.94; 8 - 6.94 = 1.06",
         ("8.000", "6.940", "+1.060"), (47, 48)),
    Case("reading-decides", "caution", "the left seat was read once, with the jaws of a caliper", "left_in",
         ROUGHLY_READ, "1/(1/0.0263² + 1/0.0038²) = 0.0038², with the ring 0.0046; of 95 %: 1.96 x 0.0265 = 0.052 now,"
         " 1.96 x 0.0046 = 0.009 with a bore gauge", ("0.052", "0.009"), (45,), certainty="in doubt"),
    Case("fit-loose", "caution", "the left seat was read once, with the jaws of a caliper", "left_in",
         ROUGHLY_READ, "ring 28 - 0.0045; jaw flats 0.5²/(2 x 27.96) = 0.0045 more: 27.9955 - 27.9645 = 0.031; u:"
         " 0.01/sqrt 12, 0.012, 0.02/sqrt 3, sqrt(0.04² - 0.02²)/sqrt 3, flats 0.0026, ring 0.0026: 0.0265;"
         " Phi(-0.031/0.0265) = 0.12", ("0.031", "0.052", "1.17", "12"), (57,), certainty="in doubt"),
    Case("spacer-long", "fault", "the spacer was measured as 42.04, its room with a caliper", "left_in",
         read(read(read(left_in(), "spacer.z1", "42.040"), "shell.z1", "9.00", instrument="depth blade"),
              "shell.z2 from the right", "9.00", instrument="depth blade"),
         "42.04 - (60 - 9 - 9) = 0.04; one blade reads both depths, its zero and shift 0.04/sqrt 3 count twice: 0.0462,"
         " with 0.0153 sqrt 2 of its own 0.051, of 95 % 0.1; Phi(0.01/0.051) + Phi(-0.07/0.051) = 0.66",
         ("0.04", "0.1", "0.03", "66"), (6,), certainty="in doubt"),
)  # fmt: skip
