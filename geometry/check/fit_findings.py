"""Findings of fits: what is loose, too tight, or takes the clearance from the balls, for bearings that go in."""

from msgspec.structs import replace

from geometry.check.doubt import certainty_of, chance_below
from geometry.check.finding import Finding, Place
from geometry.check.fit_limits import FitLimits
from geometry.check.fit_result import (
    hoop_allowable_mpa,
    inner_clearance_lost_um,
    limits_of,
    outer_clearance_lost_um,
)
from geometry.check.friction import effective_mm
from geometry.check.in_words import chance_in_words
from geometry.check.interference import BAND, measured_fit
from geometry.check.result import Band, FitResult
from geometry.check.warmth import warmth_in_words
from geometry.check.wording import name_of
from geometry.errors import OutOfRangeError
from geometry.facts.fits import practice
from geometry.facts.tolerances import deviations_um, radial_clearance_um
from geometry.job.job import Job, Step
from geometry.job.measured import MeasuredFit
from geometry.section.bearing import Bearing, measures

WIDER_GROUP = {"C2": "CN", "CN": "C3", "C3": "C4"}
MEASURE_AGAIN = "Measure ring and seat again with a micrometer and a bore gauge."
CLEARANCE_SOURCE = (
    "clearance by ISO 5753 (GOST 24810-2013; PUB 17000 table 6); loss by the wall model, 0.3 to 0.5 of the"
    " interference in aluminium (computed)"
)


def fit_findings(job: Job, step: Step, fits: tuple[FitResult, ...]) -> list[Finding]:
    """Loose and too tight fits, lost clearance, and what the readings cannot tell; nothing for a step that presses out.

    None of them is worse than a caution: the press itself can be done.
    """
    if step.operation != "press in":
        return []
    found: list[Finding] = []
    for fit in fits:
        limits = limits_of(job, fit)
        known = measured_fit(job, _ring(fit))
        if known is not None and limits.state_of(fit.interference_mm.expected) == fit.state:
            found += _by_chance(job, fit, limits, known)
        elif fit.state == "loose":
            found.append(_loose(job, fit, limits))
        elif fit.state == "tight":
            found.append(_tight(job, fit, limits))
        else:
            found += _undecided(job, fit, limits)
    for fit in fits:
        if fit.ring == "outer" and fit.clearance_left_um is not None and fit.clearance_left_um.expected < 0.0:
            found.append(_clearance_lost(job, fit, fit.clearance_left_um))
    return found


def _by_chance(job: Job, fit: FitResult, limits: FitLimits, known: MeasuredFit) -> list[Finding]:
    """Loose and too tight as likely as the readings make them, each with its chance.

    Below the least interference that the class has in its mean a ring is hardly held; where the expected figure keeps
    that, what is asked of the doubt is only whether there may be air.
    """
    value_mm, u_mm = fit.interference_mm.expected, known.uncertainty_mm
    held = value_mm >= limits.loose_below_mm
    air_mm = min(limits.loose_below_mm, 0.0) if held else limits.loose_below_mm
    loose = chance_below(air_mm, value=value_mm, uncertainty=u_mm)
    tight = 1.0 - chance_below(limits.tight_above_mm, value=value_mm, uncertainty=u_mm)
    found = []
    for chance, told in ((loose, _loose), (tight, _tight)):
        certainty = certainty_of(chance)
        if certainty == "in doubt":
            one = _cannot_tell(job, fit, limits, chance, air_mm=air_mm if told is _loose else None)
        elif certainty is not None:
            one = told(job, fit, limits)
        else:
            continue
        more = {"chance": chance, "uncertainty_mm": u_mm}
        message = one.message if certainty != "likely" else one.message.replace(" is ", " is probably ", 1)
        found.append(
            replace(
                one,
                message=message,
                certainty=certainty,
                values=one.values | more,
                hangs_on=dict(known.combination),
                question=f"whether the {name_of(_ring(fit))} {'is held' if told is _loose else 'is too tight'}",
            )
        )
    return found


