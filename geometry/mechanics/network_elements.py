"""Elements of the contact network: what presses, rubs or springs between two bodies that move along one axis.

An element between node i (left) and node j (right) acts on e = u_i - u_j, positive when i closes on j; its force [N]
is positive in compression.
"""

from bisect import bisect_right
from operator import itemgetter
from typing import TypeAlias

from geometry.record import Derived

_X = itemgetter(0)


class Contact(Derived, frozen=True):
    """Two faces that can press but not pull; they meet when e reaches the gap."""

    i: int
    j: int
    gap_mm: float
    stiffness_n_per_mm: float = 1e6

    def respond(self, e: float, slip: float) -> tuple[float, float]:
        """Force [N] and tangent [N/mm] at closing e [mm]."""
        closed = e - self.gap_mm
        if closed <= 0.0:
            return 0.0, 0.0
        return self.stiffness_n_per_mm * closed, self.stiffness_n_per_mm


class Fit(Derived, frozen=True):
    """A press fit: sticks elastically up to its friction limit, then slides at the limit.

    Parameters
    ----------
    limit
        Rows (e [mm], friction force [N]), e rising: the limit of the fit once i has moved by e against j.
        Linear between the rows, constant outside; one row is a constant limit.
    """

    i: int
    j: int
    limit: tuple[tuple[float, float], ...]
    stiffness_n_per_mm: float = 1e6

    def respond(self, e: float, slip: float) -> tuple[float, float]:
        """Force [N] and tangent [N/mm], which is held at zero where the fit loses hold on its way out."""
        limit, slope = interpolated(self.limit, e)
        trial = self.stiffness_n_per_mm * (e - slip)
        if -limit < trial < limit:
            return trial, self.stiffness_n_per_mm
        if trial >= 0.0:
            return limit, max(slope, 0.0)
        return -limit, max(-slope, 0.0)


class Balls(Derived, frozen=True):
    """The ball row between two rings: free play to both sides, then F = K (|e| - play)^p."""

    i: int
    j: int
    play_mm: float
    stiffness: float
    """K [N/mm^p]."""
    exponent: float

    def respond(self, e: float, slip: float) -> tuple[float, float]:
        """Force [N], with the sign of e, and tangent [N/mm]."""
        past_play = abs(e) - self.play_mm
        if past_play <= 0.0:
            return 0.0, 0.0
        force = self.stiffness * past_play**self.exponent
        return (force if e > 0.0 else -force), self.exponent * force / past_play

    def closing_mm(self, force_n: float) -> float:
        """How far past the play a force closes the row [mm]."""
        closed: float = (force_n / self.stiffness) ** (1 / self.exponent)
        return closed


class Bar(Derived, frozen=True):
    """A spring that presses and pulls, such as the two ends of one spacer."""

    i: int
    j: int
    stiffness_n_per_mm: float

    def respond(self, e: float, slip: float) -> tuple[float, float]:
        """Force [N] and tangent [N/mm]."""
        return self.stiffness_n_per_mm * e, self.stiffness_n_per_mm


Element: TypeAlias = Contact | Fit | Balls | Bar


def interpolated(table: tuple[tuple[float, float], ...], x: float) -> tuple[float, float]:
    """Value and slope of a table of (x, y) at x; constant outside."""
    beyond = bisect_right(table, x, key=_X)
    if beyond == 0 or beyond == len(table):
        return table[max(beyond - 1, 0)][1], 0.0
    (x0, y0), (x1, y1) = table[beyond - 1], table[beyond]
    slope = (y1 - y0) / (x1 - x0)
    return y0 + slope * (x - x0), slope
