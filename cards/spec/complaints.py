"""What pydantic refused, said in the weaver's words and placed in the file.

Every value of a spec has a reader of its own that says what is wrong; pydantic itself is left
with missing keys, unknown keys, and lists or mappings where the other is wanted.
"""

from __future__ import annotations

from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from cards.spec.candidates import KEY as CANDIDATES
from cards.spec.findings import Finding
from cards.spec.models import Loom, Spec, Yarn
from cards.spec.places import Places, Step
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import suggestion

MOST_TOLD = 200
_KEY = "[key]"  # pydantic's last step when the key of a mapping is refused
_SHAPES = {
    "model_type": ("a mapping of keys", "write its keys under it, indented"),
    "model_attributes_type": ("a mapping of keys", "write its keys under it, indented"),
    "dict_type": ("a mapping of keys", "write its keys under it, indented"),
    "list_type": ("a list", "write each item in a line that begins with -"),
}
_EXAMPLES = {
    ("loomfolio",): "loomfolio: 1",
    ("project",): "project: {title: Estuary lap throw}",
    ("project", "title"): "title: Estuary lap throw",
    ("yarns",): "yarns: {slate: {size: Nm 12/2}}",
    ("loom",): "loom: {action: rising, shafts: 4}",
    ("loom", "shafts"): "shafts: 4",
    ("looms", "shafts"): "shafts: 4",
    ("cloth",): "cloth: {width: 130 cm, length: 170 cm}",
    ("cloth", "fringe", "length"): "length: 12 cm",
    ("draft",): 'draft: {threading: "(1 2 3 4) to fill", lifts: "(1 3; 2 4) x 60"}',
    ("draft", "threading"): 'threading: "(1 2 3 4) to fill"',
    ("section",): "section: body",
    ("class", "seats"): "seats: [{seat: window}]",
    ("seat",): "seat: window",
    ("exercise",): "exercise: threading",
    ("system",): "system: Ne",
    ("stage",): "stage: winding",
    ("photographs", "file"): "file: photos/sample.jpg",
    ("photographs", "of"): "of: sample, washed",
    ("do",): "do: [Wind the warp.]",
    ("count",): "count: 8",
}


def complaints(error: ValidationError, places: Places) -> list[Finding]:
    """Return a finding for every complaint, without those that only follow from another."""
    # A hostile file may be wrong in a hundred thousand places; nobody reads more than these.
    told = error.errors(include_url=False, include_input=False)[:MOST_TOLD]
    found = (_finding(each, places) for each in told)
    return [each for each in found if each is not None]


def refused_paths(error: ValidationError) -> list[tuple[Step, ...]]:
    """Return the path of every value that has to go before the rest can be read."""
    paths = []
    for each in error.errors(include_url=False, include_input=False):
        loc = each["loc"]
        if each["type"] == "missing" or (loc and loc[-1] == _KEY):
            loc = loc[:-1]
        paths.append(loc)
    return paths


def _finding(error: ErrorDetails, places: Places) -> Finding | None:
    loc: tuple[Step, ...] = error["loc"]
    cause = error.get("ctx", {}).get("error")
    if isinstance(cause, NotationError):
        if loc and loc[-1] == _KEY:
            place = places.key(*loc[:-1])
        else:
            place = places.of(*loc, *cause.path, offset=cause.offset)
        message = _named(cause.message, loc)
        return Finding("error", cause.code, message, cause.mend, place)
    if error["type"] == "missing":
        return _missing(loc, places)
    if error["type"] == "extra_forbidden":
        return _unknown(loc, places)
    wanted, mend = _SHAPES.get(error["type"], ("something else", "look at the starter spec"))
    place = places.of(*loc)
    item = "an item of " if loc and isinstance(loc[-1], int) else ""
    message = f"{item}'{_last_name(loc)}' must be {wanted}"
    return Finding("error", "wrong-shape", message, mend, place)


def _named(message: str, loc: tuple[Step, ...]) -> str:
    name = _last_name(loc)
    return f"'{name}': {message}" if name else message


def _last_name(loc: tuple[Step, ...]) -> str:
    names = [str(step) for step in loc if isinstance(step, str) and step != _KEY]
    return shortened(names[-1]) if names else ""


def _missing(loc: tuple[Step, ...], places: Places) -> Finding | None:
    if places.has(*loc):
        return None  # it is there without a value, which has been told already
    name = str(loc[-1])
    names = tuple(step for step in loc if isinstance(step, str))
    example = _EXAMPLES.get(names) or _EXAMPLES.get(names[-1:]) or f"{name}: ..."
    parent = _last_name(loc[:-1])
    message = f"'{name}' is missing" + (f" in '{parent}'" if parent else "")
    return Finding("error", "missing-key", message, f"add `{example}`", places.of(*loc[:-1]))


def _unknown(loc: tuple[Step, ...], places: Places) -> Finding:
    name = str(loc[-1])
    known = keys_at(loc[:-1])
    message = f"unknown key '{shortened(name)}'"
    return Finding("error", "unknown-key", message, suggestion(name, known), places.key(*loc))


def keys_at(path: tuple[Step, ...]) -> tuple[str, ...]:
    """Return the keys that the mapping at `path` may have."""
    model: type[BaseModel] = Spec
    for step in path:
        info = _fields(model).get(str(step))
        inner = _model_in(info.annotation) if info is not None else None
        if inner is not None:
            model = inner  # an item of a list, or a yarn by its name, has the model of its holder
    keys = [each for each in _fields(model) if each != "text"]
    if model in (Loom, Yarn):
        keys.insert(0, "from")  # the reference that these may be
    # Candidates are taken out of a spec before it is modelled.
    return (*keys, CANDIDATES) if model is Spec else tuple(keys)


def _fields(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """Return the fields of a model by the keys that are written."""
    return {info.alias or name: info for name, info in model.model_fields.items()}


def _model_in(annotation: Any) -> type[BaseModel] | None:  # noqa: ANN401  (a type form)
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for each in get_args(annotation):
        found = _model_in(each)
        if found is not None:
            return found
    return None
