"""The program as it is called: exit codes, sentences, and what it loads."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.command_line.arguments import COMMANDS, Window, read_arguments
from app.command_line.display import can_show_a_window
from app.command_line.samples import sample_files

ROOT = Path(__file__).parents[2]
FILES = ROOT / "tests" / "files"
SCREEN = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")


def ringpath(*words, cwd=None, **environment):
    plain = {name: value for name, value in os.environ.items() if name not in SCREEN}
    return subprocess.run(
        [sys.executable, "-m", "app", *map(str, words)],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
        cwd=cwd or ROOT,
        env=plain | {"PYTHONPATH": str(ROOT)} | environment,
    )


def test_version_and_help_are_good():
    version, told = ringpath("--version"), ringpath("--help")

    assert (version.returncode, told.returncode) == (0, 0)
    assert version.stdout.startswith("ringpath ")
    assert all(f"  {name} " in told.stdout for name in COMMANDS)


@pytest.mark.parametrize(
    "words",
    [
        ("check",),
        ("check", "nowhere.json"),
        ("check", FILES / "malformed" / "unknown-key-deep.json"),
        ("check", FILES / "set-version-1.json"),
        ("check", FILES / "job-version-1.json", "--step", "0"),
        ("check", FILES / "job-version-1.json", "--step", "9"),
        ("check", FILES / "job-version-1.json", "--set", "nowhere.json"),
        ("check", FILES / "job-version-1.json", "--colour"),
        ("one.json", "two.json"),
        ("--colour",),
    ],
)
def test_wrong_call_and_unreadable_input_give_2_and_a_sentence(words):
    found = ringpath(*words)

    assert found.returncode == 2
    assert found.stdout == ""
    assert "Traceback" not in found.stderr
    assert found.stderr.strip() != ""


@pytest.mark.parametrize("stream", ["stdout", "stderr"])
def test_a_stream_that_the_caller_has_closed_is_no_error(stream):
    close = {"stdout": ">&-", "stderr": "2>&-"}[stream]
    words = f'"{sys.executable}" -m app check "{FILES / "job-version-1.json"}" --json {close}'
    found = subprocess.run(["sh", "-c", words], capture_output=True, text=True, check=False, cwd=ROOT)

    assert found.returncode == ringpath("check", FILES / "job-version-1.json", "--json").returncode
    assert found.stderr == ""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_output_that_cannot_be_written_gives_2_and_a_sentence():
    with open("/dev/full", "w") as full:
        found = subprocess.run(
            [sys.executable, "-m", "app", "check", FILES / "job-version-1.json", "--json"],
            stdout=full, stderr=subprocess.PIPE, text=True, check=False, cwd=ROOT,
        )  # fmt: skip

    assert found.returncode == 2
    assert found.stderr == "ringpath: output: found no space left on device, expected a place that can be written to.\n"


def test_without_a_display_the_window_says_how_to_check():
    found = ringpath(FILES / "job-version-1.json")

    assert found.returncode == 2
    assert "no display" in found.stderr
    assert "ringpath check JOB" in found.stderr


def test_display_that_does_not_answer_counts_as_none():
    assert not can_show_a_window({"DISPLAY": ":4071"}, "linux")
    assert not can_show_a_window({"DISPLAY": "nonsense"}, "linux")
    assert not can_show_a_window({"WAYLAND_DISPLAY": "wayland-4071"}, "linux")


def test_screenless_qt_and_other_systems_can_show_a_window():
    assert can_show_a_window({"QT_QPA_PLATFORM": "offscreen"}, "linux")
    assert can_show_a_window({}, "darwin")
    assert can_show_a_window({}, "win32")


def test_job_named_like_a_command_opens_by_its_path():
    assert read_arguments(["./check"]) == Window(job=Path("./check"))
    assert read_arguments([]) == Window(job=None)


def test_samples_are_written_and_never_overwritten(tmp_path):
    folder = tmp_path / "here"
    first = ringpath("samples", folder)
    names = sorted(sample_files())
    (folder / names[0]).write_text("mine", encoding="utf-8")
    second = ringpath("samples", folder)

    assert (first.returncode, second.returncode) == (0, 0)
    assert sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*.*")) == names
    assert (folder / names[0]).read_text(encoding="utf-8") == "mine"


def test_samples_into_a_file_are_refused(tmp_path):
    (tmp_path / "taken").write_text("", encoding="utf-8")
    found = ringpath("samples", tmp_path / "taken")

    assert found.returncode == 2
    assert "Traceback" not in found.stderr


@pytest.mark.parametrize("module", ["check", "samples"])
def test_command_without_a_screen_loads_no_qt(module):
    program = f"import sys, app.command_line.{module}; print(*sys.modules)"
    call = [sys.executable, "-c", program]
    found = subprocess.run(call, cwd=ROOT, capture_output=True, text=True, check=False)
    loaded = {name.partition(".")[0] for name in found.stdout.split()}

    assert found.returncode == 0, found.stderr
    assert not loaded & {"PySide6", "shiboken6", "matplotlib"}


def test_json_is_alone_on_standard_output():
    found = ringpath("check", FILES / "job-version-1.json", "--json")

    assert found.returncode in (0, 1, 3), found.stderr
    assert json.loads(found.stdout)["format"] == "ringpath-check"
