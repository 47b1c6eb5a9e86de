"""Results kept for as long as the same objects are asked about again, as on every frame while a part is dragged."""

from collections.abc import Callable
from typing import TypeVar, TypeVarTuple

Given = TypeVarTuple("Given")
Result = TypeVar("Result")

KEPT = 256
"""Results kept per function before all are dropped."""


def kept_by_identity(function: Callable[[*Given], Result]) -> Callable[[*Given], Result]:
    """The function of objects that never change, worked out once for the same ones.

    The objects are told apart by identity, since a copy of a job with another step would otherwise be compared as a
    whole; they are held beside the result, so that no id comes twice.
    """
    kept: dict[tuple[int, ...], tuple[object, Result]] = {}

    def asked(*given: *Given) -> Result:
        key = tuple(map(id, given))
        found = kept.get(key)
        if found is not None:
            return found[1]
        result = function(*given)
        if len(kept) >= KEPT:
            kept.clear()
        kept[key] = (given, result)
        return result

    return asked
