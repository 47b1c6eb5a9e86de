"""Strength of the rod and of the threads in its nuts, and what the turned nut asks of a hand."""

from math import ceil, inf

from geometry.check.finding import Finding, Place
from geometry.check.member import Member, material_or_none
from geometry.check.result import Band, Thing, Utilisation
from geometry.check.thread_friction import GALLS, in_thread, is_stainless
from geometry.check.wording import mm, name_of, newtons
from geometry.errors import InputError
from geometry.facts.friction import Friction, friction
from geometry.facts.materials import material
from geometry.facts.threads import PropertyClass, Thread, property_class, thread, thread_names
from geometry.job.job import Job, Step
from geometry.mechanics.rod import pulled_and_twisted_mpa, thread_holds_n
from geometry.parts.forms import Handle, Nut, Rod
from geometry.record import Derived
from geometry.stack.scene import Scene

UNMARKED = "unmarked"
MARKED = ("8.8", "10.9", "12.9")
"""Classes in which threaded rod is sold with a mark on its end (common practice)."""
SLIP_SHARE = 0.5
"""A slip nut has thread over part of its round only: half of a whole nut (common practice)."""
LEAST_ENGAGED_MM = 0.1
WRENCH_MM = 200.0
HAND_N = 250.0
"""What one hand pulls on a wrench without jerking (common practice)."""
NORMAL_PULL_N, LIGHT_PULL_N = 100.0, 25.0


class _RodFacts(Derived, frozen=True):
    thread: Thread
    strength: PropertyClass
    named: str
    """The property class in words."""
    friction: Friction


def rod_members(job: Job, step: Step, scene: Scene, force: Band) -> list[Member]:
    """Tension of the rod with the torsion of its thread, and the thread in each nut that the rod reaches."""
    facts = _rod_facts(job, step)
    if facts is None:
        return []
    members = [_rod_row(facts, force, job.limits.utilisation_caution)]
    rod = scene.thing("rod")
    for id in (scene.driver, scene.anchor):
        if id is not None and job.part(id.split("@")[0]).thread is not None:
            nut = scene.thing(id)
            if min(nut.right_mm, rod.right_mm) - max(nut.left_mm, rod.left_mm) > LEAST_ENGAGED_MM:
                members.append(_thread_row(job, facts, nut, rod, force))
    return members


def _rod_facts(job: Job, step: Step) -> _RodFacts | None:
    rod = job.part(step.stack.rod) if step.stack.rod is not None else None
    if rod is None or not isinstance(rod.form, Rod):
        return None
    try:
        rod_thread = thread(rod.form.thread)
    except InputError:
        return None
    named = f"class {rod.form.property_class}"
    try:
        strength = property_class(rod.form.property_class, major_mm=rod_thread.major_mm)
    except InputError:
        strength = property_class(UNMARKED, major_mm=rod_thread.major_mm)
        named = "no known class"
    if strength.proof_mpa == property_class(UNMARKED, major_mm=rod_thread.major_mm).proof_mpa:
        named = "class 4.6, as of any rod without a mark"
    return _RodFacts(rod_thread, strength, named, in_thread(job, step))


def _rod_row(facts: _RodFacts, force: Band, caution: float) -> Member:
    size, proof = facts.thread, facts.strength.proof_mpa

    def stress(force_n: float, in_thread: float, of: Thread = size) -> float:
        return pulled_and_twisted_mpa(
            force_n=force_n, nominal_mm=of.major_mm, pitch_mm=of.pitch_mm, thread_friction=in_thread
        )

    expected = stress(force.expected, facts.friction.expected)
    high = stress(force.high, facts.friction.high)
    tension = force.expected / size.stress_area_mm2
    sum_ = (
        f"{newtons(force.expected)} / {size.stress_area_mm2:.1f} mm² = {tension:.0f} MPa, with torsion"
        f" {expected:.0f} MPa; {100 * expected / proof:.0f} % of {proof:.0f} MPa ({facts.named})"
    )
    wanted = expected / caution
    classes = [property_class(name, major_mm=size.major_mm) for name in MARKED]
    stronger = next((one for one in classes if one.proof_mpa >= wanted), None)
    thicker = next(
        (
            one.name
            for one in (thread(name) for name in thread_names())
            if stress(force.expected, facts.friction.expected, one) <= caution * proof
        ),
        None,
    )
    ways = [f"marked {stronger.name}"] if stronger else []
    ways += [f"of {thicker} in the same class"] if thicker else []
    return Member(
        Utilisation(
            "rod", "tension of the rod with torsion", expected, proof, "MPa", expected / proof, high / proof, sum_,
            "tension with torsion: VDI 2230; proof stress of the class: ISO 898-1 (facts/property_classes.csv)",
        ),
        "rod-overstressed",
        f"The rod, {size.name} of {facts.named}: {expected:.0f} MPa of tension and torsion; its proof stress is"
        f" {proof:.0f}.",
        f"Use a rod {' or '.join(ways)}." if ways else "Ease the fit first: warm the housing.",
    )  # fmt: skip


