"""What `ringpath cover` was asked, from its words: sets, questions and choices."""

import argparse
from collections.abc import Mapping

from msgspec.structs import replace

from app.command_line.numbers import amount, count
from geometry.errors import FileError
from geometry.job.file import read_set
from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.planning.cover_questions import (
    BaseFor,
    CheapestFor,
    Choice,
    Questions,
    SplitInto,
    Sweep,
    WithinBudget,
    WithPieces,
    new_parts_of,
    steps_between,
)
from geometry.planning.pools import together, with_parts
from geometry.planning.weights import read_weights


def sets_asked(arguments: argparse.Namespace) -> tuple[ToolSet, ...]:
    """The sets, each together with what a customer has; sets of one title are told apart by their files."""
    sets = [read_set(path) for path in arguments.sets]
    titles = [one.title for one in sets]
    named = [
        one if titles.count(one.title) == 1 else replace(one, title=f"{one.title} ({path})")
        for one, path in zip(sets, arguments.sets, strict=True)
    ]
    named = [with_parts(one, new_parts_of(arguments.add)) for one in named]
    if arguments.own:
        theirs = [read_set(path) for path in arguments.own]
        return tuple(together(one.title, (one, *theirs)) for one in named)
    return tuple(named)


def questions_of(arguments: argparse.Namespace, jobs: Mapping[str, Job]) -> Questions:
    """What is asked besides which jobs the sets do."""
    return Questions(
        best_stacks=arguments.why or arguments.booklet is not None,
        worth=arguments.worth,
        new_parts=new_parts_of(arguments.new),
        sweep=_sweep(arguments.dimension) if arguments.dimension else None,
        needs=arguments.needs,
        alone=arguments.alone,
        prices=arguments.prices,
        choice=_choice(arguments),
        own=tuple(read_set(path) for path in arguments.own),
        weights=read_weights(arguments.weights, jobs) if arguments.weights is not None else {},
        time_limit_s=arguments.time,
    )


def _sweep(words: list[str]) -> Sweep:
    part, dimension, *numbers = words
    try:
        start, end, step = (amount(text) for text in numbers)
    except argparse.ArgumentTypeError as error:
        raise FileError("--dimension", found=" ".join(words), expected=f"three lengths at the end ({error})") from None
    return Sweep(part, dimension, steps_between(start, end, step))


def _choice(arguments: argparse.Namespace) -> Choice | None:
    if arguments.split is not None:
        return _split(arguments.split)
    if arguments.budget is not None:
        return WithinBudget(arguments.budget)
    if arguments.pieces is not None:
        return WithPieces(arguments.pieces)
    if arguments.base is not None:
        return BaseFor(arguments.base)
    return CheapestFor(arguments.cheapest) if arguments.cheapest is not None else None


def _split(words: list[str]) -> SplitInto:
    try:
        return SplitInto(count(words[0]), amount(words[1]))
    except argparse.ArgumentTypeError as error:
        raise FileError("--split", found=" ".join(words), expected=f"a number of sets and a price ({error})") from None
