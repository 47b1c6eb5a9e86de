"""The ball row of a deep groove bearing under an axial force: play, stiffness, static rating, and its limits.

The groove of each ring is a little wider than the ball (conformity f = groove radius / ball diameter), so
the row has axial play; beyond it the balls run up the grooves at a growing contact angle.
"""

from collections.abc import Callable
from functools import lru_cache
from math import acos, asin, atan2, cos, exp, floor, hypot, log, pi, sin, sqrt

from geometry.errors import OutOfRangeError
from geometry.record import Derived

E_MPA = 2.07e5
POISSON = 0.3
"""Ball and ring steel as in ISO 76."""
DENT_PRESSURE_MPA = 4200.0
"""Hertz peak at which a ball dents by about 0.0001 of its diameter (ISO 76)."""
ESTIMATE_DIVISOR = 2.5
"""A static rating estimated from d, D, B alone is up to 2.3 times a catalogue's (mechanics notes, section
6).
"""
MOST_SECANTS = 40
FIT_RANGE_N = (30.0, 1500.0)


class BallSet(Derived, frozen=True):
    """A row of balls between two grooves.

    Parameters
    ----------
    pitch_mm, ball_mm
        Diameters of the pitch circle and of a ball [mm].
    inner_conformity, outer_conformity
        Groove radius over ball diameter; the reference bearing of ISO 76 has 0.52 and 0.53.
    groove_depth_share
        Depth of the grooves over ball diameter; nobody publishes it, 0.06 to 0.25 were seen.
    """

    pitch_mm: float
    ball_mm: float
    ball_count: int
    inner_conformity: float = 0.52
    outer_conformity: float = 0.53
    groove_depth_share: float = 0.165


class AxialLaw(Derived, frozen=True):
    """F = K (|x| - play)^p between the rings of a row: what a contact network takes."""

    play_mm: float
    stiffness: float
    """K [N/mm^p]."""
    exponent: float


class LoadedRow(Derived, frozen=True):
    """What an axial force does to the balls of a row."""

    shift_mm: float
    """From the middle, play included."""
    load_per_ball_n: float
    contact_angle_rad: float
    peak_mpa: float
    """Hertz peak of the harder pressed groove."""


class HertzContact(Derived, frozen=True):
    """A ball on a groove: per force, the ellipse, the peak and the stiffness."""

    major_half_axis_mm_per_n13: float
    """Half the width of the contact across the groove = this times Q^(1/3)."""
    peak_mpa_per_n13: float
    """Peak pressure = this times Q^(1/3)."""
    stiffness_n_per_mm15: float
    """Q = this times approach^1.5."""


def estimated_ball_set(*, bore_mm: float, outside_mm: float, width_mm: float) -> BallSet:
    """The row that a bearing of these outer sizes probably has.

    Notes
    -----
    Ball 0.29 (D - d), at most 0.60 B; as many as fit on 1.04/2 of the pitch circle. Fitted to 13 rows of
    catalogues without a hold-out; poor for thin sections. Whatever is computed from it needs
    `ESTIMATE_DIVISOR`.
    """
    pitch = (bore_mm + outside_mm) / 2
    ball = min(0.29 * (outside_mm - bore_mm), 0.60 * width_mm)
    count = floor(1 + 1.04 * pi / (2 * asin(ball / pitch)))
    return BallSet(pitch_mm=pitch, ball_mm=ball, ball_count=count)


def static_rating_n(balls: BallSet, *, f0: float) -> float:
    """Basic static radial load rating C0 [N] of one row with no contact angle, f0 from the table of ISO 76.

    References
    ----------
    [gost-18854] text of ISO 76: C0r = f0 i Z Dw² cos(alpha)
    """
    return f0 * balls.ball_count * balls.ball_mm**2


def axial_play_mm(balls: BallSet, *, radial_clearance_mm: float) -> float:
    """How far the inner ring shifts from the middle to either side [mm]; the whole play is twice that.

    Parameters
    ----------
    radial_clearance_mm
        Diametral, as catalogues give it [mm]; zero or less leaves no play.
    """
    A, across = _groove_centres(balls, radial_clearance_mm)
    return sqrt(A**2 - across**2) if across < A else 0.0


