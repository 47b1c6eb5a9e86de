"""Cases of fits: loose, too tight, and clearance lost."""

from msgspec.structs import replace

from geometry.job.job import Job
from tests.findings.case import Case, with_bearing
from tests.findings.hubs import left_in, over_axle_in


def fitted(job: Job, **changes: float) -> Job:
    """The hub with other fits of its left bearing."""
    return with_bearing(job, replace(job.section.bearing("BL"), **changes))


FIT_CASES = (
    Case("fit-loose", "caution", "the bore is 0.03 larger than the bearing", "left_in",
         fitted(left_in(), outer_interference_mm=-0.03),
         "M7 with a ring of 28: from 9 µm of air to 21 tight, mean 6; found -30", ("-0.030", "0.006"), (57,)),
    Case("fit-loose", "caution", "the axle is 0.1 smaller than the bearing", "over_axle_in",
         fitted(over_axle_in(), inner_interference_mm=-0.1),
         "axles of hubs are at most 0.02 loose, g6 at most 0.017; found 0.1", ("-0.100", "-0.020"), (57,)),
    Case("fit-tight", "caution", "the bore is 0.06 smaller than the bearing", "left_in",
         fitted(left_in(), outer_interference_mm=0.06),
         "P7 at most 35 µm; of 60 - 5.84 against 20 - 5.84: 3.8 times the usual force",
         ("0.060", "0.035", "3.8"), (57,)),
    Case("fit-tight", "caution", "the axle is 0.03 larger than the bearing", "over_axle_in",
         fitted(over_axle_in(), inner_interference_mm=0.03),
         "k5 + 9, ring - 8: at most 17 µm; found 30", ("0.030", "0.017"), (57,)),
    Case("clearance-lost", "caution", "the axle is 0.016 tight as well", "over_axle_in",
         fitted(over_axle_in(), inner_interference_mm=0.016),
         "CN of 15: 3 to 18, middle 10.5; 0.58 (20 - 5.84) = 8.2 and 0.43 (16 - 5.84) = 4.3: below 0",
         ("3 to 18", "10.5"), (57,)),
)  # fmt: skip
