"""What is wrong with the data of a file: each field with its path, what was found, what is allowed.

msgspec stops at the first error, without the value and without what is allowed. It reads every good file;
only when it refuses one, this walk over the plain data collects all that is wrong.
"""

import difflib
import json
import math
import re
from collections.abc import Iterator

import msgspec
from msgspec.inspect import (
    BoolType,
    DictType,
    FloatType,
    IntType,
    LiteralType,
    NoneType,
    StrType,
    StructType,
    TupleType,
    Type,
    UnionType,
    VarTupleType,
    type_info,
)

from geometry.errors import FileError, RingpathError

SHOWN_CHARACTERS = 60

_SENTENCES = (
    (re.compile(r"(?:.*?: )?found (.*), expected (.*)"), "{}"),
    (re.compile(r"(.*) is not known \(known: (.*)\)"), "one of {}"),
    (re.compile(r"(.*) is not a body \((.*)\)"), "one of {}"),
    (re.compile(r"(.*) is used twice"), "it once only"),
    (re.compile(r"(.*?) must (.*)"), "it to {}"),
)
"""How the records of geometry word what they refuse, and what of it is allowed."""

Wrong = tuple[str, str, str]
"""Path of a field, what was found there, what is allowed."""


def problems_in(data: object, wanted: type, *, place: str) -> tuple[FileError, ...]:
    """Everything in plain JSON data that keeps it from being what is wanted, in the order of the file."""
    return tuple(
        FileError(f"{place}, {path}" if path else place, found=found, expected=allowed)
        for path, found, allowed in _wrong(data, type_info(wanted), "")
    )


def _wrong(value: object, node: Type, path: str) -> Iterator[Wrong]:
    if isinstance(node, UnionType):
        yield from _wrong_in_union(value, node, path)
    elif isinstance(node, StructType):
        yield from _wrong_in_struct(value, node, path)
    elif isinstance(node, VarTupleType | TupleType):
        yield from _wrong_in_list(value, node, path)
    elif isinstance(node, DictType):
        yield from _wrong_in_dict(value, node, path)
    elif (found := _wrong_leaf(value, node)) is not None:
        yield path, found, described(node)


def _wrong_in_union(value: object, node: UnionType, path: str) -> Iterator[Wrong]:
    tagged = [one for one in node.types if isinstance(one, StructType) and one.tag is not None]
    if tagged and isinstance(value, dict):
        yield from _wrong_in_tagged(value, tagged, path)
        return
    if value is None and any(isinstance(one, NoneType) for one in node.types):
        return
    others = [one for one in node.types if not isinstance(one, NoneType)]
    if len(others) == 1:
        for where, found, allowed in _wrong(value, others[0], path):
            yield where, found, f"{allowed}, or null" if where == path else allowed
    elif not any(not list(_wrong(value, one, path)) for one in others):
        yield path, shown(value), described(node)


def _wrong_in_tagged(value: dict[str, object], tagged: list[StructType], path: str) -> Iterator[Wrong]:
    field = str(tagged[0].tag_field)
    allowed = "one of " + ", ".join(json.dumps(one.tag) for one in tagged)
    if field not in value:
        yield _joined(path, field), "nothing", allowed
        return
    for one in tagged:
        if one.tag == value[field]:
            yield from _wrong_in_struct(value, one, path)
            return
    yield _joined(path, field), shown(value[field]), allowed


def _wrong_in_struct(value: object, node: StructType, path: str) -> Iterator[Wrong]:
    if not isinstance(value, dict):
        yield path, shown(value), "an object"
        return
    wrong: list[Wrong] = []
    known = {field.encode_name: field for field in node.fields}
    for key in value:
        if key not in known and key != node.tag_field:
            found = f"an unknown key with the value {shown(value[key])}"
            wrong.append((_joined(path, key), found, _keys(key, list(known))))
    for key, field in known.items():
        if key in value:
            wrong += _wrong(value[key], field.type, _joined(path, key))
        elif field.required:
            wrong.append((_joined(path, key), "nothing", described(field.type)))
    yield from wrong or _wrong_together(value, node, path)


