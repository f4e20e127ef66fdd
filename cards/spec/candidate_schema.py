"""The candidates of a spec as JSON Schema: the keys of the spec itself, none of them required.

A candidate only says what is changed, so a mapping of it may lack what the spec's own has.
"""

from __future__ import annotations

import copy
from typing import Any

from cards.spec.candidates import KEY, LONGEST_NAME, MOST_CANDIDATES, SAME_FOR_ALL

Data = dict[str, Any]

_REF = "#/$defs/"
_ENDING = "Change"
_YARN = "Yarn"  # of which no key is required, and whose size is never merged
_CANDIDATE = (
    "One candidate: its name, and what of the spec is changed. Mappings go into those of the spec "
    "key by key, all else replaces what is there. Replaced whole are a tie-up, a loom with a name, "
    "whatever comes `from` a file, and a yarn of which more is given than price, put_up, colour, "
    "letter, on_hand or lot."
)
_WITHOUT = "Keys of the spec that this candidate has not, such as weft_order or cloth.fringe"


def add_candidates(schema: Data) -> None:
    """Put the candidates into the finished schema of a spec, with the definitions they need."""
    definitions: Data = schema["$defs"]
    changes = _Changes(definitions)
    own = {key: value for key, value in schema["properties"].items() if key not in SAME_FOR_ALL}
    name = {"type": ["string", "number"], "minLength": 1, "maxLength": LONGEST_NAME}
    text = {"type": "string"}
    definitions["Candidate"] = {
        "title": "Candidate",
        "description": _CANDIDATE,
        "type": "object",
        "properties": {
            "candidate": {**name, "description": "What it is called where it is compared"},
            "without": {
                "anyOf": [text, {"type": "array", "items": text}],
                "description": _WITHOUT,
            },
            **{key: changes.of(value) for key, value in own.items()},
        },
        "additionalProperties": False,
        "required": ["candidate"],
    }
    schema["properties"][KEY] = {
        "description": "Named changes to this spec, to be compared side by side",
        "type": "array",
        "maxItems": MOST_CANDIDATES,
        "items": {"$ref": f"{_REF}Candidate"},
    }


class _Changes:
    """Turns parts of the schema into those of a change, with definitions of their own."""

    def __init__(self, definitions: Data) -> None:
        self._definitions = definitions
        self._whole = dict(definitions)

    def of(self, node: Any) -> Any:  # noqa: ANN401  (JSON)
        """Return a part of the schema in which nothing is required of a mapping.

        What stands in a list is whole, since a list is replaced.
        """
        if isinstance(node, list):
            return [self.of(each) for each in node]
        if not isinstance(node, dict):
            return node
        if isinstance(node.get("$ref"), str):
            return {**node, "$ref": _REF + self._change(node["$ref"].removeprefix(_REF))}
        return {
            key: each if key == "items" else self.of(each)
            for key, each in copy.deepcopy(node).items()
        }

    def _change(self, name: str) -> str:
        """Return the name of the definition of a change; its own where it requires nothing."""
        changed = name + _ENDING
        if name == _YARN or changed in self._definitions:
            return name if name == _YARN else changed
        part = copy.deepcopy(self._whole[name])
        part.pop("required", None)
        if "properties" in part:
            part.pop("anyOf", None)  # what a loom needs, be it its own or from a file
        part = self.of(part)
        if part == self._whole[name]:
            return name
        self._definitions[changed] = part
        return changed
