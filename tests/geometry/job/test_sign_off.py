"""Sign-off with a job, jobs found in a library, copies."""

from datetime import date
from pathlib import Path

import pytest
from msgspec.structs import replace

from geometry.errors import FileError, InputError
from geometry.job.file import job_from_bytes, job_to_bytes, read_job, write_job, write_set
from geometry.job.finding_jobs import COLUMNS, WantedJob, job_row, jobs_wanted
from geometry.job.library import jobs_of_folder
from geometry.job.sign_off import copied, is_signed_off, last_sign_off, sign_off_words, signed_off, work_version
from geometry.job.versions import readings_version
from tests.geometry.planning.rule_finder import ruled_set
from tests.plain_hub import plain_hub

ROOT = Path(__file__).parents[3]
LIBRARY, _ = jobs_of_folder(ROOT / "samples" / "library")
DAY = date(2031, 5, 28)


def test_sign_off_stays_with_the_job_in_its_file(tmp_path):
    job = signed_off(plain_hub(), who=" Kim ", when=DAY, result="done", note="3 Nm more than told")
    write_job(job, tmp_path / "hub.json")
    read = read_job(tmp_path / "hub.json")

    assert read == job
    assert (last_sign_off(read).who, last_sign_off(read).when) == ("Kim", "2031-05-28")
    assert sign_off_words(read) == "done, Kim, 2031-05-28: 3 Nm more than told"
    assert is_signed_off(read)


def test_a_job_without_sign_off_is_written_as_before():
    assert b"sign_offs" not in job_to_bytes(plain_hub())


def test_a_change_of_the_work_takes_the_sign_off_away_a_new_title_does_not():
    job = signed_off(plain_hub(), who="Kim", when=DAY, result="done")
    other_title = replace(job, title="Another", summary="said otherwise")
    no_stack = replace(job, steps=job.steps[:-1]) if len(job.steps) > 1 else replace(job, doubt_mm=0.02)

    assert is_signed_off(other_title)
    assert not is_signed_off(no_stack)
    assert sign_off_words(no_stack).endswith("the job was changed since")
    assert work_version(no_stack) != work_version(job)


def test_price_and_stock_of_a_part_do_not_matter():
    job = plain_hub()
    dearer = replace(job, parts=tuple(replace(part, price=part.price + 9.0, stock=7) for part in job.parts))

    assert work_version(dearer) == work_version(job)


def test_not_done_is_no_sign_off():
    job = signed_off(plain_hub(), who="Kim", when=DAY, result="not done")

    assert not is_signed_off(job)
    assert readings_version(job) == readings_version(plain_hub())


def test_nobody_cannot_sign():
    with pytest.raises(InputError, match="Who signs off"):
        signed_off(plain_hub(), who="  ", when=DAY, result="done")


@pytest.mark.parametrize(("name", "value"), [("when", "28.5.2031"), ("who", ""), ("result", "fine")])
def test_sign_off_that_is_wrong_in_a_file_is_told(name, value):
    data = job_to_bytes(signed_off(plain_hub(), who="Kim", when=DAY, result="done"))
    right = {"when": b"2031-05-28", "who": b'"Kim"', "result": b'"done"'}[name]
    wrong = value.encode() if name == "when" else b'"' + value.encode() + b'"'

    with pytest.raises(FileError, match="sign_offs"):
        job_from_bytes(data.replace(right, wrong), "hub.json")


def test_copy_is_not_signed_off():
    job = copied(signed_off(plain_hub(), who="Kim", when=DAY, result="done"), title=" Another hub ")

    assert (job.title, job.sign_offs) == ("Another hub", ())
    assert job.section is plain_hub().section or job.section == plain_hub().section
    with pytest.raises(InputError):
        copied(plain_hub(), title=" ")


def _designations(job):
    return {bearing.designation for bearing in job.section.bearings}


def test_bearing_is_found_by_its_three_sizes():
    """6902 is 15 x 28 x 7 (ISO 15)."""
    found = jobs_wanted(LIBRARY, WantedJob(bore_mm=15.0, outside_mm=28.0, width_mm=7.0))

    assert set(found) == {name for name, job in LIBRARY.items() if "6902" in _designations(job)}
    assert 0 < len(found) < len(LIBRARY)


def test_the_sizes_belong_to_one_bearing():
    """6902 (15 x 28 x 7) and 6903 (17 x 30 x 7): no bearing of 15 x 30."""
    assert jobs_wanted(LIBRARY, WantedJob(bore_mm=15.0, outside_mm=30.0)) == {}


def test_axle_is_found_by_a_diameter():
    found = jobs_wanted(LIBRARY, WantedJob(axle_mm=12.1))
    axles = {name: [one for one in job.section.bodies if one.role == "axle"] for name, job in LIBRARY.items()}
    expected = {name for name, them in axles.items() if any(s.bore_mm == 12.1 for a in them for s in a.shape.slices)}

    assert set(found) == expected and expected


def test_kind_and_words_of_the_name():
    links = jobs_wanted(LIBRARY, WantedJob(kind="Suspension"))
    named = jobs_wanted(LIBRARY, WantedJob(name="LINK 6802"))

    assert set(links) == {name for name in LIBRARY if name.startswith("suspension-link")}
    assert named and all("6802" in job.title for job in named.values())


def test_signed_and_not_signed_share_the_library():
    jobs = {**LIBRARY, "done.json": signed_off(plain_hub(), who="Kim", when=DAY, result="done")}

    assert list(jobs_wanted(jobs, WantedJob(signed_off=True))) == ["done.json"]
    assert len(jobs_wanted(jobs, WantedJob(signed_off=False))) == len(LIBRARY)


def test_row_tells_bearings_and_axle():
    row = job_row("rear-hub-stepped-axle-01.json", LIBRARY["rear-hub-stepped-axle-01.json"])

    assert tuple(row) == COLUMNS
    assert row["axle_mm"] == "12.1 15 17 17.5 19.5"
    assert "(" in row["bearings"] and " x " in row["bearings"]


def test_folder_passes_over_other_files_and_tells_bad_jobs(tmp_path):
    write_job(plain_hub(), tmp_path / "hub.json")
    write_set(ruled_set("Set", "a"), tmp_path / "set.json")
    for name, text in (
        ("bad.json", '{"format": "ringpath-job", "version": 1}'),
        ("broken.json", '{"format": '),
        ("misspelt.json", '{"format": "ringpath-jop", "version": 1}'),
        ("other.json", '{"name": "of another program"}'),
        ("list.json", "[1, 2]"),
    ):
        (tmp_path / name).write_text(text, encoding="utf-8")
    jobs, problems = jobs_of_folder(tmp_path)

    assert list(jobs) == ["hub.json"]
    assert [Path(str(one).split(".json")[0]).name for one in problems] == ["bad", "broken", "misspelt"]
