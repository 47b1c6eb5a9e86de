"""How each figure of a step was reached, as paragraphs: the sum in words, and the number of its source."""

from itertools import groupby

from app.sheet.columns import Item
from app.sheet.instructions import NOT_COMPUTED, ball_loads
from geometry.check.finding import Finding
from geometry.check.friction import effective_mm, inner_strain_per_mm, outer_strain_per_mm
from geometry.check.in_words import fit_line, hand_line, share_in_words
from geometry.check.interference import inner_interference_band_mm, outer_interference_band_mm
from geometry.check.ledge_words import ledge_lines
from geometry.check.nut_face import nut_face_mm
from geometry.check.result import Band, FitResult, JobCheck, StepCheck, Utilisation
from geometry.check.thread_friction import in_thread, under_nut
from geometry.check.warmth import CAUTIONS
from geometry.check.wording import mm, name_of, newtons
from geometry.errors import InputError
from geometry.facts.friction import Friction, friction
from geometry.facts.materials import material
from geometry.facts.sources import sources_in_words
from geometry.facts.threads import property_class, thread
from geometry.job.job import Job, Step
from geometry.mechanics.thread import mean_face_diameter_mm, pitch_diameter_mm
from geometry.parts.forms import Rod
from geometry.section.bearing import measures

WALL_MODEL = (
    "wall model: ring and wall as beams on the foundation of their own hoop stiffness (Lamé), with shear, after the"
    " theory of shells (memory); own assembly, checked by finite elements in docs/verification.md"
)
ROUGHNESS = "U less 0.8 (Rz of ring + Rz of bore), DIN 7190-1 (memory); at least a quarter is counted"
SPREAD = (
    "independent causes, friction, roughness and doubt of sizes, their logarithms added in squares; GUM (JCGM"
    " 100:2008), half-widths of 95 %"
)
NETWORK = "contact network: faces, fits and balls as springs, solved at each place of the travel (computed)"
TORQUE = "M = F (0.159 P + 0.578 d2 mu + Dm/2 mu'), VDI 2230 part 1; each end of the band with its own friction"
HAND = "torque over the lever; 250 N is what one hand pulls steadily (common practice)"
BALLS = (
    "ball row after Hertz with the typical clearance (computed); groove depths 0.12 to 0.22 of the ball; dent at"
    " 4200 MPa (ISO 76)"
)
WARMTH = "limit of 80 °C: general bearing catalogue, PUB 17000 p. 203"
LEAST_N = 1.0
"""Forces through balls below this are no more than rounding."""
TABLES = {
    "facts/materials.csv": "the table of materials",
    "facts/property_classes.csv": "the table of rod classes",
    "facts/bearings.csv": "the table of bearings",
    "facts/fits.csv": "the table of fits",
    "facts/friction.csv": "the table of frictions",
}
"""Files of reference values as a reader of paper would call them."""
TOLD_SHARE = 0.02
"""A member that is used less than this is only named."""
ROD = "both nuts full of thread at the longest moment (common practice)"


