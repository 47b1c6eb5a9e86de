"""Files: what is written comes back, and what cannot be used is refused with a sentence."""

import json
import os
from pathlib import Path

import msgspec
import pytest

from geometry.errors import FileError, Problems
from geometry.job.file import (
    format_of,
    job_from_bytes,
    job_to_bytes,
    read_job,
    read_part,
    read_set,
    read_sound_job,
    write_job,
    write_part,
    write_set,
)
from geometry.job.library import read_library
from geometry.job.migrations import brought_up_to_date
from geometry.job.saving import kept_versions, whole_file
from geometry.job.schema import SCHEMA_FILES, schema_text

FILES = Path(__file__).parents[2] / "files"
DOCS = Path(__file__).parents[3] / "docs"
JOB = FILES / "job-version-1.json"

LISTED = (FILES / "malformed" / "sentences.txt").read_text(encoding="utf-8")
SENTENCES = dict(line.split(": ", 1) for line in LISTED.splitlines())


def small_job(**changed):
    return read_job(JOB) if not changed else msgspec.structs.replace(read_job(JOB), **changed)


def test_version_1_job_is_read_field_by_field():
    job = read_job(JOB)

    assert job.title == "Front hub, left bearing"
    assert job.section.body("shell").shape.slices[1].outside_end_mm == 34.0
    assert job.section.body("cap").shape.outlines[0][1] == (-0.5, 30.0)
    assert job.section.bearing("BL").outer_interference_mm == 0.012
    assert job.part("D28").form.pilot_mm == 14.95
    assert job.steps[0].stack.names() == ("N10@left", "D28@left", "P60@right", "N10@right")
    assert job.steps[0].fates == {"BL": "keep"}
    assert (job.limits.offset_good_mm, job.limits.offset_caution_mm) == (0.25, 0.6)
    assert job.instructions is not None and job.instructions.never_push == ("BL.inner",)


def test_version_1_set_and_part_are_read():
    parts = read_set(FILES / "set-version-1.json").parts

    assert [part.id for part in parts] == ["M10-200", "N10", "D28", "P60"]
    assert read_part(FILES / "part-version-1.json") == parts[2]


@pytest.mark.parametrize("name", sorted(SENTENCES))
def test_malformed_file_gives_its_sentence(name):
    path = FILES / "malformed" / f"{name}.json"

    with pytest.raises(FileError) as raised:
        read_job(path)

    assert str(raised.value) in (f"{path}: {SENTENCES[name]}", f"{path}, {SENTENCES[name]}")


def test_every_malformed_file_has_a_sentence():
    found = {path.stem for path in (FILES / "malformed").glob("*.json")}

    assert found == set(SENTENCES)


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (b"\xef\xbb\xbf{}", "a byte order mark"),
        (b"\xff\xfe{\x00}\x00", "a byte order mark"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "binary data"),
        (b'{"title": "N\xfcrnberg"}', "what is not UTF-8"),
        (b"", "an empty file"),
        (b" \n\t", "an empty file"),
    ],
)
def test_what_is_no_text_is_refused(data, found):
    with pytest.raises(FileError) as raised:
        job_from_bytes(data, "hub.json")

    assert raised.value.found == found


def test_all_that_is_wrong_is_told_at_once():
    data = json.loads(JOB.read_bytes())
    data["section"]["bodies"][0]["shape"]["slices"][0]["bore_mm"] = "28"
    data["colour"] = "red"
    data["steps"][0]["operation"] = "hammer"

    with pytest.raises(Problems) as raised:
        job_from_bytes(json.dumps(data).encode(), "hub.json")

    places = [problem.place for problem in raised.value.problems]
    assert places == [
        "hub.json, colour",
        "hub.json, section.bodies[0].shape.slices[0].bore_mm",
        "hub.json, steps[0].operation",
    ]


def test_shapes_that_no_lathe_could_turn_are_told_with_their_place(tmp_path):
    data = json.loads(JOB.read_bytes())
    data["section"]["bodies"][0]["shape"]["edges"][0]["diameter_mm"] = 31.0
    data["section"]["bodies"][1]["shape"]["outlines"] = [[[0, 10], [5, 20], [5, 10], [0, 20]]]
    path = tmp_path / "hub.json"
    path.write_text(json.dumps(data), encoding="utf-8")

    with pytest.raises(Problems) as raised:
        read_sound_job(path)

    assert read_job(path).title == "Front hub, left bearing"
    for number, problem in enumerate(raised.value.problems):
        assert problem.place.startswith(f"{path}, section.bodies[{number}].shape, ")


