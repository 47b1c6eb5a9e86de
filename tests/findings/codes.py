"""Codes of findings: those that the program raises, by its source, and those that docs/findings.md explains."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
CHECKS = ROOT / "geometry" / "check"
PAGE = ROOT / "docs" / "findings.md"
NO_CODES = {"ringpath-check"}
CODE = re.compile(r"[a-z]+(-[a-z]+)+")


def codes_raised() -> set[str]:
    """Every first argument of a Finding, and every other string of a check that is written like a code."""
    found: set[str] = set()
    for file in CHECKS.glob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and CODE.fullmatch(node.value):
                found.add(node.value)
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Finding":
                found |= set(_first_argument(node))
    return found - NO_CODES


def _first_argument(call: ast.Call) -> Iterator[str]:
    given = [keyword.value for keyword in call.keywords if keyword.arg == "code"] + call.args[:1]
    for node in ast.walk(given[0]):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def codes_explained() -> tuple[str, ...]:
    """Codes with a section of their own."""
    return tuple(re.findall(r"^### `([a-z-]+)`$", PAGE.read_text(encoding="utf-8"), flags=re.MULTILINE))


def codes_to_come() -> tuple[str, ...]:
    """Codes of the list of what comes later."""
    _, _, later = PAGE.read_text(encoding="utf-8").partition("## What comes later")
    later, _, _ = later.partition("\n## ")
    return tuple(re.findall(r"^- `([a-z-]+)`", later, flags=re.MULTILINE))