def free_tilt_rad(balls: BallSet, *, radial_clearance_mm: float) -> float:
    """How far the inner ring tilts in the outer one to either side until balls touch [rad]; zero without clearance.

    Notes
    -----
    A tilt moves the grooves past each other by tilt dm/2 along the axis, most at two opposite balls; they touch where
    that uses up the axial play: 2 play / dm.

    References
    ----------
    [harris-kotzalas] chapter on bearing geometry, free angle of misalignment (memory): the same within 1 % for the
    grooves of ISO 76
    """
    return 2 * axial_play_mm(balls, radial_clearance_mm=radial_clearance_mm) / balls.pitch_mm


def axial_force_n(balls: BallSet, *, radial_clearance_mm: float, shift_mm: float) -> float:
    """Force [N] when the rings are shifted by so much from the middle [mm], with the sign of the shift."""
    force = _row(balls, radial_clearance_mm).axial_n(abs(shift_mm))
    return force if shift_mm >= 0.0 else -force


def axial_law(balls: BallSet, *, radial_clearance_mm: float) -> AxialLaw:
    """Play, K and p that follow the row's force over 30 to 1500 N within about 10 %.

    Notes
    -----
    Least squares on the logarithms of force and way, at twelve forces evenly spread on a logarithmic scale.
    """
    play = axial_play_mm(balls, radial_clearance_mm=radial_clearance_mm)
    low, high = (log(force) for force in FIT_RANGE_N)
    log_forces = [low + (high - low) * i / 11 for i in range(12)]
    log_ways = [
        log(shift_at_force_mm(balls, radial_clearance_mm=radial_clearance_mm, axial_n=exp(f)) - play)
        for f in log_forces
    ]
    mean_f, mean_w = sum(log_forces) / 12, sum(log_ways) / 12
    exponent = sum((f - mean_f) * (w - mean_w) for f, w in zip(log_forces, log_ways, strict=True)) / sum(
        (w - mean_w) ** 2 for w in log_ways
    )
    return AxialLaw(play, exp(mean_f - exponent * mean_w), exponent)


def shift_at_force_mm(balls: BallSet, *, radial_clearance_mm: float, axial_n: float) -> float:
    """How far the rings shift from the middle under an axial force [mm], play included."""
    row = _row(balls, radial_clearance_mm)

    def reached(shift_mm: float) -> bool:
        return row.axial_n(shift_mm) >= axial_n

    return _first_shift(balls, radial_clearance_mm, reached, f"{axial_n:.0f} N")


def row_under_axial_force(balls: BallSet, *, radial_clearance_mm: float, axial_n: float) -> LoadedRow:
    """Load per ball, contact angle and peak pressure of a row that carries a pure axial force [N].

    All balls carry alike: Q = F / (Z sin alpha), alpha the angle that the groove centres stand at.
    """
    shift = shift_at_force_mm(balls, radial_clearance_mm=radial_clearance_mm, axial_n=axial_n)
    per_ball, angle = _row(balls, radial_clearance_mm).ball_load(shift)
    return LoadedRow(shift, per_ball, angle, _harder_peak_mpa(balls, per_ball, angle))


def axial_force_at_dent_n(balls: BallSet, *, radial_clearance_mm: float) -> float:
    """F_4200: the axial force at which the harder pressed groove reaches the dent pressure of ISO 76 [N]."""

    row = _row(balls, radial_clearance_mm)

    def reached(shift_mm: float) -> bool:
        return _harder_peak_mpa(balls, *row.ball_load(shift_mm)) >= DENT_PRESSURE_MPA

    shift = _first_shift(balls, radial_clearance_mm, reached, "the dent pressure")
    return axial_force_n(balls, radial_clearance_mm=radial_clearance_mm, shift_mm=shift)


