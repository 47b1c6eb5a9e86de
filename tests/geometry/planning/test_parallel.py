"""Parallel: results from several processes, also when one of them is lost on the way."""

import os
import subprocess
import sys
from multiprocessing import active_children, parent_process
from pathlib import Path
from time import monotonic, sleep

from geometry.planning.parallel import each_result


def _square(number):
    return number * number


def _square_or_end(number):
    if number == 4 and parent_process() is not None:
        os._exit(1)
    return number * number


def test_each_task_comes_back_once():
    assert sorted(each_result(_square, range(9), workers=2)) == [n * n for n in range(9)]


def test_what_a_lost_process_leaves_is_done_here():
    assert sorted(each_result(_square_or_end, range(9), workers=2)) == [n * n for n in range(9)]


def test_it_stops_when_it_is_cancelled():
    found = []
    for one in each_result(_square, range(50), workers=2, cancelled=lambda: len(found) >= 5):
        found.append(one)

    assert 5 <= len(found) < 50 and len(set(found)) == len(found)


def _sleep_long(number):
    sleep(60.0)


def test_its_processes_end_with_it_in_the_middle_of_a_task():
    before, started = set(active_children()), monotonic()

    assert list(each_result(_sleep_long, range(9), workers=2, cancelled=lambda: monotonic() > started + 1.0)) == []

    for child in set(active_children()) - before:
        child.join(timeout=10.0)
        assert not child.is_alive()


QUIET = """
from tests.geometry.planning.test_parallel import _sleep_long, _square
from geometry.planning.parallel import each_result
from time import monotonic
if __name__ == "__main__":
    print(sorted(each_result(_square, range(9), workers=2)))
    ends_at = monotonic() + 1.0
    print(list(each_result(_sleep_long, range(9), workers=2, cancelled=lambda: monotonic() > ends_at)))
"""


def test_a_program_ends_without_a_word_after_it(tmp_path):
    script = tmp_path / "quiet.py"
    script.write_text(QUIET)
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[3])}

    done = subprocess.run([sys.executable, script], capture_output=True, text=True, env=environment, timeout=50.0)

    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.split("\n")[:2] == [str([n * n for n in range(9)]), "[]"]


FIRST = """
from tests.geometry.planning.test_parallel import _sleep_long
from geometry.planning.parallel import each_result
from multiprocessing import active_children
if __name__ == "__main__":
    from threading import Thread
    Thread(target=lambda: list(each_result(_sleep_long, range(9), workers=2)), daemon=True).start()
    while len(active_children()) < 2:
        pass
    print(*(child.pid for child in active_children()), flush=True)
    input()
"""


def test_its_processes_do_not_outlive_a_first_process_that_is_killed(tmp_path):
    script = tmp_path / "first.py"
    script.write_text(FIRST)
    root = Path(__file__).parents[3]
    environment = {**os.environ, "PYTHONPATH": str(root)}
    first = subprocess.Popen(
        [sys.executable, script], stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=environment
    )
    pids = [int(pid) for pid in first.stdout.readline().split()]
    sleep(2.0)  # they have begun
    first.kill()
    first.communicate()

    assert len(pids) == 2
    ends_at = monotonic() + 20.0
    while any(_is_there(pid) for pid in pids):
        assert monotonic() < ends_at
        sleep(0.1)


def _is_there(pid):
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return "Z" not in Path(f"/proc/{pid}/stat").read_text().rsplit(")")[1].split()[0]
