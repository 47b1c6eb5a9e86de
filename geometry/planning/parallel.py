"""Parallel: the same work for many tasks on several processes, result by result, stopped at any moment."""

import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
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

    With more than one worker, `work` is a function of a module and the tasks can be sent to other processes. When the
    iterator is closed, also by an exception such as that of Ctrl-C, these end after the task that they are at. Where
    one is lost, as to a lack of memory, what is left is done here.
    """
    if workers <= 1 or len(tasks) <= FEW:
        yield from _done_here(work, tasks, cancelled)
        return
    pool = ProcessPoolExecutor(min(workers, len(tasks)), get_context("spawn"), _end_by_interrupt)
    waiting = {pool.submit(work, task): task for task in tasks}
    try:
        while waiting and not cancelled():
            done, _ = wait(waiting, timeout=LOOKS_EVERY_S, return_when=FIRST_COMPLETED)
            for one in done:
                result = one.result()
                del waiting[one]
                yield result
    except BrokenProcessPool:
        yield from _done_here(work, list(waiting.values()), cancelled)
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


def _done_here(
    work: Callable[[Task], Result], tasks: Sequence[Task], cancelled: Callable[[], bool]
) -> Iterator[Result]:
    for task in tasks:
        if cancelled():
            return
        yield work(task)


def _end_by_interrupt() -> None:
    """Ctrl-C ends a process of the pool at once and without a word; the first process says what there is to say."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
