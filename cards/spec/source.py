"""The bytes of a spec turned into text: size, encoding and characters that no spec may hold.

Nothing is known here of YAML. A byte order mark and Windows line ends are accepted.
"""

from __future__ import annotations

import re
from bisect import bisect_right

from cards.spec.findings import Finding, Place

LARGEST = 1024 * 1024
# Everything that a printed sheet cannot show, and the line ends that only some programs count.
CONTROL = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069"
    "\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]"
)


class Lines:
    """Turns an index into a text into a place; `text` has no byte order mark."""

    def __init__(self, text: str, file: str) -> None:
        """Find where each line of `text` starts."""
        self.text = text
        self.file = file
        self._starts = [0, *(match.end() for match in re.finditer(r"\r\n|\n|\r", text))]

    def place(self, index: int) -> Place:
        """Return the place of the character at `index`; an index past the end is the end."""
        index = min(max(index, 0), len(self.text))
        row = bisect_right(self._starts, index) - 1
        return Place(self.file, row + 1, index - self._starts[row] + 1)


def decoded(source: bytes, file: str) -> tuple[str, Finding | None]:
    """Return the text of `source` and, if it cannot be used, the finding that says why."""
    start = Place(file, 1, 1)
    if len(source) > LARGEST:
        message = "the file has more than 1 MiB"
        mend = "write long sequences with repeats, such as (1 2 3 4) x 100"
        return "", Finding("error", "file-too-large", message, mend, start)
    try:
        text = source.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        return "", _not_utf8(source, error.start, file)
    found = CONTROL.search(text)
    if found:
        message = f"there is a control character here (U+{ord(found.group()):04X})"
        place = Lines(text, file).place(found.start())
        return text, Finding("error", "control-character", message, "delete it", place)
    if not text.strip():
        mend = "`loomfolio new` writes a starter spec"
        return text, Finding("error", "empty-file", "the file is empty", mend, start)
    return text, None


def _not_utf8(source: bytes, offset: int, file: str) -> Finding:
    before = source[:offset].decode("utf-8").removeprefix("\ufeff")
    place = Lines(before, file).place(len(before))
    message = f"the file is not UTF-8: byte {offset + 1} is 0x{source[offset]:02X}"
    return Finding("error", "not-utf-8", message, "save the file again as UTF-8", place)