def axial_force_at_shoulder_n(balls: BallSet, *, radial_clearance_mm: float) -> float:
    """F_edge: the axial force at which the contact reaches the shoulder of a groove [N].

    Hangs on a groove depth that nobody gave: show it as a band over `groove_depth_share`, never as one
    number.
    """

    row = _row(balls, radial_clearance_mm)

    def reached(shift_mm: float) -> bool:
        per_ball, angle = row.ball_load(shift_mm)
        return any(
            angle + contact.major_half_axis_mm_per_n13 * per_ball ** (1 / 3) / groove_radius
            >= acos(1 - balls.groove_depth_share * balls.ball_mm / groove_radius)
            for contact, groove_radius in _contacts(balls, angle)
        )

    shift = _first_shift(balls, radial_clearance_mm, reached, "the groove's shoulder")
    return axial_force_n(balls, radial_clearance_mm=radial_clearance_mm, shift_mm=shift)


def hertz_contact(
    *, ball_mm: float, conformity: float, pitch_mm: float, contact_angle_rad: float, on_inner: bool
) -> HertzContact:
    """A ball on the inner or outer groove.

    Notes
    -----
    gamma = Dw cos(alpha)/dm; curvatures of ball, raceway (in rolling direction) and groove; ellipticity k
    from F(rho) = ((k² + 1) E - 2 K)/((k² - 1) E), complete elliptic integrals of m = 1 - 1/k².

    References
    ----------
    [harris-kotzalas] chapter on contact stress and deformation (memory); equal to the f0 table of ISO 76 at
    4200 MPa within 0.4 %
    """
    gamma = ball_mm * cos(contact_angle_rad) / pitch_mm
    rolling = 2 * gamma / (ball_mm * (1 - gamma)) if on_inner else -2 * gamma / (ball_mm * (1 + gamma))
    groove = -1 / (conformity * ball_mm)
    total = 4 / ball_mm + rolling + groove
    k, K, E = _ellipse((rolling - groove) / total)
    scale = 1.5 / total * 2 * (1 - POISSON**2) / E_MPA
    a = (2 * k**2 * E / pi) ** (1 / 3) * scale ** (1 / 3)
    b = (2 * E / (pi * k)) ** (1 / 3) * scale ** (1 / 3)
    approach = 2 * K / pi * (pi / (2 * k**2 * E)) ** (1 / 3) * scale ** (2 / 3) * total / 2
    return HertzContact(
        major_half_axis_mm_per_n13=a,
        peak_mpa_per_n13=1.5 / (pi * a * b),
        stiffness_n_per_mm15=approach**-1.5,
    )


def _groove_centres(balls: BallSet, radial_clearance_mm: float) -> tuple[float, float]:
    """Distance of the groove centres with the play just used up, and their radial distance in the middle."""
    A = (balls.inner_conformity + balls.outer_conformity - 1) * balls.ball_mm
    if radial_clearance_mm >= 2 * A:
        raise OutOfRangeError(
            f"A radial clearance of {radial_clearance_mm:.3f} mm lets a ball of {balls.ball_mm:.3f} mm leave "
            f"its grooves, which leave room for {2 * A:.3f} mm."
        )
    return A, A - radial_clearance_mm / 2


class _Row(Derived, frozen=True):
    """A row of balls with its clearance: what stays the same while the rings shift."""

    ball_count: int
    groove_centres_mm: float
    """Distance of the groove centres with the play just used up."""
    across_mm: float
    """Their radial distance in the middle."""
    pair_stiffness: float
    """Q per approach^1.5 of a ball between both grooves, at the angle at which the play ends: it changes little."""

    def ball_load(self, shift_mm: float) -> tuple[float, float]:
        """Force of one ball [N] and its contact angle [rad], at a shift [mm] that is not negative."""
        apart, angle = hypot(self.across_mm, shift_mm), atan2(shift_mm, self.across_mm)
        if apart <= self.groove_centres_mm:
            return 0.0, angle
        return self.pair_stiffness * (apart - self.groove_centres_mm) ** 1.5, angle

    def axial_n(self, shift_mm: float) -> float:
        """Force of all balls along the axis [N]."""
        per_ball, angle = self.ball_load(shift_mm)
        return self.ball_count * per_ball * sin(angle)


