"""ToolSet: tool parts that are owned or sold together, and its file."""

from typing import Literal

from geometry.parts.part import ToolPart
from geometry.section.body import Record


class ToolSet(Record, frozen=True):
    """A set of tool parts."""

    format: Literal["ringpath-set"]
    version: int
    title: str
    parts: tuple[ToolPart, ...]
    currency: str = "EUR"
    note: str = ""

    def __post_init__(self) -> None:
        ids = [part.id for part in self.parts]
        for one in ids:
            if ids.count(one) > 1:
                raise ValueError(f"part id '{one}' is used twice")
