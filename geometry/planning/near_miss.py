"""Near misses: what is missing where no stack works: the one part, dimension, rod or piece, in words and verified."""

from collections.abc import Callable, Iterable, Iterator
from itertools import islice, takewhile

from msgspec.structs import replace

from geometry.check.finding import Finding
from geometry.check.wording import mm
from geometry.job.job import Job
from geometry.parts.forms import Rod
from geometry.parts.part import ToolPart
from geometry.planning.candidates import Dropped
from geometry.planning.clamping import rod_families
from geometry.planning.faces import Face, offer_of
from geometry.planning.faces_at_hand import Faces, able_faces, faces_of
from geometry.planning.parallel import never
from geometry.planning.part_changes import Change, Role, changes_for
from geometry.planning.reasons import lacks_holder, lacks_pusher, nearest, reasons
from geometry.planning.search import WITHOUT_PARTS, NearMiss, Progress, Search, bare_job, checked
from geometry.planning.situation import Situation, situation_of

ENOUGH_MISSES = 3
TRIES = 4
"""Changed parts of one role that are checked in full, the smallest change first."""
MOST_CHECKS = 3
"""Full checks for one changed part."""
GUIDES_TRIED = 40
"""Guides in pairs of faces that are tried for one changed part."""
FACES_TRIED = 6
"""Faces on each side that a changed guide is tried with."""
LONG_ROD_MM = 1000.0

ROLE_OF_CODE: dict[str, Role] = {"spacer-loose": "guide", "off-centre": "guide", "cup-narrow": "support"}
"""What cures a fault that names no face."""


def near_misses(
    job: Job,
    step: int,
    parts: tuple[ToolPart, ...],
    found: Search,
    *,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] = never,
) -> tuple[NearMiss, ...]:
    """What would make a step work of which `found` found no stack; at least one line, the most useful first."""
    situation, usable = _start(job, step, parts)
    plain = _plain(situation, usable, found)
    if plain:
        return plain
    faces = able_faces(situation, usable, faces_of(situation, usable))
    misses: list[NearMiss] = []
    if any(one.why == "no rod" for one in found.dropped):
        misses += _stock_misses(situation, parts, faces) or _rod_misses(situation, usable, faces)
    for number, role in enumerate(_roles(faces, found)):
        if len(misses) >= ENOUGH_MISSES or cancelled():
            break
        if progress is not None:
            progress(f"step {step + 1}: what would help as a {role}", number / 3)
        some = islice(_part_misses(situation, usable, faces, found.dropped, role), ENOUGH_MISSES - len(misses))
        misses += takewhile(lambda _: not cancelled(), some)
    return tuple(misses) or reasons(situation, faces, found)


def told_reasons(job: Job, step: int, parts: tuple[ToolPart, ...], found: Search) -> tuple[NearMiss, ...]:
    """Why `found` found no stack, in words; nothing is tried out."""
    situation, usable = _start(job, step, parts)
    plain = _plain(situation, usable, found)
    return plain or reasons(situation, able_faces(situation, usable, faces_of(situation, usable)), found)


def _start(job: Job, step: int, parts: tuple[ToolPart, ...]) -> tuple[Situation, tuple[ToolPart, ...]]:
    return situation_of(bare_job(job, step, parts), step), tuple(part for part in parts if part.stock > 0)


def _plain(situation: Situation, parts: tuple[ToolPart, ...], found: Search) -> tuple[NearMiss, ...]:
    """What no change of a part would cure: faults of the hub or the order, and rods."""
    blocked = blocked_by(found)
    return tuple(NearMiss(finding.message) for finding in blocked) or _no_rod(situation, parts)


def blocked_by(found: Search) -> tuple[Finding, ...]:
    """Faults that no stack would change."""
    if not found.refused:
        return ()
    findings = found.refused[0][1].findings
    return tuple(f for f in findings if f.severity == "fault" and f.code in WITHOUT_PARTS)


def _no_rod(situation: Situation, parts: tuple[ToolPart, ...]) -> tuple[NearMiss, ...]:
    if not any(isinstance(part.form, Rod) for part in parts):
        return (NearMiss("There is no rod in the set.", dimension="rod"),)
    if not rod_families(parts, opening_mm=situation.rod_opening_mm):
        opening = mm(situation.rod_opening_mm)
        return (NearMiss(f"No rod with two nuts passes the opening of {opening}.", dimension="rod"),)
    return ()


def _stock_misses(situation: Situation, parts: tuple[ToolPart, ...], faces: Faces) -> list[NearMiss]:
    """A part that is owned once and would be needed twice."""
    plenty = tuple(replace(part, stock=max(part.stock, 1) + 1) for part in parts)
    now = _with_parts(situation, plenty)
    families = rod_families(plenty, opening_mm=situation.rod_opening_mm)
    more = {part.id: part for part in plenty}
    pushers, holders = _owned(faces.pushers, more), _owned(faces.holders, more)
    trial = Faces(offer_of(pushers, "push"), offer_of(holders, "hold"), families)
    found = checked(now, plenty, trial, limit=1, most_checks=MOST_CHECKS, most_tries=GUIDES_TRIED)
    if not found.stacks:
        return []
    stack = found.stacks[0].stack
    used = [part.part for part in stack.parts] + [stack.rod or ""]
    owned = {part.id: part.stock for part in parts}
    lacking = {id: used.count(id) - owned[id] for id in dict.fromkeys(used) if id and used.count(id) > owned[id]}
    if not lacking:
        return []
    words = ", ".join(f"{number} more {id}" for id, number in lacking.items())
    part = next(one for one in parts if one.id in lacking)
    return [NearMiss(f"Would work with {words}.", part, "stock", verified=True)]


