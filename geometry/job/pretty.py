"""JSON that a person can read and compare line by line."""

import json
from collections.abc import Iterator

LINE_CHARACTERS = 100


def pretty_json(data: object) -> str:
    """JSON in the order of the data; what fits on a line stays on one. ValueError for NaN and infinity."""
    return "".join(_pieces(data, "")) + "\n"


def _pieces(data: object, indent: str) -> Iterator[str]:
    line = json.dumps(data, ensure_ascii=False, allow_nan=False)
    fits = len(line) + len(indent) <= LINE_CHARACTERS and indent != ""
    if fits or not data or not isinstance(data, dict | list | tuple):
        yield line
        return
    inner = indent + "  "
    if isinstance(data, dict):
        items = [(json.dumps(key, ensure_ascii=False) + ": ", value) for key, value in data.items()]
    else:
        items = [("", value) for value in data]
    yield "{" if isinstance(data, dict) else "["
    for number, (key, value) in enumerate(items):
        yield f"{',' if number else ''}\n{inner}{key}"
        yield from _pieces(value, inner)
    yield f"\n{indent}" + ("}" if isinstance(data, dict) else "]")
