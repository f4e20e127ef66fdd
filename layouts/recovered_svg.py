"""The files in the metadata of an SVG, read by a parser that follows nothing.

A document type is refused before anything in it is read: no entity is expanded, nothing fetched.
"""

from __future__ import annotations

import base64
import binascii
import hashlib
from collections.abc import Iterator
from xml.parsers import expat

from layouts.attachment import NAMESPACE, Attachment, Relationship
from layouts.not_recovered import NotRecovered, damaged, limited

_FILE = f"{NAMESPACE} file"
_RELATIONSHIPS: dict[str, Relationship] = {"Source": "Source", "Data": "Data"}


def files_in_svg(data: bytes) -> Iterator[Attachment]:
    """Yield the files that travel in an SVG; raises NotRecovered where it is damaged."""
    for about, text in _Reader().read(data):
        relationship = _RELATIONSHIPS.get(about.get("relationship", ""))
        if relationship is None or about.get("encoding") != "base64":
            continue
        try:
            content = base64.b64decode("".join(text.split()), validate=True)
        except (binascii.Error, ValueError) as error:
            raise damaged() from error
        # An SVG of an older version has no checksum.
        if about.get("sha256", found := hashlib.sha256(content).hexdigest()) != found:
            raise damaged()
        yield Attachment(about.get("name", ""), limited(content), relationship)


class _Reader:
    """Collects the attributes and the text of every file in a document."""

    def __init__(self) -> None:
        self._found: list[tuple[dict[str, str], list[str]]] = []
        self._open = False

    def read(self, data: bytes) -> list[tuple[dict[str, str], str]]:
        parser = expat.ParserCreate(namespace_separator=" ")
        parser.StartDoctypeDeclHandler = self._refuse
        parser.EntityDeclHandler = self._refuse
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._text
        try:
            parser.Parse(data, True)  # noqa: FBT003 - it takes no keyword
        except (expat.ExpatError, ValueError, LookupError) as error:
            if isinstance(error, NotRecovered):
                raise
            raise damaged() from error
        return [(about, "".join(text)) for about, text in self._found]

    def _refuse(self, *_about: object) -> None:
        raise NotRecovered(
            "this SVG has a document type, and no print has one", "take the SVG as it was printed"
        )

    def _start(self, name: str, about: dict[str, str]) -> None:
        self._open = name == _FILE
        if self._open:
            self._found.append((about, []))

    def _end(self, _name: str) -> None:
        self._open = False

    def _text(self, text: str) -> None:
        if self._open:
            self._found[-1][1].append(text)
