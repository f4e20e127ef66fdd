"""The spec format as a JSON Schema, from the same models that read it.

Editors complete and check against it. It describes the file as YAML reads it, so a sequence of
one figure, or a price, may be a number.
"""

from __future__ import annotations

from typing import Any

from cards.spec.candidate_schema import add_candidates
from cards.spec.conventions import PRESETS
from cards.spec.models import Spec

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_ALTERNATIVES: dict[str, dict[str, Any]] = {
    # Definitions that may also be written as one text.
    "YarnSize": {"type": "string", "examples": ["Ne 8/2", "worsted 2/18", "tex 49 x 2"]},
    "Conventions": {"type": "string", "enum": list(PRESETS)},
    "SeatPaper": {"type": "string", "examples": ["A4", "Letter", "5 x 8 in"]},
}


def spec_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a spec."""
    schema = Spec.model_json_schema()
    definitions = schema.get("$defs", {})
    for name, text in _ALTERNATIVES.items():
        mapping = definitions[name]
        mapping["properties"].pop("text", None)
        definitions[name] = {
            "title": mapping.pop("title", name),
            "description": mapping.pop("description", ""),
            "anyOf": [text, mapping],
        }
    _may_be_kept_elsewhere(definitions)
    schema["title"] = "loomfolio project spec"
    _optional_without_null(schema)
    add_candidates(schema)
    return {"$schema": _DIALECT, **schema}


def _may_be_kept_elsewhere(definitions: dict[str, Any]) -> None:
    """Let looms and yarns be references to a file beside the spec."""
    source = {"type": "string", "description": "A file beside the spec that has it"}
    for name, named in (("Loom", ["from", "name"]), ("Yarn", ["from"])):
        definition = definitions[name]
        definition["properties"] = {"from": source, **definition["properties"]}
        required = definition.pop("required", [])
        if required:
            definition["anyOf"] = [{"required": required}, {"required": named}]


def _optional_without_null(node: object) -> None:
    """Take null and its default out everywhere: an optional key is left out, never null."""
    if isinstance(node, list):
        for each in node:
            _optional_without_null(each)
        return
    if not isinstance(node, dict):
        return
    choices = node.get("anyOf")
    if isinstance(choices, list) and {"type": "null"} in choices:
        choices.remove({"type": "null"})
        if len(choices) == 1:
            node.update(node.pop("anyOf")[0])
        if node.get("default", 0) is None:
            del node["default"]
    for each in list(node.values()):
        _optional_without_null(each)
