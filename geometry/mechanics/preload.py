"""What stays in the balls of two bearings whose inner rings are held apart, or together, by a wrong length."""

from collections.abc import Sequence

from geometry.mechanics.balls import AxialLaw

_HALVINGS = 60


def preload_left_n(*, error_mm: float, rows: Sequence[AxialLaw], give_mm_per_n: float, most_n: float) -> float:
    """Axial force that a length error locks into ball rows that stand in series [N].

    Parameters
    ----------
    error_mm
        How much the spacer is too long, or too short, for its shoulders [mm], as a positive number.
    rows
        Axial law of each ball row between which the error is shared.
    give_mm_per_n
        How much spacer and faces give per newton [mm/N].
    most_n
        What the fits hold before an outer ring moves off its shoulder, or what the axle clamps with [N].

    Returns
    -------
    0 while the error is within the summed play; then F with sum((F/K)^(1/p)) + F give = error - sum(play), at most
    `most_n`.

    Notes
    -----
    Mechanics notes, section 3 (e): lock-in of the springs in series over error - a1 - a2, capped by the friction of
    the fits.
    """
    over_mm = error_mm - sum(row.play_mm for row in rows)
    if over_mm <= 0.0:
        return 0.0

    def taken_mm(force_n: float) -> float:
        rows_mm = sum(float((force_n / row.stiffness) ** (1 / row.exponent)) for row in rows)
        return rows_mm + force_n * give_mm_per_n

    if taken_mm(most_n) <= over_mm:
        return most_n
    low, high = 0.0, most_n
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if taken_mm(middle) < over_mm else (low, middle)
    return low
