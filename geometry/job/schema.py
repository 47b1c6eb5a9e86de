"""JSON Schemas of the file formats, generated from the records that are read and written."""

from typing import Any

import msgspec

from geometry.job.file import PartFile
from geometry.job.job import Job
from geometry.job.pretty import pretty_json
from geometry.job.trial import Trial
from geometry.parts.tool_set import ToolSet

SCHEMA_FILES: dict[str, type] = {
    "job.schema.json": Job,
    "set.schema.json": ToolSet,
    "part.schema.json": PartFile,
    "trial.schema.json": Trial,
}
"""File in docs/, and the record that it describes."""


def schema_text(file_name: str) -> str:
    """The JSON Schema (2020-12) of one format, as it stands in docs/."""
    schema = msgspec.json.schema(SCHEMA_FILES[file_name])
    return pretty_json({"$schema": "https://json-schema.org/draft/2020-12/schema", **_in_short(schema)})


def _in_short(schema: dict[str, Any]) -> dict[str, Any]:
    """The schema with the first line of each description; the rest of a docstring is for programmers."""
    for name, definition in schema.get("$defs", {}).items():
        if text := definition.get("description"):
            schema["$defs"][name] = definition | {"description": text.partition("\n")[0]}
    return schema
