"""Cover text: a coverage, and what was chosen from it, as lines that a person reads."""

from collections.abc import Iterable, Sequence, Sized

from geometry.parts.tool_set import ToolSet
from geometry.planning.cover_answer import CoverAnswer, SetCurve
from geometry.planning.price_list import bill_of_materials, compared, price_list, price_of
from geometry.planning.sets import ChosenSet, Together
from geometry.planning.split import Split
from geometry.planning.stands_alone import StandsAlone
from geometry.planning.worth import CandidateWorth, PartWorth

_WITH_THESE = {
    "cannot tell": "Cannot be told yet with these parts", "missed": "Impossible with these parts",
}  # fmt: skip
SHOWN_JOBS = 6
"""So many jobs are named on a line, the others are counted."""


def cover_as_text(answer: CoverAnswer) -> str:
    """What no set does first; then each set, what it misses and why; then what was asked besides."""
    lines: list[str] = []
    if len(answer.sets) > 1 or answer.chosen_sets():  # else they are what the one set misses
        lines += [f"{_WITH_THESE[one.state]}: {one.job}, step {one.step} ({one.title}): {one.missed_by}"
                  for one in answer.impossible]  # fmt: skip
    for one in answer.sold:
        lines += _set_as_text(answer, one)
    if len(answer.sets) > 1:
        lines += ["Sets side by side:", *_columns(compared(answer.sold, answer.coverage))]
    lines += together_as_text(answer.together)
    for curve in answer.curves:
        lines += _curve_as_text(curve)
    if answer.chosen is not None:
        lines += chosen_as_text(answer.chosen, "Chosen set")
    if answer.split is not None:
        lines += split_as_text(answer.split, answer)
    for number, (kind, chosen) in enumerate(answer.add_ons.items()):
        lines += chosen_as_text(chosen, f"Add-on set for owners of the base set, {kind}" if number else
                                f"Base set, {kind}")  # fmt: skip
    for alone in answer.alone:
        lines += alone_as_text(alone)
    if answer.prices:
        for one in answer.sold:
            lines += [f"Prices of {one.title}:", *_columns(price_list(one))]
            lines += [f"Bill of materials of {one.title}:", *_columns(bill_of_materials(one))]
    return "\n".join(lines)


def chosen_as_text(chosen: ChosenSet, title: str, *, proven_elsewhere: bool = False) -> list[str]:
    """A chosen set with its parts, its price and whether a better one can exist."""
    parts = " ".join(f"{count} x {part}" if count > 1 else part for part, count in chosen.parts.items())
    lines = [f"{title}: {_count(chosen.covered, 'job')}, {chosen.piece_count} pieces, price {chosen.price:.2f}"]
    if not proven_elsewhere:
        proof = _proof(chosen.gap, "no other set is better", "another set might be up to {:.1%} better")
        lines.append(f"  {chosen.optimised}; {proof}")
        if chosen.among_listed:
            lines.append("  chosen among the stacks that were listed for each step; there may be more")
    return [*lines, f"  parts: {parts or 'none'}"]


def split_as_text(split: Split, answer: CoverAnswer) -> list[str]:
    """The sets that share a range, and what is in none of them."""
    lines = split_head(split)
    for number, one_set in enumerate(split.sets, start=1):
        lines += chosen_as_text(one_set, f"Set {number}", proven_elsewhere=True)
        lines.append(f"  jobs: {_some(one_set.covered)}")
    return lines + left_out_as_text(split, answer)


def split_head(split: Split) -> list[str]:
    """What was asked of a split, how good the answer is, and what it promises."""
    more = _proof(split.gap_of_weight, "no other sets do more", "other sets might do up to {:.1%} more")
    less = _proof(split.gap_of_price, "none that do as much cost less", "as much might cost up to {:.1%} less")
    lines = [f"Split: {split.optimised}; {more}; {less}"]
    if 0 < split.enough < split.asked:
        lines.append(f"  {_enough_sets(split)}")
    if any(one.among_listed for one in split.sets):
        lines.append("  each set does at least the jobs named, by the stacks that were listed; searched as a set of its"
                     " own it may do more")  # fmt: skip
    return lines


def _enough_sets(split: Split) -> str:
    """That fewer sets than were asked for do, and whether more of them could do more."""
    enough = "1 set is enough" if split.enough == 1 else f"{split.enough} sets are enough"
    more = f"{split.asked} sets below this price would do no more"
    told = more if split.gap_of_weight == 0.0 else f"that {more}, is not proven"
    named = "" if split.enough == len(split.sets) else f"; the {len(split.sets)} named cost less between them"
    return f"{enough}: {told}{named}"


def left_out_as_text(split: Split, answer: CoverAnswer) -> list[str]:
    """The jobs that are in no set of a split, by why."""
    undecided, impossible = answer.undecided, {step.job for step in answer.impossible}
    impossible |= {job.job for one in split.sets for job in one.impossible}
    out = [job for job in split.missed if job in impossible]
    told = (
        ("possible, but in no set", [job for job in split.missed if job not in out]),
        ("cannot be told yet with these parts", [job for job in out if job in undecided]),
        ("impossible with these parts", [job for job in out if job not in undecided]),
    )
    return [f"  {words}: {_some(jobs)}" for words, jobs in told if jobs]


