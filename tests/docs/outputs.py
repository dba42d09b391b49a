"""The JSON that commands print, as tables made from its schemas in ``schema/outputs/``."""

import json
from collections.abc import Iterator, Mapping
from typing import Any

from rosterkit.roster.schema import schema_file, schema_folder
from tests.docs.markdown import table

Schema = Mapping[str, Any]


def output_tables() -> str:
    """Return a section for each form of JSON; a part that is the same in several is told once."""
    told: dict[str, str] = {}
    files = sorted((schema_folder() / "outputs").glob("*.json"))
    return "\n\n".join(_section(path.name, told) for path in files)


def _section(name: str, told: dict[str, str]) -> str:
    document = schema_file(f"outputs/{name}")
    about = f"{document['description']} " if "description" in document else ""
    rows = [[f"`{path}`", kind, purpose] for path, kind, purpose in _fields("", document, document, told)]
    intro = f"{about}In the words of JSON Schema: [{name}]({name})."
    return f"## {document['title']}\n\n{intro}\n\n{table(('field', 'holds', 'what it is'), rows)}"


def _fields(
    path: str, schema: Schema, document: Schema, told: dict[str, str]
) -> Iterator[tuple[str, str, str]]:
    """Yield path, content and purpose of each field below a schema, the outer ones first."""
    for name, given in schema.get("properties", {}).items():
        field = _resolved(given, document)
        here = f"{path}.{name}".lstrip(".")
        items = _resolved(field.get("items", {}), document)
        inner = items if "properties" in items else field
        here = f"{here}[]" if inner is items else here
        known = told.setdefault(json.dumps([name, inner]), document["title"])
        purpose = given.get("description", field.get("description", ""))
        if "properties" in inner and known != document["title"]:
            yield here, _content(field, items), f"{purpose} As in {known}.".strip()
        else:
            yield here, _content(field, items), purpose
            yield from _fields(here, inner, document, told)


def _resolved(schema: Schema, document: Schema) -> Schema:
    reference = schema.get("$ref")
    return document["$defs"][reference.rpartition("/")[2]] if reference else schema


def _content(schema: Schema, items: Schema) -> str:
    if "enum" in schema:
        return ", ".join("null" if choice is None else f"`{choice}`" for choice in schema["enum"])
    kinds = [schema["type"]] if isinstance(schema["type"], str) else schema["type"]
    words = " or ".join({"string": "text", "integer": "whole number"}.get(kind, kind) for kind in kinds)
    if "array" in kinds and "properties" not in items:
        inner = _content(items, {})
        words = words.replace("array", f"array of ({inner})" if "," in inner else f"array of {inner}")
    low, high = schema.get("minimum"), schema.get("maximum")
    if low is None:
        return words
    return f"{words}, at least {low}" if high is None else f"{words}, {low} to {high}"
