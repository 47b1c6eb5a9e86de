"""Feel: what the hand on the nut notices on the way, in words, from the run of the press."""

from itertools import pairwise

from geometry.check.result import Band, Moment
from geometry.check.wording import mm, newtons
from geometry.job.job import Step
from geometry.record import Derived

FELT_N = 10.0
"""A nut that pulls less than this turns as if free."""
SETTLED_MM = 0.1
"""Within this way from either end, play and give of the faces are still in what is felt."""
ALIKE_SHARE = 0.2
"""A force that changes by less than this from end to end feels constant."""
STOP_SHARE = 1.15
"""A force that leaps by this without travel is a stop."""
FREE_SHARE = 0.3
"""A force that has fallen to this share of its greatest feels as if the part comes free."""
STEP_SHARE, STEP_MM = 0.35, 0.6
"""A rise by this share of the greatest force within this way is felt as a second beginning."""
SHORT_MM = 0.05


class _Way(Derived, frozen=True):
    """Force against travel while something slides: rows of (travel [mm], force [N]), travel rising."""

    rows: tuple[tuple[float, float], ...]
    most_n: float
    """Greatest force before the end, breaking loose included."""

    @property
    def length_mm(self) -> float:
        return self.rows[-1][0] - self.rows[0][0]

    def share_at(self, part: float) -> float:
        """Force at a part of the way over the greatest, linear between the rows."""
        at = self.rows[0][0] + part * self.length_mm
        for (x0, y0), (x1, y1) in pairwise(self.rows):
            if at <= x1:
                return (y0 + (y1 - y0) * (at - x0) / max(x1 - x0, 1e-12)) / self.most_n
        return self.rows[-1][1] / self.most_n


def feel_of(
    step: Step, moments: tuple[Moment, ...], force: Band | None, needed_mm: float, torque_nm: Band | None = None
) -> str:
    """One sentence for the hand on the nut; empty where nothing was pressed.

    Parameters
    ----------
    moments
        Of the press up to its goal, with the firm stop there, or further.
    force, torque_nm
        Press force and torque expected: the torque follows the force of each moment in their proportion.
        Without a torque only newtons are named.
    """
    if not moments or max(moment.force_n for moment in moments) < FELT_N:
        return ""
    way, stops_at = _way_and_stop(moments, needed_mm)
    nm_per_n = torque_nm.expected / force.expected if torque_nm and force and force.expected > 0.0 else None
    if way is None or way.most_n < FELT_N:
        going = "Turns freely" if way is not None else "Goes hard at once"
    else:
        goes_mm = needed_mm if stops_at is None else min(stops_at, needed_mm)
        going = _going(step, way, goes_mm, nm_per_n)
    return f"{going}, {_end(step, moments, way, stops_at, needed_mm)}."


def _way_and_stop(moments: tuple[Moment, ...], needed_mm: float) -> tuple[_Way | None, float | None]:
    """The part of the run that slides, and the travel at which it stops hard, if it does."""
    leaps = [
        (before, after)
        for before, after in pairwise(moments)
        if after.travel_mm - before.travel_mm < SHORT_MM and after.force_n > STOP_SHARE * max(before.force_n, FELT_N)
    ]
    last = moments[-1]
    stop = next((before for before, _ in leaps if last.travel_mm - before.travel_mm < SHORT_MM), None)
    stops_at = stop.travel_mm if stop is not None and last.force_n > STOP_SHARE * stop.force_n else None
    end = min(needed_mm, stops_at) if stops_at is not None else needed_mm
    sliding = [(m.travel_mm, m.force_n) for m in moments if m.travel_mm <= end + 1e-6 and m.travel_mm > 0.0]
    before_end = [row for row in sliding if row[0] < end - 1e-3]
    rows = [row for row in before_end if row[0] > min(SETTLED_MM, end / 4)]
    if len(rows) < 2:
        return None, stops_at
    return _Way(tuple(rows), max(force for _, force in before_end)), stops_at


def _going(step: Step, way: _Way, goes_mm: float, nm_per_n: float | None) -> str:
    """How the force goes along the way, up to its end."""
    most, over = _hand(way.most_n, nm_per_n), f"over {mm(round(goes_mm, 1))} mm"
    first, last = way.share_at(0.05), way.share_at(0.95)
    if step.operation == "press out" and last < 1.0 - ALIKE_SHARE:
        return f"Breaks loose at about {most}, then falls steadily {over}"
    if last > first + ALIKE_SHARE:
        again = _second_beginning(way)
        harder = f", harder from {mm(round(again, 1))} mm on" if again is not None else ""
        return f"Rises to about {most} {over}{harder}"
    if last < first - ALIKE_SHARE:
        return f"Begins at about {most} and eases {over}"
    return f"Stays near {most} {over}"


def _second_beginning(way: _Way) -> float | None:
    """Travel at which a further seat begins to hold, well after the first."""
    for (x0, y0), (x1, y1) in pairwise(way.rows):
        if x0 > way.rows[0][0] + 1.0 and x1 - x0 < STEP_MM and y1 - y0 > STEP_SHARE * way.most_n:
            return x0
    return None


def _end(step: Step, moments: tuple[Moment, ...], way: _Way | None, stops_at: float | None, needed_mm: float) -> str:
    """What the end of the way feels like."""
    if stops_at is not None and stops_at < needed_mm - SHORT_MM:
        goal = "home" if step.operation == "press in" else "free"
        if way is None:
            return f"and does not move: {mm(needed_mm)} mm short of {goal}"
        return f"then a sudden stop {mm(needed_mm - stops_at)} mm before it is {goal}: back off and look"
    if step.operation == "press out":
        eased = way is not None and way.rows[-1][1] < FREE_SHARE * way.most_n
        return "then the nut turns freely: it is out" if eased else "then drops off: it is out"
    if stops_at is not None:
        return "then a sudden stop: home"
    return "and nothing stops it at home: measure"


def _hand(force_n: float, nm_per_n: float | None) -> str:
    """Torque with the force beside it; the force alone where no thread is known."""
    if nm_per_n is None:
        return newtons(round_to_two(force_n))
    return f"{round_to_two(force_n * nm_per_n):g} Nm ({newtons(round_to_two(force_n))})"


def round_to_two(value: float) -> float:
    """Two figures, as exact as a press force is known."""
    return float(f"{value:.2g}")