def _cannot_tell(job: Job, fit: FitResult, limits: FitLimits, chance: float, *, air_mm: float | None) -> Finding:
    """Loose where a limit for that is given, else too tight."""
    bearing, band = job.section.bearing(fit.bearing), fit.interference_mm
    doubt_mm = band.high - band.expected
    if air_mm is None:
        limit_mm, rule = limits.tight_above_mm, f"at most {limits.tight_above_mm:.3f} ({limits.tight_rule})"
        whether, risk = "is too tight", f"{chance_in_words(chance)} of more than {limit_mm:.3f}"
    else:
        limit_mm, rule = air_mm, f"at least {limits.loose_below_mm:.3f} ({limits.loose_rule})"
        whether, risk = "is held", f"{chance_in_words(chance)} of less than {limit_mm:.3f}"
        if limit_mm == 0.0:
            whether, risk = "is loose", f"{chance_in_words(chance)} of being loose"
    return Finding(
        "fit-tight" if air_mm is None else "fit-loose",
        "caution",
        (_ring(fit), _seat(bearing, fit)),
        f"The readings cannot tell whether the {name_of(_ring(fit))} {whether}: {_plain(band.expected)}"
        f" ± {doubt_mm:.3f}, {risk}.",
        f"{_ring_minus_seat(fit)} = {band.expected:.3f} ± {doubt_mm:.3f} (95 %); {rule};"
        f" {abs(band.expected - limit_mm):.3f} away, {BAND * abs(band.expected - limit_mm) / doubt_mm:.2f} standard"
        f" uncertainties: {100 * chance:.0f} %",
        f"least squares of the readings (JCGM 100); {limits.source}",
        MEASURE_AGAIN,
        _place(bearing, fit),
        values=_values(fit),
    )


def _loose(job: Job, fit: FitResult, limits: FitLimits) -> Finding:
    bearing = job.section.bearing(fit.bearing)
    seat, amount = name_of(_seat(bearing, fit)), _plain(fit.interference_mm.expected)
    place, harm = ("in", "creep in its seat") if fit.ring == "outer" else ("on", "knock on its seat")
    state = "hardly held" if fit.interference_mm.expected > 0.0 else "loose"
    compound = " a retaining compound where the makers of hub and bearing allow one, used as its maker says, or"
    return Finding(
        "fit-loose",
        "caution",
        (_ring(fit), _seat(bearing, fit)),
        f"The {name_of(_ring(fit))} is {state}, {amount} {place} {seat}: it will {harm} and wear it.",
        f"{_ring_minus_seat(fit)} = {_signed(fit.interference_mm)}; at least {limits.loose_below_mm:.3f}"
        f" ({limits.loose_rule}); usual {limits.usual_mm[0]:.2f} to {limits.usual_mm[1]:.2f}",
        limits.source,
        f"{MEASURE_AGAIN} If it stays so:{compound if fit.ring == 'outer' else ''} a new {seat}"
        f"{_class_in_words(bearing, fit)}.",
        _place(bearing, fit),
        values=_values(fit) | {"at_least_mm": limits.loose_below_mm},
    )


def _tight(job: Job, fit: FitResult, limits: FitLimits) -> Finding:
    bearing = job.section.bearing(fit.bearing)
    seat = name_of(_seat(bearing, fit))
    allowable, hoop = hoop_allowable_mpa(job, fit), fit.hoop_mpa or 0.0
    stressed = seat if fit.ring == "outer" else f"the {name_of(_ring(fit))}"
    stress = f"{hoop:.0f} MPa round {stressed}"
    if allowable is not None:
        stress += f", {100 * hoop / allowable:.0f} % of {allowable:.0f}"
    usual = sum(limits.usual_mm) / 2
    times = effective_mm(fit.interference_mm.expected) / effective_mm(usual) if usual > 0.0 else 0.0
    force = f" About {times:.1f} times the usual force." if times > 1.0 else ""
    place = "in" if fit.ring == "outer" else "on"
    return Finding(
        "fit-tight",
        "caution",
        (_ring(fit), _seat(bearing, fit)),
        f"The {name_of(_ring(fit))} is very tight: {_plain(fit.interference_mm.expected)} {place} {seat}.{force}",
        f"{_ring_minus_seat(fit)} = {_signed(fit.interference_mm)}; at most {limits.tight_above_mm:.3f}"
        f" ({limits.tight_rule}); {stress}"
        + (f"; force {_effective_sum(fit, usual)} = {times:.1f} times" if times > 1.0 else ""),
        f"{limits.source}; wall model and Lamé (computed), loss to roughness DIN 7190-1 (memory)",
        f"{MEASURE_AGAIN} Do not press on if the force climbs beyond its band. {warmth_in_words(job, fit)}",
        _place(bearing, fit),
        values=_values(fit) | {"at_most_mm": limits.tight_above_mm, "hoop_mpa": hoop},
    )


def _effective_sum(fit: FitResult, usual_mm: float) -> str:
    own = fit.interference_mm.expected
    lost, usual_lost = own - effective_mm(own), usual_mm - effective_mm(usual_mm)
    return f"({own:.3f} - {lost:.3f}) / ({usual_mm:.3f} - {usual_lost:.3f})"