def _wrong_together(value: object, node: StructType, path: str) -> Iterator[Wrong]:
    """What the record itself refuses although each of its fields is well formed."""
    try:
        msgspec.convert(value, node.cls)
    except (msgspec.ValidationError, RingpathError) as error:
        yield path, *_found_and_allowed(str(error).removesuffix("."))


def _found_and_allowed(text: str) -> tuple[str, str]:
    """The sentence of a record taken apart; as it is where it follows no pattern."""
    for pattern, allowed in _SENTENCES:
        if match := pattern.fullmatch(text):
            return match[1], allowed.format(match[match.lastindex or 0])
    return f"what cannot be ({text})", "values that agree with each other"


def _wrong_in_list(value: object, node: VarTupleType | TupleType, path: str) -> Iterator[Wrong]:
    if not isinstance(value, list) or (isinstance(node, TupleType) and len(value) != len(node.item_types)):
        yield path, shown(value), described(node)
        return
    item_types = node.item_types if isinstance(node, TupleType) else (node.item_type,) * len(value)
    for place, (item, item_type) in enumerate(zip(value, item_types, strict=True)):
        yield from _wrong(item, item_type, f"{path}[{place}]")


def _wrong_in_dict(value: object, node: DictType, path: str) -> Iterator[Wrong]:
    if not isinstance(value, dict):
        yield path, shown(value), "an object"
        return
    for key, item in value.items():
        if not _is_unicode(key):
            yield path, "a key with half of a character", "whole characters"
        yield from _wrong(item, node.value_type, _joined(path, key))


def _wrong_leaf(value: object, node: Type) -> str | None:
    """What was found if the value is not what the node wants; None if it is."""
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if isinstance(node, FloatType | IntType) and is_number:
        if (outside := _no_length(value)) is not None:  # type: ignore[arg-type]
            return outside
        good = isinstance(node, FloatType) or float(value).is_integer()  # type: ignore[arg-type]
    elif isinstance(node, LiteralType):
        good = isinstance(value, str | int) and not isinstance(value, bool) and value in node.values
    elif isinstance(node, StrType):
        if isinstance(value, str) and not _is_unicode(value):
            return "a text with half of a character"
        good = isinstance(value, str)
    elif isinstance(node, BoolType):
        good = isinstance(value, bool)
    elif isinstance(node, NoneType):
        good = value is None
    else:
        good = not isinstance(node, FloatType | IntType)
    return None if good else shown(value)


def _no_length(value: float) -> str | None:
    """What a number is that JSON or Python reads but no machine can measure; None for all others."""
    try:
        number = float(value)
    except OverflowError:
        return "a number that is too large"
    if math.isnan(number):
        return "NaN, which is no number"
    return None if math.isfinite(number) else "a number that is too large (or Infinity)"


def described(node: Type) -> str:
    """What is allowed, in words."""
    if isinstance(node, UnionType):
        return " or ".join(dict.fromkeys(described(one) for one in node.types))
    if isinstance(node, LiteralType):
        return ("one of " if len(node.values) > 1 else "") + ", ".join(json.dumps(one) for one in node.values)
    if isinstance(node, TupleType):
        return f"a list of exactly {len(node.item_types)} values"
    words = (
        (FloatType, "a number"), (IntType, "a whole number"), (StrType, "a text"), (NoneType, "null"),
        (BoolType, "true or false"), (VarTupleType, "a list"), (StructType | DictType, "an object"),
    )  # fmt: skip
    return next((word for kind, word in words if isinstance(node, kind)), "something else")


def shown(value: object) -> str:
    """A value as it stands in the file, cut to a readable length."""
    text = json.dumps(value)
    return text if len(text) <= SHOWN_CHARACTERS else text[: SHOWN_CHARACTERS - 3] + "..."


def _keys(key: str, known: list[str]) -> str:
    near = difflib.get_close_matches(key, known, n=1)
    listed = ", ".join(known)
    return f"'{near[0]}', or another of the keys {listed}" if near else f"one of the keys {listed}"


def _joined(path: str, key: str) -> str:
    short = key if len(key) <= SHOWN_CHARACTERS else key[:SHOWN_CHARACTERS] + "..."
    readable = short.encode("utf-8", "replace").decode()
    return f"{path}.{readable}" if path else readable


def _is_unicode(text: str) -> bool:
    """False for half of a surrogate pair, which no file can hold."""
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True
