"""Parallel: the same work for many tasks on several processes, result by result, stopped at any moment."""

import os
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from multiprocessing.connection import Connection
from threading import Thread
from typing import TypeVar

Task = TypeVar("Task")
Result = TypeVar("Result")

LOOKS_EVERY_S = 0.1
"""How often it is asked whether to stop."""
STEPS_BACK = 5
"""How much nicer than the program a process is, so that the window answers while it searches."""
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
    end when the iterator is closed, also by an exception such as that of Ctrl-C, and with this process. Where one is
    lost, as to a lack of memory, what is left is done here.
    """
    if workers <= 1 or len(tasks) <= FEW:
        yield from _done_here(work, tasks, cancelled)
        return
    context = get_context("spawn")
    watched, held = context.Pipe(duplex=False)  # held by this process alone, and closed with it
    pool = ProcessPoolExecutor(min(workers, len(tasks)), context, _begin, (watched,))
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
        held.close()  # the processes end at once, so that there is nothing to wait for
        pool.shutdown(wait=True, cancel_futures=True)


def _done_here(
    work: Callable[[Task], Result], tasks: Sequence[Task], cancelled: Callable[[], bool]
) -> Iterator[Result]:
    for task in tasks:
        if cancelled():
            return
        yield work(task)


def _begin(watched: Connection) -> None:
    """A process of the pool steps back for a window beside it, and ends at once and without a word: by Ctrl-C, or when
    the other end is held no more."""
    if hasattr(os, "nice"):
        os.nice(STEPS_BACK)
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    Thread(target=_end_when_closed, args=(watched,), daemon=True).start()


def _end_when_closed(watched: Connection) -> None:
    watched.poll(None)  # nothing is ever sent
    os._exit(1)