def _undecided(job: Job, fit: FitResult, limits: FitLimits) -> list[Finding]:
    """A note where the doubt of the readings reaches past a limit that the expected figure keeps."""
    band = fit.interference_mm
    may_be_loose = limits.state_of(band.low) == "loose"
    if job.doubt_mm <= 0.0 or not (may_be_loose or limits.state_of(band.high) == "tight"):
        return []
    bearing = job.section.bearing(fit.bearing)
    what = "loose" if may_be_loose else "too tight"
    if may_be_loose and limits.state_of(band.high) == "tight":
        what = "loose or too tight"
    return [
        Finding(
            "fit-loose" if may_be_loose else "fit-tight",
            "note",
            (_ring(fit), _seat(bearing, fit)),
            f"The readings cannot tell whether the {name_of(_ring(fit))} is {what}:"
            f" {_plain(band.expected)}, by the readings {_plain(band.low)} to {_plain(band.high)}.",
            f"{_ring_minus_seat(fit)} = {band.expected:.3f}, {band.low:.3f} to {band.high:.3f};"
            f" right {limits.loose_below_mm:.3f} to {limits.tight_above_mm:.3f}",
            f"doubt of each reading ± {job.doubt_mm:.3f} (GUM); {limits.source}",
            MEASURE_AGAIN,
            _place(bearing, fit),
            values=_values(fit),
        )
    ]


def _clearance_lost(job: Job, fit: FitResult, left: Band) -> Finding:
    bearing = job.section.bearing(fit.bearing)
    m = measures(bearing)
    least, most = radial_clearance_um(bearing.clearance_group, m.bore_mm)
    outer, inner = outer_clearance_lost_um(job, bearing).expected, inner_clearance_lost_um(job, bearing).expected
    both = outer > 0.0 and inner > 0.0
    return Finding(
        "clearance-lost",
        "caution",
        (f"{bearing.id}.outer", f"{bearing.id}.inner"),
        f"{'Both fits take' if both else 'The fit takes'} all of the clearance of {bearing.id}:"
        f" {left.expected:.0f} µm left ({left.low:.0f} to {left.high:.0f}). The balls are squeezed before any load.",
        f"{bearing.clearance_group} {least:.0f} to {most:.0f} µm, middle {(least + most) / 2:.1f}"
        f" - {outer:.1f} (outer ring shrinks) - {inner:.1f} (inner ring grows) = {left.expected:.1f} µm",
        CLEARANCE_SOURCE,
        f"{_wider(bearing, m.bore_mm, left.expected)} {MEASURE_AGAIN} Feel that it turns freely once it is in.".strip(),
        _place(bearing, fit),
        values={"clearance_left_um": left.expected, "low_um": left.low, "high_um": left.high},
    )


def _wider(bearing: Bearing, bore_mm: float, left_um: float) -> str:
    """The next wider group and what it would leave, where it would leave something."""
    group = WIDER_GROUP.get(bearing.clearance_group)
    if group is None:
        return ""
    more_um = sum(radial_clearance_um(group, bore_mm)) / 2
    more_um -= sum(radial_clearance_um(bearing.clearance_group, bore_mm)) / 2
    if left_um + more_um < 0.0:
        return ""
    return f"A bearing of group {group} would keep {left_um + more_um:.0f} µm, if the maker of the hub allows it."


def _class_in_words(bearing: Bearing, fit: FitResult) -> str:
    """Bore that a new seat should have, for an outer ring."""
    outside = measures(bearing).outside_mm
    if fit.ring == "inner":
        return ""
    name = practice("housing", "turning, normal").tolerance_class
    try:
        lower, upper = deviations_um(name, outside)
    except OutOfRangeError:
        return ""
    return f" (bore {name}: {outside + lower / 1000:.3f} to {outside + upper / 1000:.3f})"


def _seat(bearing: Bearing, fit: FitResult) -> str:
    return bearing.housing if fit.ring == "outer" else bearing.axle or ""


def _ring(fit: FitResult) -> str:
    return f"{fit.bearing}.{fit.ring}"


def _ring_minus_seat(fit: FitResult) -> str:
    return "ring - bore" if fit.ring == "outer" else "axle - ring"


def _plain(interference_mm: float) -> str:
    if abs(interference_mm) < 0.0005:
        return "line to line"
    return f"{abs(interference_mm):.3f} {'tight' if interference_mm >= 0.0 else 'of air'}"


def _signed(band: Band) -> str:
    """The expected figure, with its band where it has one."""
    if band.high - band.low < 1e-9:
        return f"{band.expected:.3f}"
    return f"{band.expected:.3f} ({band.low:.3f} to {band.high:.3f})"


def _place(bearing: Bearing, fit: FitResult) -> Place:
    m = measures(bearing)
    return Place((m.outer_from_z_mm + m.outer_to_z_mm) / 2, m.outside_mm if fit.ring == "outer" else m.bore_mm)


def _values(fit: FitResult) -> dict[str, float]:
    band = fit.interference_mm
    return {"interference_mm": band.expected, "low_mm": band.low, "high_mm": band.high}
