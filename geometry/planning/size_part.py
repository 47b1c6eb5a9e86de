"""Size a part: dimensions, tolerances, material and cost of the part that makes a step work, verified by the check.

drafts -> first complete stack that the check accepts -> cheapest material -> window of each dimension and the best
place in it -> tolerances -> both limits of all of them checked again
"""

from collections.abc import Callable
from itertools import islice

from msgspec.structs import replace

from geometry.check.wording import mm
from geometry.errors import RingpathError
from geometry.facts.workshop import ShopPrices, shop_prices, turned_materials
from geometry.job.measured import job_as_measured
from geometry.parts.part import ToolPart
from geometry.parts.tolerance import with_tolerances
from geometry.parts.tool_set import ToolSet
from geometry.planning.clamping import rod_families
from geometry.planning.cost import cost_of
from geometry.planning.faces import holding_faces, pushing_faces
from geometry.planning.free_zone import FreeZone, zone_of_all
from geometry.planning.part_dimensions import LENGTHS, WORDS, dimensions_of, value_of
from geometry.planning.part_drafts import NEW_PART, Draft, drafts
from geometry.planning.part_limits import Window, Windows, common_window, window_of
from geometry.planning.part_names import form_in_words, named, with_material
from geometry.planning.part_tolerances import best_in, tolerance_for
from geometry.planning.part_trial import PartTrial, tried, with_dimensions
from geometry.planning.score import VERDICTS
from geometry.planning.search import WITHOUT_PARTS, bare_job
from geometry.planning.situation import situation_of
from geometry.planning.size_doubt import DoubtOf, doubt_of
from geometry.planning.size_proof import against, checked, corners, utilisation
from geometry.planning.sized_part import NotSized, Served, SizedDimension, SizedPart, Task, tolerances_of

PART_ROLES = ("pusher", "support", "guide", "tube")
MOST_DRAFTS = 8
BATCH = 10
WEAK_PART = "part-overstressed"
"""What the check says of a part too weak for its force."""
Progress = Callable[[str, float], None]


def size_part(
    tasks: tuple[Task, ...],
    tool_set: ToolSet,
    *,
    role: str | None = None,
    prices: ShopPrices | None = None,
    batch: int = BATCH,
    progress: Progress | None = None,
) -> SizedPart | NotSized:
    """The part that makes all steps work together with the parts of a set; or why there is none.

    `role`: pusher, support, guide or tube; left out: the first of them that makes the steps work best.
    """
    tell = progress or _silent
    parts = tuple(part for part in tool_set.parts if part.stock > 0)
    plain = tuple(Task(job_as_measured(task.job), task.step) for task in tasks)
    reasons: list[str] = []
    best: SizedPart | None = None
    for name in (role,) if role is not None else _roles(plain[0], parts):
        found = _sized(tasks, plain, tool_set, parts, name, prices or shop_prices(), batch, tell)
        if isinstance(found, NotSized):
            reasons += found.reasons
        elif best is None or _rank(found) < _rank(best):
            best = found
        if best is not None and not _avoidable(best):
            break
    return best or NotSized(role or "part", tuple(dict.fromkeys(reasons)))


def _rank(one: SizedPart) -> tuple[bool, int, float]:
    return not one.is_verified, _avoidable(one), one.cost.each


def _avoidable(one: SizedPart) -> int:
    """Cautions that another part might not have."""
    return sum(_said(served.trial) for served in one.served)


def _said(trial: PartTrial) -> int:
    return len(set(trial.accepted) - WITHOUT_PARTS)


def _roles(task: Task, parts: tuple[ToolPart, ...]) -> tuple[str, ...]:
    """Duties that no part at hand can do, else all."""
    situation = situation_of(bare_job(task.job, task.step, parts), task.step)
    if not any(pushing_faces(situation, parts)):
        return ("pusher",)
    if not any(holding_faces(situation, parts)):
        return ("support",)
    return PART_ROLES


def _sized(
    tasks: tuple[Task, ...],
    plain: tuple[Task, ...],
    tool_set: ToolSet,
    parts: tuple[ToolPart, ...],
    role: str,
    prices: ShopPrices,
    batch: int,
    tell: Progress,
) -> SizedPart | NotSized:
    """`plain`: the same steps with the sections as measured."""
    found: list[tuple[Draft, PartTrial]] = []
    for task in plain:
        first = _first_that_works(task, parts, role, tell)
        if first is None:
            return NotSized(role, (_why_none(task, parts, role),))
        found.append(first)
    trials = tuple(trial for _, trial in found)
    if len({type(trial.part.form) for trial in trials}) > 1:
        forms = "; ".join(f"{trial.job.title}: {form_in_words(trial.part)}" for trial in trials)
        return NotSized(role, (f"The jobs ask for parts of different forms as a {role} ({forms}).",))
    doubt = doubt_of(task.job for task in tasks)
    one_part = _one_part(trials, doubt)
    if isinstance(one_part, NotSized):
        return one_part
    tell("material", 0.3)
    trials, _ = _with_material(tasks, one_part, prices, batch)
    windows = Windows()
    trials = _at_best_places(trials, windows, doubt, tell)
    trials, material_words = _with_material(tasks, trials, prices, batch)  # its best places may ask for a stronger one
    dimensions = _dimensions(trials, windows, doubt, tell)
    zone = _zone_of(tuple(draft for draft, _ in found))
    return _proved(tasks, trials, tool_set, dimensions, role, material_words, zone, prices, batch, tell)