def _owned(faces: Iterable[Face], parts: dict[str, ToolPart]) -> tuple[Face, ...]:
    return tuple(replace(face, part=parts[face.part.id]) for face in faces)


def _rod_misses(situation: Situation, parts: tuple[ToolPart, ...], faces: Faces) -> list[NearMiss]:
    """A rod that would have to be longer, or threaded all along."""
    return _rod_miss(situation, parts, faces, _longer) or _rod_miss(situation, parts, faces, _longer_all_thread)


def _rod_miss(
    situation: Situation, parts: tuple[ToolPart, ...], faces: Faces, better: Callable[[Rod], Rod]
) -> list[NearMiss]:
    """What rods would have to be, tried out with all of them changed."""
    trial = tuple(
        replace(part, form=better(part.form)) if isinstance(part.form, Rod) else part for part in parts
    )
    families = rod_families(trial, opening_mm=situation.rod_opening_mm)
    now, tried = _with_parts(situation, trial), replace(faces, families=families)
    found = checked(now, trial, tried, limit=1, most_checks=MOST_CHECKS, most_tries=GUIDES_TRIED)
    if not found.stacks or (use := found.stacks[0].check.rod) is None:
        return []
    rod = next(part for part in trial if part.id == found.stacks[0].stack.rod)
    alike = [part for part in parts if isinstance(part.form, Rod) and part.thread == rod.thread]
    longest = max(alike, key=_length)
    needs, has = use.needed_mm, _length(longest)
    partly = _partly_threaded_mm(longest) if _partly_threaded_mm(rod) is None else None
    if partly is not None:
        length = f" of at least {mm(needs)}" if needs > has else ""
        words = (
            f"Would work with a rod {rod.thread}{length} that is threaded all along;"
            f" {longest.id} has {mm(has)} with {mm(partly)} of thread at each end."
        )
        return [NearMiss(words, longest, "threaded_mm", partly, max(needs, has), verified=True)]
    if needs <= has:
        return []
    words = f"Would work with a rod {rod.thread} of at least {mm(needs)}; {longest.id} has {mm(has)}."
    return [NearMiss(words, longest, "length_mm", has, needs, verified=True)]


def _longer(rod: Rod) -> Rod:
    return replace(rod, length_mm=rod.length_mm + LONG_ROD_MM)


def _longer_all_thread(rod: Rod) -> Rod:
    return replace(_longer(rod), threaded_mm=None)


def _partly_threaded_mm(part: ToolPart) -> float | None:
    """The thread at each end of a rod that is plain between; None where it is threaded all along."""
    form = part.form
    if not isinstance(form, Rod) or form.threaded_mm is None or 2 * form.threaded_mm >= form.length_mm:
        return None
    return form.threaded_mm


def _length(part: ToolPart) -> float:
    return part.length_mm


def _roles(faces: Faces, found: Search) -> tuple[Role, ...]:
    """Which duties are looked at: those that no part can do; else those that the nearest tries failed at."""
    empty: list[Role] = []
    if lacks_pusher(faces):
        empty.append("pusher")
    if lacks_holder(faces):
        empty.append("support")
    if empty:
        return tuple(empty)
    wanted: list[Role] = []
    for dropped in nearest(found.dropped):
        for fault in dropped.faults[:1]:
            if dropped.pair.pusher.thing.id in fault.bodies and fault.code != "off-centre":
                wanted.append("pusher")
            elif dropped.pair.holder.thing.id in fault.bodies:
                wanted.append("support")
            else:
                wanted.append(ROLE_OF_CODE.get(fault.code, "pusher"))
    return tuple(dict.fromkeys((*wanted, "pusher", "support", "guide")))


def _part_misses(
    situation: Situation, parts: tuple[ToolPart, ...], faces: Faces, dropped: tuple[Dropped, ...], role: Role
) -> Iterator[NearMiss]:
    """Parts of which one dimension is wrong, each checked in full with that dimension changed."""
    for change in _first_of_each(changes_for(situation, parts, faces, dropped, role)):
        trial = tuple(change.after if part.id == change.before.id else part for part in parts)
        tried = _faces_with(change, faces, dropped, role)
        found = checked(
            _with_parts(situation, trial), trial, tried, limit=1, most_checks=MOST_CHECKS, most_tries=GUIDES_TRIED
        )
        if found.stacks:
            yield NearMiss(change.words, change.before, change.dimension, change.has_mm, change.needs_mm, True)


def _first_of_each(changes: Iterator[Change]) -> Iterator[Change]:
    """The smallest change of each part, for the first parts."""
    seen: set[str] = set()
    for change in changes:
        if change.before.id not in seen:
            seen.add(change.before.id)
            yield change
        if len(seen) >= TRIES:
            return


def _faces_with(change: Change, faces: Faces, dropped: tuple[Dropped, ...], role: Role) -> Faces:
    """The faces among which a changed part is tried."""
    if role == "pusher":
        return replace(faces, pushers=offer_of(change.faces, "push"))
    if role == "support":
        return replace(faces, holders=offer_of(change.faces, "hold"))
    pairs = [one.pair for one in nearest(dropped) if all(ROLE_OF_CODE.get(f.code) == "guide" for f in one.faults)]
    pushers = {id(pair.pusher): pair.pusher for pair in pairs}
    holders = {id(pair.holder): pair.holder for pair in pairs}
    return replace(
        faces,
        pushers=offer_of(tuple(pushers.values())[:FACES_TRIED], "push"),
        holders=offer_of(tuple(holders.values())[:FACES_TRIED], "hold"),
    )


def _with_parts(situation: Situation, parts: tuple[ToolPart, ...]) -> Situation:
    own = {part.id for part in parts}
    return situation.with_parts(parts + tuple(part for part in situation.job.parts if part.id not in own))
