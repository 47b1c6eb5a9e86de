"""The job on screen: undo over whole jobs, saving, autosave and the watch on the file."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.document.autosave import Autosave, leftovers
from app.document.file_watch import FileWatch
from app.document.open_job import OpenJob, opened
from app.document.recent_files import recent_files, remember
from geometry.errors import InputError
from geometry.job.changes import choose_driving_side, flip_part, move_part, remove_part, set_fate
from geometry.job.file import read_job, write_job
from tests.plain_hub import plain_hub

PLACES = st.integers(0, 7)
CHANGES = st.one_of(
    PLACES.map(lambda place: lambda job: flip_part(job, step=0, place=place)),
    PLACES.map(lambda place: lambda job: remove_part(job, step=0, place=place)),
    st.tuples(PLACES, PLACES).map(lambda two: lambda job: move_part(job, step=0, place=two[0], to=two[1], side="left")),
    st.sampled_from(("left", "right")).map(lambda side: lambda job: choose_driving_side(job, step=0, side=side)),
)


@given(made=st.lists(st.tuples(CHANGES, st.sampled_from((None, "drag"))), max_size=15))
def test_any_changes_undone_give_the_first_job(made):
    first = plain_hub()
    open_job = OpenJob(first)
    for change, gesture in made:
        try:
            open_job.apply("Change", change, gesture)
        except InputError:
            continue
    last = open_job.job
    while open_job.undo_stack.canUndo():
        open_job.undo_stack.undo()

    assert open_job.job == first
    while open_job.undo_stack.canRedo():
        open_job.undo_stack.redo()
    assert open_job.job == last


def test_a_gesture_is_one_entry(qtbot):
    open_job = OpenJob(plain_hub())
    for to in (1, 2, 0):
        open_job.apply("Move D28", lambda job, to=to: move_part(job, step=0, place=0, to=to, side="left"), "drag 1")

    assert open_job.undo_stack.count() == 1


def test_a_gesture_that_ends_where_it_began_leaves_no_entry(qtbot):
    open_job = OpenJob(plain_hub())
    for _ in range(2):
        open_job.apply("Flip D28", lambda job: flip_part(job, step=0, place=2), "drag 1")

    assert open_job.undo_stack.count() == 0
    assert open_job.job == plain_hub()


def test_what_changes_nothing_is_no_entry(qtbot):
    open_job = OpenJob(plain_hub())

    assert not open_job.apply("Keep", lambda job: set_fate(job, step=0, bearing="BL", fate="keep"))
    assert open_job.is_saved


def test_changed_hands_out_both_jobs(qtbot):
    open_job = OpenJob(plain_hub())
    before = open_job.job
    with qtbot.waitSignal(open_job.changed) as caught:
        open_job.apply("Flip D28", lambda job: flip_part(job, step=0, place=2))

    assert caught.args == [before, open_job.job]
    assert caught.args[1].section is before.section


def test_saving_marks_as_saved(qtbot, tmp_path):
    open_job = OpenJob(plain_hub())
    open_job.apply("Flip D28", lambda job: flip_part(job, step=0, place=2))
    open_job.save_as(tmp_path / "hub.json")

    assert open_job.is_saved
    assert read_job(tmp_path / "hub.json") == open_job.job
    assert opened(tmp_path / "hub.json").job == open_job.job


def test_what_a_crash_leaves_can_be_recovered(qtbot, tmp_path):
    path = tmp_path / "hub.json"
    write_job(plain_hub(), path)
    open_job = opened(path)
    autosave = Autosave(open_job)
    open_job.apply("Flip D28", lambda job: flip_part(job, step=0, place=2))
    autosave.write_now()
    while_running = leftovers()
    autosave._lock.unlock()  # as when the process has died
    found = leftovers()

    assert while_running == ()
    assert [one.job for one in found] == [open_job.job]
    assert found[0].origin == path
    assert read_job(path) == plain_hub()


def test_a_good_end_leaves_nothing_to_recover(qtbot):
    open_job = OpenJob(plain_hub())
    autosave = Autosave(open_job)
    open_job.apply("Flip D28", lambda job: flip_part(job, step=0, place=2))
    autosave.write_now()
    autosave.finish()

    assert leftovers() == ()


def test_a_file_changed_by_someone_else_is_noticed(qtbot, tmp_path):
    path = tmp_path / "hub.json"
    write_job(plain_hub(), path)
    watch = FileWatch()
    watch.watch(path)
    with qtbot.waitSignal(watch.changed_outside, timeout=5000):
        write_job(flip_part(plain_hub(), step=0, place=2), path)


@pytest.mark.parametrize("count", (1, 12))
def test_recent_files_come_newest_first(tmp_path, count):
    paths = [tmp_path / f"{number}.json" for number in range(count)]
    for path in paths:
        path.write_text("{}", encoding="utf-8")
        remember(path)

    assert recent_files() == tuple(reversed(paths))[:9]