@lru_cache(maxsize=1024)
def _row(balls: BallSet, radial_clearance_mm: float) -> _Row:
    A, across = _groove_centres(balls, radial_clearance_mm)
    inner, outer = (one.stiffness_n_per_mm15 for one, _ in _contacts(balls, acos(min(across / A, 1.0))))
    return _Row(balls.ball_count, A, across, float((inner ** (-2 / 3) + outer ** (-2 / 3)) ** -1.5))


def _harder_peak_mpa(balls: BallSet, per_ball_n: float, contact_angle_rad: float) -> float:
    """Peak pressure [MPa] in the groove that is pressed harder."""
    harder = max(contact.peak_mpa_per_n13 for contact, _ in _contacts(balls, contact_angle_rad))
    return float(harder * per_ball_n ** (1 / 3))


def _contacts(
    balls: BallSet, contact_angle_rad: float
) -> tuple[tuple[HertzContact, float], tuple[HertzContact, float]]:
    """Inner and outer contact, each with the radius of its groove [mm]."""
    inner, outer = (
        hertz_contact(
            ball_mm=balls.ball_mm,
            conformity=conformity,
            pitch_mm=balls.pitch_mm,
            contact_angle_rad=contact_angle_rad,
            on_inner=on_inner,
        )
        for conformity, on_inner in ((balls.inner_conformity, True), (balls.outer_conformity, False))
    )
    return (inner, balls.inner_conformity * balls.ball_mm), (outer, balls.outer_conformity * balls.ball_mm)


def _first_shift(
    balls: BallSet, radial_clearance_mm: float, reached: Callable[[float], bool], what: str
) -> float:
    """The least shift [mm] at which something is reached that more shift never undoes."""
    low = axial_play_mm(balls, radial_clearance_mm=radial_clearance_mm)
    high = low + balls.ball_mm
    if not reached(high):
        raise OutOfRangeError(f"Balls of {balls.ball_mm:.3f} mm never reach {what}.")
    while high - low > 1e-9:
        middle = (low + high) / 2
        if reached(middle):
            high = middle
        else:
            low = middle
    return high


def _ellipse(curvature_difference: float) -> tuple[float, float, float]:
    """Ellipticity k and the elliptic integrals K and E of m = 1 - 1/k²; a circle where the curvatures
    agree.

    Secants in log k from the power of the ratio of curvatures that lies within 3 % ([harris-kotzalas],
    memory), until k no longer changes.
    """
    if curvature_difference < 1e-9:
        return 1.0, pi / 2, pi / 2
    ratio = (1 + curvature_difference) / (1 - curvature_difference)
    here = max(log(1.0339) + 0.636 * log(ratio), 1e-6)
    before = 0.98 * here
    off_before, *_ = _difference(before, curvature_difference)
    for _ in range(MOST_SECANTS):
        off, K, E = _difference(here, curvature_difference)
        if off == off_before or abs(here - before) < 1e-15 * here:
            break
        step = off * (here - before) / (off - off_before)
        before, off_before = here, off
        here = max(here - step, here / 10)
    return exp(here), K, E


def _difference(log_k: float, wanted: float) -> tuple[float, float, float]:
    """By how much F(rho) of an ellipse is above what is wanted, with its integrals K and E."""
    k2 = exp(2 * log_k)
    K, E = _elliptic_integrals(1 - 1 / k2)
    return ((k2 + 1) * E - 2 * K) / ((k2 - 1) * E) - wanted, K, E


def _elliptic_integrals(m: float) -> tuple[float, float]:
    """Complete integrals K(m) and E(m) by the arithmetic-geometric mean."""
    a, b, c, share, weight = 1.0, sqrt(1 - m), sqrt(m), 0.0, 0.5
    while abs(c) > 1e-16:
        share += weight * c * c
        a, b, c, weight = (a + b) / 2, sqrt(a * b), (a - b) / 2, 2 * weight
    K = pi / (2 * a)
    return K, K * (1 - share)
