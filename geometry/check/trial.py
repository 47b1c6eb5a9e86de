"""Trial: one section drawn from what the readings leave open, and which findings it has."""

from collections.abc import Callable, Sequence

from geometry.check.finding import Finding
from geometry.readings.fit import Array
from geometry.record import Derived
from geometry.section.section import Section

WORKED_OUT = ("fit-loose", "fit-tight", "clearance-lost", "spacer-long", "spacer-short", "tilted-start")
"""Codes whose chance follows from a sum of quantities, that say how wide their band is, or that are worst cases."""
MAY_BE = "May be, by the readings: "
"""How a finding begins that the section as measured has not, but some of those drawn have."""
GRAVITY = {"note": 0, "caution": 1, "fault": 2}

Key = tuple[str, tuple[str, ...]]
"""Code and bodies: what makes two findings the same one."""
FindingsOf = Callable[[Section], Sequence[Finding]]


class Trial(Derived, frozen=True):
    """One section that was drawn: its quantities, how far they are off in units of the width drawn, what it shows."""

    values_mm: Array
    away_mm: Array
    found: dict[Key, Finding]

    def gravity(self, key: Key) -> int:
        """How grave a finding is there; 0 where there is none."""
        return gravity(self.found.get(key))


def key_of(finding: Finding) -> Key:
    return finding.code, finding.bodies


def is_tried(finding: Finding) -> bool:
    """Whether trials can tell how sure it is: worth more than a note, and no answer is missing for it."""
    return finding.code not in WORKED_OUT and finding.severity != "note" and finding.certainty == "certain"


def by_key(findings: Sequence[Finding]) -> dict[Key, Finding]:
    """The gravest finding of each code and bodies that trials can tell about."""
    found: dict[Key, Finding] = {}
    for one in filter(is_tried, findings):
        if gravity(one) > gravity(found.get(key_of(one))):
            found[key_of(one)] = one
    return found


def gravity(finding: Finding | None) -> int:
    """0 for none and for a note, 1 for a caution, 2 for a fault."""
    return 0 if finding is None else GRAVITY[finding.severity]