def _set_as_text(answer: CoverAnswer, one: ToolSet) -> list[str]:
    coverage = answer.coverage
    covered, undecided, missed = (of(one.title) for of in (coverage.covered, coverage.undecided, coverage.missed))
    careful = [job for job in covered if coverage.cells[job, one.title].state != "covered"]
    searched = len(covered) + len(undecided) + len(missed)
    unknown = f", {len(coverage.jobs) - searched} not searched" if searched < len(coverage.jobs) else ""
    open_yet = f", {_count(undecided, 'job')} cannot be told yet" if undecided else ""
    lines = [f"{one.title}: {len(covered)} of {len(coverage.jobs)} jobs, {len(careful)} of them with caution"
             f"{open_yet}{unknown}; price {price_of(one):.2f} {one.currency}"]  # fmt: skip
    for state, job in (*(("cannot tell", job) for job in undecided), *(("missed", job) for job in missed)):
        lines.append(f"  {state}: {job}")
        lines += [f"    {words}" for words in coverage.cells[job, one.title].missed_by or ("the job has no steps",)]
    lines += _worth_as_text(answer.worth.get(one.title, ()), answer.spare.get(one.title, ()))
    return lines + _candidates_as_text(answer.candidates.get(one.title, ()))


def _worth_as_text(worths: Sequence[PartWorth], spare: Sequence[str]) -> list[str]:
    lines = [
        f"  worth: {one.part} {_count(one.jobs_lost, 'job')} and {_count(one.steps_lost, 'step')} are lost without it"
        for one in worths
        if one.steps_lost
    ]
    return [*lines, f"  to spare at once: {' '.join(spare) or 'none'}"] if worths else []


def _candidates_as_text(worths: Iterable[CandidateWorth]) -> list[str]:
    return [
        f"  new part {one.part}, price {one.price:.2f}: {_count(one.jobs_gained, 'more job')},"
        f" {_count(one.steps_gained, 'more step')}{f' ({_some(one.jobs_gained)})' if one.jobs_gained else ''}"
        for one in worths
    ]


def _curve_as_text(one: SetCurve) -> list[str]:
    curve, window = one.curve, one.curve.safe_window
    lines = [f"{one.tool_set}, {curve.part} {curve.dimension}: jobs against the size"]
    for point in curve.points:
        can = "" if point.is_possible else "  no part can have this size"
        lines.append(f"  {point.value:8.3f} {len(point.jobs):4d} {'#' * len(point.jobs)}{can}")
    if window is not None:
        lines.append(f"  most jobs ({curve.most}) from {window[0]:g} to {window[1]:g}")
    return lines


def together_as_text(together: Sequence[Together]) -> list[str]:
    """For each smallest group of sets how many jobs it does, and which."""
    by_group: dict[tuple[str, ...], list[str]] = {}
    for one in together:
        by_group.setdefault(one.sets, []).append(one.job)
    lines = []
    for sets, jobs in sorted(by_group.items(), key=lambda item: (len(item[0]), -len(item[1]))):
        words = f"{sets[0]} alone does" if len(sets) == 1 else f"{' and '.join(sets)} need each other for"
        lines.append(f"{words} {_count(jobs, 'job')}: {_some(jobs)}")
    return lines


def alone_as_text(alone: StandsAlone) -> list[str]:
    """Whether a set stands alone, and what each job lacks that it does not do."""
    own = f" with the customer's own {' and '.join(alone.own)}" if alone.own else ""
    total = len(alone.proven) + len(alone.failing)
    word = "stands alone" if alone.holds else "does not stand alone"
    lines = [f"{alone.tool_set}{own} {word}: {len(alone.proven)} of {total} jobs pass the whole check with"
             " nothing but these parts"]  # fmt: skip
    return lines + [
        f"  {job}: {'cannot tell yet, ' if job in alone.undecided else ''}{'; '.join(words)}"
        for job, words in alone.failing.items()
    ]


def _columns(rows: Sequence[dict[str, str]]) -> list[str]:
    """Rows under each other, as wide as their widest cell; columns of figures to the right."""
    names = list(rows[0])
    cells = [names, *([row[name] for name in names] for row in rows)]
    widths = [max(len(row[at]) for row in cells) for at in range(len(names))]
    figures = [all(_is_figure(row[name]) for row in rows) for name in names]
    return [
        ("  " + "  ".join(
            text.rjust(width) if right else text.ljust(width)
            for text, width, right in zip(row, widths, figures, strict=True)
        )).rstrip()
        for row in cells
    ]  # fmt: skip


def _is_figure(text: str) -> bool:
    return text == "" or text.replace(".", "", 1).isdigit()


def _proof(gap: float, proven: str, doubted: str) -> str:
    """Whether an answer is the best there is; `doubted` with the place for how much better another might be."""
    return f"{proven}: proven" if gap == 0.0 else f"{doubted.format(gap)}: not proven"


def _count(things: Sized, noun: str) -> str:
    """`1 job`, `2 jobs`."""
    return f"{len(things)} {noun}" if len(things) == 1 else f"{len(things)} {noun}s"


def _some(names: Sequence[str]) -> str:
    more = f" and {len(names) - SHOWN_JOBS} more" if len(names) > SHOWN_JOBS else ""
    return f"{', '.join(names[:SHOWN_JOBS])}{more}"
