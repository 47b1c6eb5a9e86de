"""Pools: sets put together, and sets that differ in one part, to ask what that would change."""

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from geometry.errors import InputError
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet


def together(title: str, sets: Sequence[ToolSet]) -> ToolSet:
    """All parts of several sets as one; of a part that is in several, as many pieces as all have.

    Raises
    ------
    InputError
        Two sets hold different parts under the same id.
    """
    parts: dict[str, ToolPart] = {}
    for one in sets:
        for part in one.parts:
            known = parts.get(part.id)
            if known is None:
                parts[part.id] = part
            elif known.form != part.form or known.material != part.material:
                expected = f"the same part as in the sets before, or another id in '{one.title}'"
                raise InputError(f"part '{part.id}'", found="another part in each of two sets", expected=expected)
            else:
                parts[part.id] = replace(known, stock=known.stock + part.stock)
    currency = sets[0].currency if sets else "EUR"
    return ToolSet(format="ringpath-set", version=1, title=title, parts=tuple(parts.values()), currency=currency)


def besides(tool_set: ToolSet, own: Sequence[ToolSet]) -> ToolSet:
    """What is left of a set besides the pieces that a customer has, under the same title."""
    theirs = in_stock(together("own", own))
    left = (replace(part, stock=part.stock - theirs.get(part.id, 0)) for part in tool_set.parts)
    return replace(tool_set, parts=tuple(part for part in left if part.stock > 0))


def chosen_from(pool: ToolSet, counts: Mapping[str, int], *, title: str) -> ToolSet:
    """A set of its own from a pool: so many pieces of each part."""
    parts = tuple(replace(part, stock=counts[part.id]) for part in pool.parts if counts.get(part.id, 0) > 0)
    return replace(pool, title=title, parts=parts)


def without(tool_set: ToolSet, part: str) -> ToolSet:
    """The set without a part."""
    left = tuple(one for one in tool_set.parts if one.id != part)
    return replace(tool_set, title=f"{tool_set.title} without {part}", parts=left)


def with_part(tool_set: ToolSet, part: ToolPart) -> ToolSet:
    """The set with a part that it does not hold yet, or with more pieces of one that it holds.

    Raises
    ------
    InputError
        The set holds another part under the same id.
    """
    held = _held(tool_set, part)
    more = part if held is None else replace(held, stock=held.stock + part.stock)
    parts = (*tool_set.parts, more) if held is None else tuple(more if one is held else one for one in tool_set.parts)
    return replace(tool_set, title=f"{tool_set.title} with {part.id}", parts=parts)


def with_parts(tool_set: ToolSet, parts: Sequence[ToolPart]) -> ToolSet:
    """The set with those of several parts that it does not hold yet.

    Raises
    ------
    InputError
        The set holds another part under the same id.
    """
    for part in parts:
        if _held(tool_set, part) is None:
            tool_set = with_part(tool_set, part)
    return tool_set


def _held(tool_set: ToolSet, part: ToolPart) -> ToolPart | None:
    """The same part in the set; None where it has none."""
    held = next((one for one in tool_set.parts if one.id == part.id), None)
    if held is not None and held.form != part.form:
        expected = f"an id that is not in '{tool_set.title}' yet"
        raise InputError(f"part '{part.id}'", found="an id that another part has", expected=expected)
    return held


def in_stock(tool_set: ToolSet) -> dict[str, int]:
    """Pieces of each part."""
    return {part.id: part.stock for part in tool_set.parts if part.stock > 0}


def prices_of(tool_set: ToolSet) -> dict[str, float]:
    """Price of a piece of each part."""
    return {part.id: part.price for part in tool_set.parts}