def _thread_row(job: Job, facts: _RodFacts, nut: Thing, rod: Thing, force: Band) -> Member:
    part = job.part(nut.id.split("@")[0])
    yields = _nut_yield_mpa(part.material)
    length = nut.right_mm - nut.left_mm
    engaged = min(nut.right_mm, rod.right_mm) - max(nut.left_mm, rod.left_mm)
    slip = isinstance(part.form, Nut) and part.form.slip
    size = facts.thread
    holds = thread_holds_n(
        nominal_mm=size.major_mm, pitch_mm=size.pitch_mm, engaged_mm=engaged, rod_proof_mpa=facts.strength.proof_mpa,
        nut_yield_mpa=yields,
    )  # fmt: skip
    weaker = "the rod" if holds[0] <= holds[1] else "the nut"
    bears = min(holds) * (SLIP_SHARE if slip else 1.0)
    share = force.expected / bears
    of_it = f", half of it for a slip nut = {newtons(bears)}" if slip else ""
    enough = engaged * share / job.limits.utilisation_caution
    sum_ = (
        f"{mm(engaged)} of {mm(length)} engaged; the thread of {weaker} begins to shear"
        f" at {newtons(min(holds))}{of_it}; {newtons(force.expected)} is {100 * share:.0f} %"
    )
    way_out = f"Use a nut with at least {mm(enough)} mm of thread on the rod"
    return Member(
        Utilisation(
            nut.id, "thread of the slip nut" if slip else "thread in the nut", force.expected, bears, "N", share,
            share * force.high / max(force.expected, 1e-9), sum_,
            "shear area of the weaker thread, a fifth off for tolerances (memory)"
            + ("; a slip nut counts half (common practice)" if slip else ""),
        ),
        "thread-engagement",
        f"The thread in {name_of(nut.id)} bears {newtons(bears)}; the press takes {newtons(force.expected)}.",
        f"{way_out}{', or a whole nut' if slip else ''}.",
        Place((nut.left_mm + nut.right_mm) / 2, size.major_mm),
        bodies=(nut.id, "rod"),
    )  # fmt: skip


def _nut_yield_mpa(name: str) -> float:
    """Yield of a nut; of mild steel where the material of the part is not known."""
    facts = material_or_none(name) or material("steel")
    return facts.yield_mpa or facts.allowable_face_pressure_mpa or inf


def hand_member(job: Job, scene: Scene, torque: Band | None) -> Member | None:
    """What the turned nut asks of the hand: pull on a wrench of 0.2 m, or on each end of its own handle."""
    if torque is None or scene.driver is None:
        return None
    part = job.part(scene.driver.split("@")[0])
    lever = part.form.swing_mm if isinstance(part.form, Handle) else WRENCH_MM
    what = (
        f"pull of each hand on a handle of {mm(lever)} mm" if isinstance(part.form, Handle)
        else f"pull on a wrench of {mm(lever)} mm"
    )  # fmt: skip
    pull = 1000 * torque.expected / lever
    sum_ = f"{torque.expected:.1f} Nm / {lever / 1000:.2f} m = {pull:.0f} N: {pull_in_words(pull)}"
    asked = max(torque.expected / job.limits.utilisation_caution, torque.high)
    longer = 10 * ceil(100 * asked / HAND_N)
    return Member(
        Utilisation(
            scene.driver, what, pull, HAND_N, "N", pull / HAND_N, 1000 * torque.high / lever / HAND_N, sum_,
            "torque over the lever; 250 N is what one hand pulls steadily (common practice)",
        ),
        "torque-high",
        f"The nut asks for {torque.expected:.1f} Nm: {pull_in_words(pull)}.",
        f"Grease the thread, put a thrust bearing under the nut (about half the torque), or use a wrench of"
        f" {longer} mm. If it is harder than that, stop: something is in the way.",
        is_with_force=False,
        torque_nm=torque.expected,
    )  # fmt: skip


def pull_in_words(pull_n: float) -> str:
    """How a pull on the wrench feels."""
    if pull_n < LIGHT_PULL_N:
        return "two fingers turn it"
    if pull_n < NORMAL_PULL_N:
        return "an easy pull of one hand"
    return "a hard pull of one hand" if pull_n < HAND_N else "both hands, leaning on the wrench"


def galling_findings(job: Job, step: Step, scene: Scene) -> list[Finding]:
    """Stainless or titanium thread in its like: dry, it seizes."""
    rod = job.part(step.stack.rod) if step.stack.rod is not None else None
    if rod is None or not isinstance(rod.form, Rod) or scene.driver is None:
        return []
    nut = job.part(scene.driver.split("@")[0])
    rod_galls = rod.material in GALLS or is_stainless(rod.form)
    if not rod_galls or nut.material not in GALLS or nut.thread is None:
        return []
    dry, oiled = friction("thread stainless dry"), friction("thread stainless oiled")
    of_rod = rod.material if rod.material in GALLS else GALLS[0]
    return [
        Finding(
            "galling",
            "caution",
            (scene.driver, "rod"),
            f"The nut is of {nut.material} and the rod of {of_rod}: turned under load they can seize.",
            f"friction in the thread {oiled.low:g} to {oiled.high:g} with oil, {dry.low:g} to {dry.high:g} dry",
            "ISO 3506-1:2020, 6.3, recommends lubricating stainless fasteners; friction: facts/friction.csv",
            "Put paste or grease for stainless threads on the thread and under the nut, turn slowly, or use a nut of"
            " brass or steel.",
            Place((scene.thing(scene.driver).left_mm + scene.thing(scene.driver).right_mm) / 2, rod.form.diameter_mm),
        )
    ]
