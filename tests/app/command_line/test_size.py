"""`ringpath size`: exit codes, text, JSON, part file, several jobs, bad calls."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from app.command_line.arguments import read_arguments
from geometry.errors import FileError
from geometry.job.file import read_part, read_set, write_set

SAMPLES = Path(__file__).parents[3] / "samples"
JOB = str(SAMPLES / "library" / "rear-hub-shouldered-axle-01.json")
STARTER = str(SAMPLES / "starter-set.json")


def _run(*words):
    return read_arguments(["size", *words]).run()


def test_json_and_the_part_file_tell_the_same_part(tmp_path, capsys):
    part_file, set_file = tmp_path / "drift.json", tmp_path / "set.json"

    outputs = ("-o", str(part_file), "--into", str(set_file))
    code = _run(JOB, "--step", "4", "--set", STARTER, "--batch", "20", "--json", *outputs)
    told = json.loads(capsys.readouterr().out)

    assert code == 0
    assert told["format"] == "ringpath-size"
    assert (told["sized"], told["verified"], told["verdict"], told["role"]) == (True, True, "good", "pusher")
    assert told["part"]["id"] == read_part(part_file).id
    own = {one.dimension: one.tolerance_class for one in read_part(part_file).tolerances}
    assert own == {
        one["dimension"]: "" if one["tolerance"].startswith("±") else one["tolerance"]
        for one in told["dimensions"] if one["dimension"] in own
    }  # fmt: skip
    assert "h8" in own.values()
    assert read_set(set_file).parts[-1] == read_part(part_file)
    assert [one.id for one in read_set(set_file).parts] == [
        *(one.id for one in read_set(STARTER).parts), told["part"]["id"],
    ]  # fmt: skip
    assert told["cost"]["batch"] == 20
    assert told["cost"]["each"] == pytest.approx(sum(one["amount"] for one in told["cost"]["lines"]), abs=0.01)
    by_name = {one["dimension"]: one for one in told["dimensions"]}
    assert by_name["depth_mm"]["least"]["value_mm"] < by_name["depth_mm"]["value_mm"]
    assert by_name["depth_mm"]["most"] is None
    assert all(one["against"] == "" for one in told["corners"])


def test_no_part_gives_1_and_says_why(tmp_path, capsys):
    starter = read_set(STARTER)
    rodless = tmp_path / "rodless.json"
    write_set(replace(starter, parts=tuple(part for part in starter.parts if part.kind != "rod")), rodless)

    code = _run(JOB, "--step", "4", "--set", str(rodless), "--role", "pusher")

    assert code == 1
    assert "No rod of the set with two nuts passes the opening of 12.1 mm in step 4" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--step", "9"), "a step from 1 to 4"),
        (("--step", "4", "-o", "part.doc"), ".doc"),
        (("--step", "4", "--into", "set.txt"), ".json"),
        (("--step", "4", "--price", "gold=3"), "NAME one of"),
        (("--step", "4", "--price", "set_up_min=long"), "a number"),
        (("--step", "4", "--also", JOB, "zero"), "steps count from 1"),
        (("--step", "4", "--also", JOB, "9"), f"{JOB}, --also: found 9, expected a step from 1 to 4"),
        (("--step", "4", "-o", "no/folder/part.json"), "no/folder: found no folder"),
        (("--step", "4", "--into", "no/folder/set.json"), "no/folder: found no folder"),
    ],
)
def test_a_wrong_call_is_refused_before_anything_is_sized(words, says):
    with pytest.raises(FileError) as refused:
        _run(JOB, "--set", STARTER, *words)

    assert says in str(refused.value)
