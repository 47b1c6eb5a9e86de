"""Parallel: the same work for many tasks on several processes, result by result, stopped at any moment."""

import signal
from collections.abc import Callable, Iterator, Sequence
from multiprocessing import TimeoutError as NothingYet
from multiprocessing import get_context
from typing import TypeVar

Task = TypeVar("Task")
Result = TypeVar("Result")

LOOKS_EVERY_S = 0.1
"""How often it is asked whether to stop."""
FEW = 3
"""Up to so many tasks are done at once: starting processes would take longer."""


def never() -> bool:
    """Not cancelled."""
    return False


def each_result(
    work: Callable[[Task], Result],
    tasks: Sequence[Task],
    *,
    workers: int,
    cancelled: Callable[[], bool] = never,
) -> Iterator[Result]:
    """Results as they come, in no order; fewer than tasks when it was cancelled.

    With more than one worker, `work` is a function of a module and the tasks can be sent to other processes. These
    are ended when the iterator is closed, also by an exception such as that of Ctrl-C.
    """
    if workers <= 1 or len(tasks) <= FEW:
        for task in tasks:
            if cancelled():
                return
            yield work(task)
        return
    with get_context("spawn").Pool(min(workers, len(tasks)), _leave_interrupts_to_the_first_process) as pool:
        results = pool.imap_unordered(work, tasks)
        while not cancelled():
            try:
                yield results.next(timeout=LOOKS_EVERY_S)
            except NothingYet:
                continue
            except StopIteration:
                return


def _leave_interrupts_to_the_first_process() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
