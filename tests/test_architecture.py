"""The house keeps its order: import rules, style, types, the top level and what a start may load."""

import ast
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]

TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "app", "geometry", "tests", "samples", "docs"}
MADE_BY_TOOLS = {"__pycache__", "build", "ringpath.egg-info"}  # all in .gitignore

NOT_BEFORE_THE_FIRST_FRAME = {"matplotlib", "scipy", "ezdxf", "pint", "highspy", "numpy", "shapely"}


def _run(*command: str) -> subprocess.CompletedProcess[str]:
    environment = os.environ | {"QT_QPA_PLATFORM": "offscreen", "NO_COLOR": "1"}
    return subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, timeout=600, env=environment, check=False
    )


def _modules_loaded_by(module: str) -> set[str]:
    """Top-level modules in a fresh interpreter that has imported one module."""
    found = _run(sys.executable, "-c", f"import sys, {module}; print(*sys.modules)")
    assert found.returncode == 0, found.stderr
    return {name.partition(".")[0] for name in found.stdout.split()}


def _packages_on_disk() -> set[str]:
    """Dotted names of the folders of app and geometry that hold Python files."""
    files = [path for top in ("app", "geometry") for path in (ROOT / top).rglob("*.py")]
    return {".".join(path.parent.relative_to(ROOT).parts) for path in files}


def test_import_rules():
    found = _run(sys.executable, "-c", "from importlinter.cli import lint_imports_command as lint; lint()")

    assert found.returncode == 0, found.stdout + found.stderr


def test_ruff_finds_nothing():
    found = _run(sys.executable, "-m", "ruff", "check", ".")

    assert found.returncode == 0, found.stdout + found.stderr


def test_geometry_is_strictly_typed():
    found = _run(sys.executable, "-m", "mypy")

    assert found.returncode == 0, found.stdout + found.stderr


def test_top_level_holds_what_a_newcomer_expects():
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}

    assert found - MADE_BY_TOOLS == TOP_LEVEL


def test_init_files_hold_a_docstring_only():
    files = [ROOT / name.replace(".", "/") / "__init__.py" for name in sorted(_packages_on_disk())]
    found = {file.relative_to(ROOT).as_posix() for file in files if not _is_one_docstring(file)}

    assert found == set()


def _is_one_docstring(file: Path) -> bool:
    if not file.exists():
        return False
    body = ast.parse(file.read_text(encoding="utf-8")).body
    return len(body) == 1 and isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant)


def test_window_starts_without_what_can_wait():
    loaded = _modules_loaded_by("app.window.main_window")

    assert loaded & NOT_BEFORE_THE_FIRST_FRAME == set()


def test_command_line_starts_without_a_window():
    loaded = _modules_loaded_by("app.__main__")

    assert loaded & (NOT_BEFORE_THE_FIRST_FRAME | {"PySide6"}) == set()