def resized(
    before: SizedPart,
    part: ToolPart,
    tool_set: ToolSet,
    *,
    prices: ShopPrices | None = None,
    batch: int = BATCH,
    progress: Progress | None = None,
) -> SizedPart:
    """The sized part with other dimensions or of another material, its windows and its proof worked out anew.

    Where the check is less content with it, the windows stay as they were and the corners say what is wrong.
    """
    tell = progress or _silent
    tasks = tuple(Task(one.job, one.step) for one in before.served)
    trials = tuple(one.trial.renamed(replace(part, id=NEW_PART)) for one in before.served)
    if all(trial.worse() is None for trial in trials):
        dimensions = _dimensions(trials, Windows(), doubt_of(task.job for task in tasks), tell)
    else:
        dimensions = tuple(_kept(one, trials[0]) for one in before.dimensions)
    words = before.material_words if part.material == before.part.material else f"{part.material}: chosen by hand"
    return _proved(
        tasks, trials, tool_set, dimensions, before.role, words, before.zone, prices or shop_prices(),
        batch, tell,
    )  # fmt: skip


def _kept(before: SizedDimension, trial: PartTrial) -> SizedDimension:
    """A dimension with its old window at its new value."""
    value = value_of(trial.part, before.name)
    is_located = _is_located(trial, before.name)
    tolerance = tolerance_for(before.window, value, doubt_mm=before.doubt_mm, is_located=is_located)
    return replace(before, value_mm=value, tolerance=tolerance)


def _proved(
    tasks: tuple[Task, ...],
    trials: tuple[PartTrial, ...],
    tool_set: ToolSet,
    dimensions: tuple[SizedDimension, ...],
    role: str,
    material_words: str,
    zone: FreeZone | None,
    prices: ShopPrices,
    batch: int,
    tell: Progress,
) -> SizedPart:
    """The part with its name, its cost, its checks at home and at the limits of its tolerances."""
    fine = sum(1 for one in dimensions if one.tolerance.is_fine)
    cost = cost_of(trials[0].part, prices, batch=batch, fine_diameters=fine)
    part = with_tolerances(named(trials[0].part, tool_set, price=cost.each), tolerances_of(dimensions))
    tell("corners of the tolerances", 0.9)
    proof = corners(trials, dimensions)
    trials = tuple(trial.renamed(part) for trial in trials)
    served = tuple(
        Served(task.job, task.step, trial, checked(task, trial)) for task, trial in zip(tasks, trials, strict=True)
    )
    return SizedPart(
        role=role,
        part=part,
        dimensions=dimensions,
        material_words=material_words,
        utilisation=utilisation(part, served),
        cost=cost,
        served=served,
        corners=proof,
        zone=zone,
    )


def _zone_of(found: tuple[Draft, ...]) -> FreeZone | None:
    zones = [draft.zone for draft in found if draft.zone is not None]
    if len(zones) < len(found):
        return None
    return zones[0] if len(zones) == 1 else zone_of_all(tuple(zones))


def _first_that_works(
    task: Task, parts: tuple[ToolPart, ...], role: str, tell: Progress
) -> tuple[Draft, PartTrial] | None:
    """The first draft of which nothing is said that another part could mend; else the one with the least said."""
    situation = situation_of(bare_job(task.job, task.step, parts), task.step)
    families = rod_families(parts, opening_mm=situation.rod_opening_mm)
    best: tuple[Draft, PartTrial] | None = None
    for number, draft in enumerate(islice(drafts(situation, role, families), MOST_DRAFTS)):
        tell(f"step {task.step + 1}, a {role}: draft {number + 1}", 0.3 * number / MOST_DRAFTS)
        trial = tried(task.job, task.step, parts, draft.part, role)
        if trial is None:
            continue
        if best is None or (trial.rank, _said(trial)) < (best[1].rank, _said(best[1])):
            best = draft, trial
        if not _said(trial) and VERDICTS[trial.rank] != "cannot tell":
            break
    return best


def _why_none(task: Task, parts: tuple[ToolPart, ...], role: str) -> str:
    situation = situation_of(bare_job(task.job, task.step, parts), task.step)
    families = rod_families(parts, opening_mm=situation.rod_opening_mm)
    where = f"step {task.step + 1} of {task.job.title}"
    if not families:
        opening = mm(situation.rod_opening_mm)
        return f"No rod of the set with two nuts passes the opening of {opening} mm in {where}."
    if next(drafts(situation, role, families), None) is None:
        return f"In {where} there is no face that a {role} could stand on, or no room beside the rod."
    lacking = [
        word
        for other, word, faces in (("pusher", "pushes", pushing_faces), ("support", "holds", holding_faces))
        if other != role and not any(faces(situation, parts))
    ]
    also = f"; besides, no part of the set {' or '.join(lacking)} there" if lacking else ""
    return f"In {where} no stack of the set works with a {role} of any size that was tried{also}."


