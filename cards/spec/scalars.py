"""One text of a YAML file, and where each of its characters is written.

The value of a scalar is not always the text between its marks (quotes, escapes, folded lines),
so characters are matched one by one. Nothing is known here of keys and lists.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from cards.spec.source import CONTROL, Lines

# Characters that print as nothing, and make two words that look alike differ.
INVISIBLE = re.compile("[\u00ad\u061c\u180e\u200b-\u200f\u2060-\u2064\ufeff]")
_WRITTEN = re.compile(
    r"\\(?:x(?P<x>[0-9a-fA-F]{2})|u(?P<u>[0-9a-fA-F]{4})|U(?P<U>[0-9a-fA-F]{8})|(?P<short>.))|.",
    re.DOTALL,
)
_SHORT = {
    "0": "\0", "a": "\a", "b": "\b", "e": "\x1b", "f": "\f", "v": "\v", "N": "\x85",
    "L": "\u2028", "P": "\u2029", "_": "\u00a0", "n": "\n", "r": "\r", "t": "\t",
}  # fmt: skip
_SPACES = {*"nrt_ \t\r\n"}


@dataclass(slots=True)
class Scalar:
    """A text; `start` and `end` are indices into the file, `style` is YAML's mark for quoting.

    `altered` says that `value` is no longer what is written, so that places in it are lost. `lines`
    is its file where that is not the file of what holds it.
    """

    value: str
    start: int
    end: int
    style: str | None
    altered: bool = False
    lines: Lines | None = None

    def index(self, text: str, offset: int) -> int:
        """Return the index into the file's `text` of the character `offset` of the value."""
        at = self.start
        if self.style in {"|", ">"}:
            at = text.find("\n", at) + 1
        elif self.style in {"'", '"'}:
            at += 1
        # In a value that is no longer as written, its beginning must do.
        for character in self.value[: 0 if self.altered else offset]:
            if not character.isspace():
                at = self._passed(text, at, character)
        return self._skipped(text, at) if offset < len(self.value) else min(at, self.end)

    def _skipped(self, text: str, at: int) -> int:
        """Return the index of the next character that is written and no space."""
        while at < self.end:
            if text[at].isspace():
                at += 1
                continue
            written = _WRITTEN.match(text, at) if self.style == '"' else None
            # An escape that stands for a space, or a line that goes on.
            if written is None or text[at] != "\\" or not _is_space(written):
                break
            at = written.end()
        return at

    def _passed(self, text: str, at: int, character: str) -> int:
        """Return the index just after the written form of one character that is no space."""
        at = self._skipped(text, at)
        if self.style == "'" and character == "'":
            return at + 2
        if self.style != '"' or text[at] != "\\":
            return at + 1
        written = _WRITTEN.match(text, at)
        return written.end() if written else at + 1


def _is_space(written: re.Match[str]) -> bool:
    return written["short"] in _SPACES if written["short"] else _character(written).isspace()


def _character(written: re.Match[str]) -> str:
    """Return what a character or an escape in double quotes stands for."""
    code = written["x"] or written["u"] or written["U"]
    if code:
        return chr(int(code, 16))
    return _SHORT.get(written["short"], written["short"]) if written["short"] else written[0]


def clean(scalar: Scalar, text: str) -> Iterator[tuple[int, str, str]]:
    """Compose accents with their letters, and take out what cannot be printed.

    Yields index, code and message for the first character of each kind that was taken out.
    """
    for kind, code, what in (
        (CONTROL, "control-character", "a control character"),
        (INVISIBLE, "invisible-character", "an invisible character"),
    ):
        found = kind.search(scalar.value)
        if found:
            scalar.value = kind.sub("", scalar.value)
            scalar.altered = True
            message = f"there is {what} here (U+{ord(found.group()):04X})"
            yield _written_at(scalar, text, found.group()), code, message
    composed = unicodedata.normalize("NFC", scalar.value)
    if composed != scalar.value:
        scalar.value = composed
        scalar.altered = True


def _written_at(scalar: Scalar, text: str, character: str) -> int:
    """Return the index of the first place where `character` is written in a scalar."""
    if scalar.style == '"':
        for written in _WRITTEN.finditer(text, scalar.start, scalar.end):
            if _character(written) == character:
                return written.start()
    return max(scalar.start, text.find(character, scalar.start, scalar.end))
