"""Finding: one result of the check, and the verdict that findings lead to."""

from collections.abc import Iterable
from typing import Literal

from msgspec import field

from geometry.record import Derived

Severity = Literal["fault", "caution", "note"]
Certainty = Literal["certain", "likely", "in doubt"]
"""So with its whole 95 % band; three times as likely as not; or the readings, or an answer, cannot tell."""
Verdict = Literal["good", "caution", "not good", "cannot tell"]


class Place(Derived, frozen=True):
    """A spot in the section: z and diameter [mm]."""

    z_mm: float
    diameter_mm: float


class Fix(Derived, frozen=True):
    """A way out that the program can apply by itself: the name of a change and its arguments."""

    title: str
    change: str
    """Name of a function in geometry/job/changes.py."""
    arguments: dict[str, object]


class Finding(Derived, frozen=True):
    """One result, with the sum behind it and a way out."""

    code: str
    severity: Severity
    bodies: tuple[str, ...]
    message: str
    sum: str = ""
    source: str = ""
    way_out: str = ""
    place: Place | None = None
    certainty: Certainty = "certain"
    values: dict[str, float] = field(default_factory=dict)
    fix: Fix | None = None
    hangs_on: dict[str, float] = field(default_factory=dict)
    """Quantities of the section that the figure of a finding in doubt follows from, and how much each counts."""
    line: str = ""
    """Line of the reading sheet that it asks for."""
    instrument: str = ""
    """With which that line is best read again; empty: with any that fits."""
    question: str = ""
    """What a finding in doubt leaves open, within a sentence: 'whether the outer ring of BL is held'."""


ORDER_OF_TRUTH = (
    "readings-disagree", "mixed-units-suspected", "designation-mismatch", "reading-missing", "reading-decides",
    "wrong-order", "no-reaction", "thread-mismatch", "spacer-long", "spacer-short", "no-contact",
    "no-press-possible", "ledge-none", "wrong-ring", "against-shoulder", "retaining-ring-in-the-way",
    "seal-touched", "keep-off-face", "screw-head-contact", "thin-lip", "collides", "cannot-pass",
    "cannot-reach", "cup-narrow", "cup-shallow", "travel-short", "stopped-early", "no-depth-stop", "rod-short",
    "thread-engagement", "thread-bottoms", "back-to-front", "balls-overloaded", "balls-loaded", "floating",
    "off-centre", "spacer-loose", "scrapes-bore", "ring-partly-covered", "edge-contact", "part-overstressed",
    "rod-overstressed", "part-buckles", "shoulder-overstressed", "fit-loose", "fit-tight", "clearance-lost",
    "force-high", "torque-high", "galling",
)  # fmt: skip
"""What is told first: readings, right contact, way in and out, travel, balls, centring, strength; then the rest."""


def in_order_of_truth(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Faults before cautions before notes; within each, what makes the others pointless comes first."""
    severities = ("fault", "caution", "note")

    def rank(finding: Finding) -> tuple[int, int]:
        known = finding.code in ORDER_OF_TRUTH
        return severities.index(finding.severity), ORDER_OF_TRUTH.index(finding.code) if known else len(ORDER_OF_TRUTH)

    return tuple(sorted(findings, key=rank))


def verdict_of(findings: tuple[Finding, ...], *, unchecked: tuple[str, ...] = ()) -> Verdict:
    """A certain fault: not good; else anything unchecked or in doubt: cannot tell; else caution, or good.

    A fault that is only likely is no answer either; a likely caution is a caution.
    """
    faults = [f for f in findings if f.severity == "fault"]
    if any(f.certainty == "certain" for f in faults):
        return "not good"
    if unchecked or faults or any(f.certainty == "in doubt" for f in findings):
        return "cannot tell"
    if any(f.severity == "caution" for f in findings):
        return "caution"
    return "good"


def worst_verdict(verdicts: tuple[Verdict, ...]) -> Verdict:
    """Verdict of a whole job from those of its steps."""
    order: tuple[Verdict, ...] = ("not good", "cannot tell", "caution", "good")
    return next((verdict for verdict in order if verdict in verdicts), "cannot tell")
