"""The part of a spec that names photographs: files beside it, in its folder or in one within."""

from __future__ import annotations

import re
from typing import Annotated, Final

from pydantic import Field, PlainValidator, WithJsonSchema

from cards.spec import fields as kind
from cards.spec.base import SpecModel
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import text_of

MOST_IN_A_PATH: Final = 300
MOST_PHOTOGRAPHS: Final = 24

_DRIVE: Final = re.compile(r"[A-Za-z]:")
_OUTSIDE: Final = "copy the photograph into the folder of the spec, and write photos/sample.jpg"


def read_photograph_path(value: object) -> str:
    """Return the path of a photograph in the folder of its spec, its parts joined by slashes.

    Raises NotationError for a path that could lead out of the folder.

    >>> read_photograph_path("photos/./sample.jpg")
    'photos/sample.jpg'
    """
    text = text_of(value, "the path of a file").strip()
    if not text or len(text) > MOST_IN_A_PATH:
        message = f"a path has 1 to {MOST_IN_A_PATH} characters"
        raise NotationError(message, "write it as photos/sample.jpg", code="bad-path")
    if "\\" in text:
        message = "a backslash stands in the path"
        mend = "write / between folders, as photos/sample.jpg"
        raise NotationError(message, mend, text.index("\\"), code="bad-path")
    parts = text.split("/")
    if text.startswith(("/", "~")) or _DRIVE.match(text) or ".." in parts:
        message = f"`{shortened(text)}` is not in the folder of the spec"
        raise NotationError(message, _OUTSIDE, code="photograph-outside")
    return "/".join(part for part in parts if part not in ("", "."))


PhotographPath = Annotated[
    str,
    PlainValidator(read_photograph_path),
    WithJsonSchema({"type": "string", "examples": ["photos/sample.jpg"]}),
]


class Photograph(SpecModel):
    """A photograph for the record."""

    file: PhotographPath = Field(description="JPEG or PNG in the folder of the spec, or within it")
    of: kind.Name = Field(description="What it shows, such as sample, washed")