def _one_part(trials: tuple[PartTrial, ...], doubt: DoubtOf) -> tuple[PartTrial, ...] | NotSized:
    """One part in all stacks: of each dimension what the windows of all steps have in common."""
    if len(trials) == 1:
        return trials
    values = []
    for name in dimensions_of(trials[0].part):
        window = common_window(tuple(window_of(trial, name) for trial in trials))
        if window.least.value_mm > window.most.value_mm and not (window.least.is_open or window.most.is_open):
            return NotSized(trials[0].role, (_apart(window),))
        starts = [value_of(trial.part, name) for trial in trials]
        start = max(starts) if name in LENGTHS else starts[0]
        values.append((name, best_in(window, start, doubt_mm=doubt(window), is_snug=_is_snug(trials[0], name))))
    part = with_dimensions(trials[0].part, values)
    if part is None:
        return NotSized(trials[0].role, ("A part with the dimensions that all jobs ask for would be no solid.",))
    changed = tuple(trial.with_part(part) for trial in trials)
    for trial in changed:
        finding = trial.worse()
        if finding is not None:
            return NotSized(trial.role, (f"One part for all does not do in {trial.job.title}: {finding.message}",))
    return changed


def _apart(window: Window) -> str:
    words = WORDS[window.dimension]
    return (
        f"The jobs ask for different parts: {words} at least {mm(window.least.value_mm)} for {window.least.job}"
        f" ({window.least.sets}), at most {mm(window.most.value_mm)} for {window.most.job} ({window.most.sets})."
    )


def _with_material(
    tasks: tuple[Task, ...], trials: tuple[PartTrial, ...], prices: ShopPrices, batch: int
) -> tuple[tuple[PartTrial, ...], str]:
    """The cheapest material of which the check says nothing more; one that is not too weak, where there is one."""
    costs: list[tuple[float, str]] = []
    for stock in turned_materials():
        try:
            cost = cost_of(with_material(trials[0].part, stock.material), prices, batch=batch)
        except RingpathError:
            continue
        costs.append((cost.each, stock.material))
    strict = tuple(trial.accepting_all_but(WEAK_PART) for trial in trials)
    for stacks in (strict, trials):
        refused: list[str] = []
        for _, name in sorted(costs):
            changed = tuple(trial.with_part(with_material(trial.part, name)) for trial in stacks)
            pairs = zip(tasks, changed, strict=True)
            finding = next((one for task, trial in pairs if (one := against(task, trial)) is not None), None)
            if finding is None:
                too_weak = f"; cheaper but not enough: {'; '.join(refused)}" if refused else ""
                return changed, f"{name}: the cheapest that holds{too_weak}"
            refused.append(f"{name} ({finding.message.rstrip('.')})")
    return trials, f"{trials[0].part.material}: none cheaper holds"


def _at_best_places(
    trials: tuple[PartTrial, ...], windows: Windows, doubt: DoubtOf, tell: Progress
) -> tuple[PartTrial, ...]:
    """Each dimension moved to the best place of its window, one after the other, where the check stays content."""
    names = dimensions_of(trials[0].part)
    for number, name in enumerate(names):
        tell(WORDS[name], 0.3 + 0.3 * number / len(names))
        start = value_of(trials[0].part, name)
        window = windows.of(trials, name)
        value = best_in(window, start, doubt_mm=doubt(window), is_snug=_is_snug(trials[0], name))
        part = with_dimensions(trials[0].part, [(name, value)])
        if part is None or abs(value - start) < 1e-9:
            continue
        moved = tuple(trial.with_part(part) for trial in trials)
        if all(trial.is_as_good() for trial in moved):
            trials = moved
    return tuple(trial.settled() for trial in trials)


def _dimensions(
    trials: tuple[PartTrial, ...], windows: Windows, doubt: DoubtOf, tell: Progress
) -> tuple[SizedDimension, ...]:
    found = []
    names = dimensions_of(trials[0].part)
    for number, name in enumerate(names):
        words = WORDS[name]
        tell(f"limits of {words}", 0.6 + 0.3 * number / len(names))
        window = windows.of(trials, name)
        value = value_of(trials[0].part, name)
        doubt_mm = doubt(window)
        tolerance = tolerance_for(window, value, doubt_mm=doubt_mm, is_located=_is_located(trials[0], name))
        found.append(SizedDimension(name, words, value, window, tolerance, doubt_mm))
    return tuple(found)


def _is_snug(trial: PartTrial, name: str) -> bool:
    """Whether a dimension locates: the bore on the rod, a pilot, the outside of a guide."""
    return name in ("bore_mm", "pilot_mm") or (trial.role == "guide" and name == "outside_mm")


def _is_located(trial: PartTrial, name: str) -> bool:
    """Whether a tolerance must be fine for the part to be central: not on the rod, where there is air anyhow."""
    return name != "bore_mm" and _is_snug(trial, name)


def _silent(what: str, share: float) -> None:
    """Nobody asked to be told."""