def test_nothing_is_written_in_the_place_of_a_folder_or_a_device(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    found = []
    for path in (tmp_path, pipe):
        with pytest.raises(FileError) as refused:
            write_job(read_job(JOB), path)
        with pytest.raises(FileError), whole_file(path):
            pass
        found.append(refused.value.found)

    assert found == ["a folder", "a device"]
    assert os.listdir(tmp_path) == ["pipe"]


def test_folder_missing_file_and_pipe_are_refused(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    found = []
    for name in (".", "nowhere.json", "pipe", "zero\0.json"):
        with pytest.raises(FileError) as raised:
            read_job(tmp_path / name)
        found.append(raised.value.found)

    assert found[:3] == ["a folder", "nothing there", "something that is not a file on disk"]
    assert "null" in found[3]


def test_written_job_comes_back_and_is_written_the_same_again(tmp_path):
    job = small_job()
    write_job(job, tmp_path / "hub.json")
    found = read_job(tmp_path / "hub.json")

    assert found == job
    assert job_to_bytes(found) == (tmp_path / "hub.json").read_bytes()


def test_written_set_and_part_come_back(tmp_path):
    tool_set = read_set(FILES / "set-version-1.json")
    write_set(tool_set, tmp_path / "set.json")
    write_part(tool_set.parts[0], tmp_path / "part.json")

    assert read_set(tmp_path / "set.json") == tool_set
    assert read_part(tmp_path / "part.json") == tool_set.parts[0]
    assert format_of(tmp_path / "part.json") == "ringpath-part"


def test_one_changed_length_changes_one_line():
    job = small_job()
    before = job_to_bytes(job).decode().splitlines()
    after = job_to_bytes(small_job(doubt_mm=0.05)).decode().splitlines()

    differing = [pair for pair in zip(before, after, strict=True) if pair[0] != pair[1]]
    assert differing == [('  "doubt_mm": 0.02,', '  "doubt_mm": 0.05,')]


def test_last_three_versions_are_kept(tmp_path):
    path = tmp_path / "hub.json"
    for number in range(6):
        write_job(small_job(title=f"Save {number}"), path)
    titles = [read_job(kept).title for kept in kept_versions(path)]

    assert read_job(path).title == "Save 5"
    assert titles == ["Save 4", "Save 3", "Save 2"]
    assert sorted(one.name for one in tmp_path.iterdir()) == [".ringpath-versions", "hub.json"]


def test_saving_the_same_again_keeps_the_versions(tmp_path):
    path = tmp_path / "hub.json"
    for title in ("first", "second", "second", "second"):
        write_job(small_job(title=title), path)

    assert [read_job(kept).title for kept in kept_versions(path)] == ["first"]


def test_job_that_could_not_be_read_again_leaves_the_file_alone(tmp_path):
    path = tmp_path / "hub.json"
    write_job(small_job(), path)
    before = path.read_bytes()

    for title in (float("nan"), 7):
        with pytest.raises(FileError):
            write_job(small_job(title=title), path)
    assert path.read_bytes() == before
    assert kept_versions(path) == ()


def test_a_failing_replacement_leaves_nothing_behind(tmp_path, monkeypatch):
    path = tmp_path / "hub.json"
    write_job(small_job(), path)
    before = path.read_bytes()
    monkeypatch.setattr(os, "fsync", lambda _: (_ for _ in ()).throw(OSError(28, "No space left on device")))

    with pytest.raises(FileError) as raised:
        write_job(small_job(title="other"), path)
    assert raised.value.found == "no space left on device"
    assert path.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir()] == ["hub.json"]


def test_link_and_rights_survive_saving(tmp_path):
    (tmp_path / "real").mkdir()
    real, link = tmp_path / "real" / "hub.json", tmp_path / "hub.json"
    write_job(small_job(), real)
    real.chmod(0o640)
    link.symlink_to(real)
    write_job(small_job(title="through the link"), link)

    assert link.is_symlink()
    assert read_job(real).title == "through the link"
    assert real.stat().st_mode & 0o777 == 0o640


def test_version_steps_run_in_order():
    steps = {
        1: lambda data: {**data, "length_mm": data["length"]},
        2: lambda data: {key: value for key, value in data.items() if key != "length"},
    }
    found = brought_up_to_date({"version": 1, "length": 5}, steps=steps, from_version=1, to_version=3)

    assert found == {"version": 3, "length_mm": 5}


def test_library_reads_the_good_and_names_the_bad(tmp_path):
    write_job(small_job(title="a"), tmp_path / "a.json")
    (tmp_path / "more").mkdir()
    write_job(small_job(title="b"), tmp_path / "more" / "b.json")
    write_job(small_job(title="b again"), tmp_path / "more" / "b.json")
    (tmp_path / "bad.json").write_text("{", encoding="utf-8")
    library = read_library(tmp_path)

    assert [job.title for job in library.jobs.values()] == ["a", "b again"]
    assert [str(tmp_path / "bad.json") in str(problem) for problem in library.problems] == [True]


@pytest.mark.parametrize("name", sorted(SCHEMA_FILES))
def test_schema_in_docs_is_that_of_the_records(name):
    assert (DOCS / name).read_text(encoding="utf-8") == schema_text(name)
