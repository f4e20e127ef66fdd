"""The JSON Schema against the models, and the good spec against the JSON Schema."""

import json
import re
from pathlib import Path

import pytest
import yaml

from cards.spec import Spec, spec_schema

GOOD = Path(__file__).parent / "good.yaml"
TYPES = {
    "object": dict, "array": list, "string": str, "integer": int, "number": (int, float),
    "boolean": bool,
}  # fmt: skip


def faults(value, schema, root):
    """What in `value` breaks the keywords of JSON Schema 2020-12 that the schema uses."""
    if "$ref" in schema:
        return faults(value, root["$defs"][schema["$ref"].rsplit("/", 1)[1]], root)
    found = scalar_faults(value, schema)
    if "anyOf" in schema and all(faults(value, each, root) for each in schema["anyOf"]):
        found.append(f"{value!r} fits none")
    if isinstance(value, dict):
        found += [f"{key} missing" for key in schema.get("required", []) if key not in value]
        for key, each in value.items():
            inner = schema_of(key, schema)
            found += [f"{key} unknown"] if inner is False else faults(each, inner, root)
    if isinstance(value, list):
        for each in value:
            found += faults(each, schema.get("items", {}), root)
    return found


def schema_of(key, schema):
    if key in schema.get("properties", {}):
        return schema["properties"][key]
    for pattern, inner in schema.get("patternProperties", {}).items():
        if re.search(pattern, key):
            return inner
    inner = schema.get("additionalProperties", {})
    return {} if inner is True else inner


def scalar_faults(value, schema):
    kinds = schema.get("type", [])
    kinds = [kinds] if isinstance(kinds, str) else kinds
    broken = {
        "type": bool(kinds) and not any(isinstance(value, TYPES[kind]) for kind in kinds),
        "enum": "enum" in schema and value not in schema["enum"],
        "const": "const" in schema and value != schema["const"],
        "pattern": isinstance(value, str) and not re.search(schema.get("pattern", ""), value),
        "minimum": isinstance(value, int) and value < schema.get("minimum", value),
    }
    return [f"{value!r}: {keyword}" for keyword, is_broken in broken.items() if is_broken]


@pytest.fixture(scope="module")
def good():
    # As an editor reads it: YAML 1.1 makes a date of a date, but an editor's reader does not.
    text = GOOD.read_text(encoding="utf-8").replace("2026-03-02", '"2026-03-02"')
    data = yaml.safe_load(text)
    data["draft"]["tie_up"] = {str(key): each for key, each in data["draft"]["tie_up"].items()}
    return data


def test_the_good_spec_fits_the_schema(good):
    schema = spec_schema()
    assert faults(good, schema, schema) == []


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("loom", "shafts"), 1),
        (("loom", "action"), "raising"),
        (("yarns", "slate", "colour"), "slate"),
        (("cloth", "width"), 80),
        (("cloth", "fringe", "lenght"), "4 cm"),
        (("conventions",), "swedish"),
        (("loomfolio",), 2),
        (("yarns", "slate", "fibre"), "cotton, linen"),
        (("yarns", "slate", "fibre"), {"cotton": "60 %", "lynen": "40 %"}),
        (("yarns", "slate", "size"), {"system": "grain", "count": 8}),
        (("cloth", "use"), "tea"),
    ],
)
def test_what_the_schema_refuses(good, path, value):
    schema = spec_schema()
    data = json.loads(json.dumps(good))
    inner = data
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = value
    assert faults(data, schema, schema)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("yarns", "slate", "fibre"), "silk"),
        (("yarns", "slate", "fibre"), {"cotton": "60 %", "linen": "40 %"}),
        (("yarns", "slate", "size"), {"system": "grain/20 yd", "count": 8}),
        (("yarns", "slate", "size"), "Ne 40 + 20"),
        (("yarns", "slate", "wraps"), "14 per cm"),
        (("yarns", "slate", "ashenhurst"), 0.9),
        (("cloth", "use"), "table linen"),
    ],
)
def test_what_the_schema_lets_pass(good, path, value):
    schema = spec_schema()
    data = json.loads(json.dumps(good))
    inner = data
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = value
    assert faults(data, schema, schema) == []


def test_the_schema_has_every_key_and_describes_it():
    schema = spec_schema()
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    # Candidates are taken out of the tree before the model sees it.
    written = {info.alias or name for name, info in Spec.model_fields.items()}
    assert set(schema["properties"]) == {*written, "candidates"}
    assert '"null"' not in json.dumps(schema)
    for name, each in [("Spec", schema), *schema["$defs"].items()]:
        for key, inner in each.get("properties", {}).items():
            assert inner.get("description"), f"{name}.{key} has no description"


def test_the_schema_can_be_written_as_json():
    assert json.loads(json.dumps(spec_schema())) == spec_schema()
