"""Part limits: how far each dimension of a part can go before the check is less content, and what sets that end."""

from collections.abc import Callable
from math import floor, inf

from geometry.check.finding import Finding
from geometry.planning.part_dimensions import LENGTHS, dimensions_of, value_of
from geometry.planning.part_trial import PartTrial, with_dimensions
from geometry.record import Derived

FINENESS_MM = 0.01
LENGTH_FINENESS_MM = 0.05
FIRST_STEP_MM = 0.1
REACHES_MM = 40.0
"""A dimension is tried no farther than this from where it is; beyond, its end is open."""
LEAST_LENGTH_MM = 0.5
HUNDREDTHS = 100


class End(Derived, frozen=True):
    """One end of a window, and what is wrong beyond it; `is_open`: nothing as far as it was tried."""

    value_mm: float
    sets: str
    """In words: what the check says beyond; empty when open."""
    bodies: tuple[str, ...] = ()
    code: str = ""
    job: str = ""

    @property
    def is_open(self) -> bool:
        return not self.sets


class Window(Derived, frozen=True):
    """Between what a dimension may lie with the others as they are [mm]."""

    dimension: str
    least: End
    most: End

    def has(self, value_mm: float, *, spare_mm: float = 0.0) -> bool:
        low = -inf if self.least.is_open else self.least.value_mm
        high = inf if self.most.is_open else self.most.value_mm
        return low + spare_mm - 1e-9 <= value_mm <= high - spare_mm + 1e-9

    @property
    def middle_mm(self) -> float:
        return (self.least.value_mm + self.most.value_mm) / 2


class Windows:
    """Windows of dimensions in some steps; each is looked for once as long as the other dimensions stay."""

    def __init__(self) -> None:
        self._kept: dict[tuple[str, tuple[tuple[str, float], ...]], Window] = {}

    def of(self, trials: tuple[PartTrial, ...], dimension: str) -> Window:
        """What the windows of all steps have in common."""
        part = trials[0].part
        others = tuple((name, value_of(part, name)) for name in dimensions_of(part) if name != dimension)
        said = " ".join(code for trial in trials for code in trial.accepted)
        key, value = (f"{part.material} {dimension} {said}", others), value_of(part, dimension)
        if key not in self._kept or not self._kept[key].has(value):
            self._kept[key] = common_window(tuple(window_of(trial, dimension) for trial in trials))
        return self._kept[key]


def window_of(trial: PartTrial, dimension: str) -> Window:
    """The window of one dimension in one step."""
    return Window(dimension, _end(trial, dimension, -1.0), _end(trial, dimension, 1.0))


def common_window(windows: tuple[Window, ...]) -> Window:
    """What several windows of one dimension have in common; empty where the least is above the most."""
    least = max((one.least for one in windows), key=lambda one: -inf if one.is_open else one.value_mm)
    most = min((one.most for one in windows), key=lambda one: inf if one.is_open else one.value_mm)
    return Window(windows[0].dimension, least, most)


def _end(trial: PartTrial, dimension: str, sign: float) -> End:
    """Go outwards in growing steps until the check is less content, then halve."""
    start = value_of(trial.part, dimension)
    is_length = dimension in LENGTHS
    lowest = LEAST_LENGTH_MM if is_length else FINENESS_MM
    fine = LENGTH_FINENESS_MM if is_length else FINENESS_MM

    def asked(distance: float, question: Callable[[PartTrial], bool]) -> bool:
        value = round(start + sign * distance, 4)
        if value < lowest:
            return False
        changed = with_dimensions(trial.part, [(dimension, value)])
        return changed is not None and question(trial.with_part(changed))

    def quick(distance: float) -> bool:
        return asked(distance, PartTrial.is_as_good_quickly)

    def full(distance: float) -> bool:
        return asked(distance, PartTrial.is_as_good)

    good, bad = _bracket(quick, start, sign, lowest)
    if bad is not None:
        good, bad = _halved(quick, good, bad, fine)
    if good > 0.0 and not full(good):
        good, bad = _bracket_within(full, good)
        good, bad = _halved(full, good, bad, fine)
    value = _inside(start + sign * good, sign)
    if bad is None:
        return End(value, "")
    return _said(trial, dimension, value, round(start + sign * (bad + fine), 4), lowest)


def _inside(value: float, sign: float) -> float:
    """An end in whole hundredths that does not lie beyond it: what is told must work itself."""
    return sign * floor(round(sign * value * HUNDREDTHS, 6)) / HUNDREDTHS


def _bracket(
    holds: Callable[[float], bool], start: float, sign: float, lowest: float
) -> tuple[float, float | None]:
    most = min(REACHES_MM, start - lowest) if sign < 0.0 else REACHES_MM
    good, step = 0.0, FIRST_STEP_MM
    while good < most:
        distance = min(step, most)
        if not holds(distance):
            return good, distance
        good, step = distance, 2 * step
    return good, None if most == REACHES_MM else most + FINENESS_MM


def _bracket_within(holds: Callable[[float], bool], bad: float) -> tuple[float, float]:
    """Where the full check is content again, coming back from what only the quick one accepts."""
    step = FIRST_STEP_MM
    good = 0.0
    while step < bad:
        if not holds(step):
            return good, step
        good, step = step, 2 * step
    return good, bad


def _halved(holds: Callable[[float], bool], good: float, bad: float, fine: float) -> tuple[float, float]:
    while bad - good > fine:
        middle = (good + bad) / 2
        if holds(middle):
            good = middle
        else:
            bad = middle
    return good, bad


def _said(trial: PartTrial, dimension: str, value: float, beyond: float, lowest: float) -> End:
    """What the check says just beyond an end."""
    job = trial.job.title
    if beyond < lowest:
        return End(value, "", job=job)
    changed = with_dimensions(trial.part, [(dimension, beyond)])
    if changed is None:
        return End(value, "the part would be no solid any more", (), "", job)
    finding = trial.with_part(changed).worse()
    if finding is None:
        return End(value, "the part would not reach what it must touch", (), "", job)
    return End(value, _short(finding), finding.bodies, finding.code, job)


def _short(finding: Finding) -> str:
    return finding.message.rstrip(".")