class SourceList:
    """Sources in the order in which they were first cited, each under one number."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}

    def cite(self, *sources: str) -> str:
        """' [3, 7]', or nothing where no source was given."""
        named = [_with_tables_named(one).rstrip(".") for one in sources if one]
        found = [self._numbers.setdefault(one, len(self._numbers) + 1) for one in named]
        return f" [{', '.join(str(number) for number in dict.fromkeys(found))}]" if found else ""

    def items(self) -> tuple[Item, ...]:
        """The list itself."""
        return tuple(Item(f"{one}.", marker=f"[{number}]") for one, number in self._numbers.items())


def _with_tables_named(source: str) -> str:
    for file, words in TABLES.items():
        source = source.replace(file, words)
    return source


def force_lines(job: Job, step: Step, check: StepCheck, sources: SourceList) -> list[Item]:
    """The press force: grip of each fit, friction, what the whole press makes of it, and the band."""
    band = check.force_n
    if band is None:
        return [Item(f"Press force: {NOT_COMPUTED}.")]
    if step.press_force_n is not None:
        return [Item(f"Press force: {newtons(step.press_force_n)}, as stated in the job; fits are not asked.")]
    mu = friction("press in" if step.operation == "press in" else "pull out")
    grips = [grip for id in step.bearings for grip in _grips(job, id)]
    lines = [Item(f"{words}.{sources.cite(WALL_MODEL, ROUGHNESS)}") for words, _ in grips]
    held = sum(force for _, force in grips)
    if held > 0.0:
        by_hand = f"Friction {_mu(mu)} x {newtons(held)} = {newtons(mu.expected * held)}."
        lines.append(Item(f"{by_hand}{_cited(sources, mu)}"))
    said = f"Press force: {_forces(band)} where most is needed on the way, with all that touches and gives there"
    return [*lines, Item(f"{said}.{sources.cite(NETWORK, SPREAD)}", bold=True)]


def _grips(job: Job, id: str) -> list[tuple[str, float]]:
    """Each tight fit of a bearing in words, and its radial force at home [N]."""
    bearing = job.section.bearing(id)
    fits = [("outer", outer_interference_band_mm(job, bearing), job.section.body(bearing.housing), outer_strain_per_mm)]
    if bearing.axle is not None:
        axle = job.section.body(bearing.axle)
        fits.append(("inner", inner_interference_band_mm(job, bearing), axle, inner_strain_per_mm))
    found = []
    for ring, tight, body, strain_per_mm in fits:
        left = effective_mm(tight.expected)
        if left > 0.0:
            force = left * strain_per_mm(body, bearing).force_n
            words = f"{name_of(f'{id}.{ring}')} in" if ring == "outer" else f"{name_of(f'{id}.{ring}')} on"
            sum_ = f"{tight.expected:.3f} tight, {left:.4f} left once the faces are smooth: grips with {newtons(force)}"
            found.append((f"{words[:1].upper()}{words[1:]} {body.title}: {sum_}", force))
    return found


def torque_lines(job: Job, step: Step, check: StepCheck, sources: SourceList) -> list[Item]:
    """The torque at the turned nut with the figures put in."""
    torque, force = check.torque_nm, check.force_n
    nut = next((one for one in check.things if one.id == check.force_path[0]), None) if check.force_path else None
    if torque is None or force is None or nut is None or step.stack.rod is None:
        return [Item(f"Torque at the nut: {NOT_COMPUTED}.")]
    size = thread(job.part(step.stack.rod).thread or "")
    greased = in_thread(job, step)
    under = under_nut(job, step, nut.id)
    d2 = pitch_diameter_mm(nominal_mm=size.major_mm, pitch_mm=size.pitch_mm)
    outside, inside = nut_face_mm(job.part(nut.id.split("@")[0]))
    face = mean_face_diameter_mm(outside_mm=outside, bore_mm=inside)
    sum_ = (
        f"{newtons(force.expected)} x (0.159 x {size.pitch_mm:g} + 0.578 x {d2:.2f} x {greased.expected:g}"
        f" + {face:.2f}/2 x {under.expected:g}) mm = {torque.expected:.2g} Nm"
    )
    said = f"Torque at the nut: {torque.expected:.2g} Nm, {torque.low:.2g} to {torque.high:.2g} Nm"
    friction_words = f"Friction in the thread {_mu(greased)}, under the nut {_mu(under)}."
    return [
        Item(f"{sum_}.{sources.cite(TORQUE)}"),
        Item(f"{friction_words}{_cited(sources, greased, under)}"),
        Item(f"{said}.", bold=True),
        *([Item(f"{hand}.{sources.cite(HAND)}")] if (hand := hand_line(check)) else []),
    ]


def _mu(mu: Friction) -> str:
    return f"{mu.expected:g} ({mu.low:g} to {mu.high:g})"


def _cited(sources: SourceList, *frictions: Friction) -> str:
    found = [(f"{sources_in_words(mu.source)} ({mu.certainty})", _band_source(mu)) for mu in frictions]
    return sources.cite(*(one for pair in found for one in pair))


def _band_source(mu: Friction) -> str:
    return f"band of friction: {sources_in_words(mu.band_source)} ({mu.band_certainty})" if mu.band_source else ""


def _forces(band: Band) -> str:
    return f"{newtons(band.expected)}, {newtons(band.low)} to {newtons(band.high)}"


def ball_lines(job: Job, check: StepCheck, sources: SourceList) -> list[Item]:
    """What crosses the balls of each bearing, and how far that is from harm."""
    lines = []
    for id, margin in check.ball_margins.items():
        size = measures(job.section.bearing(id)).size
        rated = f"lowest C0: {sources_in_words(size.source)}" if size is not None and size.c0_n is not None else ""
        rows = (
            f"{newtons(margin.load_per_ball_n)} per ball at {margin.contact_angle_deg:.0f}°,"
            f" {margin.peak_mpa:.0f} MPa at most"
        )
        lines.append(Item(f"Balls of {id}: {ball_loads(check, id)}{margin.words} {rows}.{sources.cite(BALLS, rated)}"))
    for id, forces in (check.force_travel.balls_n if check.force_travel is not None else {}).items():
        if id not in check.ball_margins and max(forces, default=0.0) >= LEAST_N:
            said = f"Balls of {id}: none on the way, {newtons(max(forces))} at its end"
            lines.append(Item(f"{said}.{sources.cite(NETWORK)}"))
    return lines or [Item("No force crosses the balls of a bearing.")] if check.bearings else []


def hooked_lines(check: StepCheck, sources: SourceList) -> list[Item]:
    """The ledge that a part is hooked behind, and the pull off the axis."""
    if check.ledge is None:
        return []
    return [Item(f"{line.text}{sources.cite(line.source)}") for line in ledge_lines(check.ledge)]


def strength_lines(check: StepCheck, sources: SourceList) -> list[Item]:
    """Each member that is used, the most used first: share, share at the high end, sum and source; the rest by name."""
    ordered = sorted(check.strength, key=lambda one: -one.share)
    told = [one for one in ordered if one.share >= TOLD_SHARE] or ordered[:1]
    lines = []
    for _, same in groupby(told, key=lambda one: (one.share, one.sum, one.source)):
        rows = tuple(same)
        who = "; ".join(_member(one) for one in rows)
        high = f"{share_in_words(rows[0].share_high)} at the highest force"
        text = f"{who}: {rows[0].sum}; {high}.{sources.cite(rows[0].source)}"
        lines.append(Item(text, marker=share_in_words(rows[0].share)))
    little = [_member(one) for one in ordered[len(told) :]]
    if little:
        lines.append(Item(f"Below {100 * TOLD_SHARE:g} %: {'; '.join(little)}."))
    return lines


def _member(one: Utilisation) -> str:
    who = name_of(one.member)
    return one.what if who in one.what else f"{who}, {one.what}"


def fit_lines(check: StepCheck, sources: SourceList) -> list[Item]:
    """How each ring sits."""
    return [Item(f"{_fit(one)}.{sources.cite(one.source)}") for one in check.fits]


def warmth_lines(check: JobCheck, sources: SourceList) -> list[Item]:
    """What to mind where warmth is thought of; nothing where no fit would come free by it."""
    if not any(fit.free_at_k is not None for step in check.steps for fit in step.fits):
        return []
    return [Item(f"Warmth. {CAUTIONS}{sources.cite(WARMTH)}")]


def _fit(one: FitResult) -> str:
    line = fit_line(one)
    stretched = "seat wall" if one.ring == "outer" else "ring"
    hoop = f"; {stretched} stretched to {one.hoop_mpa:.0f} MPa" if one.hoop_mpa is not None else ""
    return f"{line[:1].upper()}{line[1:]}{hoop}"


def rod_lines(check: StepCheck, sources: SourceList) -> list[Item]:
    """The length of rod that the stack asks for."""
    use = check.rod
    if use is None:
        return [Item(f"Rod: {NOT_COMPUTED}.")]
    nuts = use.needed_mm - use.between_nuts_start_mm
    spare = f"{mm(use.spare_mm)} to spare" if use.spare_mm >= 0.0 else f"{mm(-use.spare_mm)} too short"
    sum_ = (
        f"Rod: {mm(use.between_nuts_start_mm)} between the nuts at the start + {mm(nuts)} of nuts"
        f" = {mm(use.needed_mm)}; rod {mm(use.length_mm)}: {spare}"
    )
    return [Item(f"{sum_}.{sources.cite(ROD)}")]


def finding_lines(letters: tuple[str, ...], findings: tuple[Finding, ...], sources: SourceList) -> list[Item]:
    """The sum behind each finding, or its words where it has none; letters as on the page of the step."""
    return [
        Item(f"{(one.sum or one.message).rstrip('.')}.{sources.cite(one.source)}", marker=letter)
        for letter, one in zip(letters, findings, strict=True)
    ]


def value_lines(job: Job, sources: SourceList) -> list[Item]:
    """The values of materials and rods that the sums of all steps stand on."""
    named = {body.material for body in job.section.bodies} | {
        job.part(one.part).material for step in job.steps for one in step.stack.parts
    }
    lines = [line for name in sorted(named) for line in _material_line(name, sources)]
    for id in dict.fromkeys(step.stack.rod for step in job.steps if step.stack.rod):
        lines += _rod_line(job, id, sources)
    return lines


def _material_line(name: str, sources: SourceList) -> list[Item]:
    try:
        facts = material(name)
    except InputError:
        return [Item(f"{name or 'Material not stated'}: no values, so it was not judged.")]
    said = [f"E {facts.youngs_modulus_mpa / 1000:g} GPa"]
    if facts.yield_mpa is not None:
        said.append(f"yield {facts.yield_mpa:g} MPa")
    if facts.allowable_face_pressure_mpa is not None:
        said.append(f"on a face {facts.allowable_face_pressure_mpa:g} MPa")
    values = f"{sources_in_words(facts.source)} ({facts.certainty})"
    face = f"face pressure: {sources_in_words(facts.face_pressure_source)}" if facts.face_pressure_source else ""
    return [Item(f"{name} ({facts.standard_material}): {', '.join(said)}.{sources.cite(values, face)}")]


def _rod_line(job: Job, id: str, sources: SourceList) -> list[Item]:
    part = job.part(id)
    try:
        assert isinstance(part.form, Rod)
        size = thread(part.form.thread)
        strength = property_class(part.form.property_class, major_mm=size.major_mm)
    except InputError:
        return [Item(f"Rod {id}: class not known, taken as the weakest of the trade.")]
    said = f"proof stress {strength.proof_mpa:g} MPa, stress area {size.stress_area_mm2:g} mm²"
    cited = sources.cite(sources_in_words(strength.source), sources_in_words(size.source))
    return [Item(f"Rod {id}, {size.name}, class {strength.name}: {said}.{cited}")]
