"""The spec taken out of a PDF or SVG that was printed from it, whoever has had the file since.

Nothing in such a file is trusted: not its size, not its form, not the names in it. Whatever is
wrong with it becomes one NotRecovered.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterable, Iterator

from cards.spec.source import LARGEST
from layouts.attachment import Attachment

# A binder of many folios has some 100 MB; nothing printed has so much.
LARGEST_FILE = 256 * 1024 * 1024
MOST_FILES = 5000
LARGEST_IN_ALL = 64 * 1024 * 1024

_PDF_WITHIN = 1024  # bytes before which a reader looks for the head of a PDF
_MARKUP = re.compile(rb"(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)?[\x00\s]*<")


class NotRecovered(ValueError):  # noqa: N818 -- it names what is wrong
    """Raised when no spec can be had; `mend` says what to do about it."""

    def __init__(self, message: str, mend: str) -> None:
        super().__init__(message)
        self.mend = mend


def recovered(data: bytes) -> list[Attachment]:
    """Return the specs in a PDF or SVG, and behind them the kept files that came with them.

    Raises NotRecovered for what is neither, is damaged, or has no spec in it.
    """
    if b"%PDF-" in data[:_PDF_WITHIN]:
        from layouts.recovered_pdf import files_in_pdf  # noqa: PLC0415 - 150 ms

        found = list(_checked(files_in_pdf(data)))
    elif _MARKUP.match(data):
        from layouts.recovered_svg import files_in_svg  # noqa: PLC0415

        found = list(_checked(files_in_svg(data)))
    else:
        raise NotRecovered("this is neither a PDF nor an SVG", "name a file that was printed")
    if not any(each.relationship == "Source" for each in found):
        raise NotRecovered(
            "there is no spec in it",
            "it was printed with --no-spec, or by another program; look for another print",
        )
    return sorted(found, key=lambda each: each.relationship != "Source")


def _checked(files: Iterable[Attachment]) -> Iterator[Attachment]:
    """Yield files as long as they are not more than any print has."""
    size = 0
    for number, each in enumerate(files, start=1):
        size += len(each.data)
        if number > MOST_FILES or size > LARGEST_IN_ALL:
            raise NotRecovered("there is more in it than any print holds", "take another print")
        yield each


def unpacked(packed: bytes) -> bytes:
    """Return what was packed by zlib; raises NotRecovered beyond what a spec may have."""
    try:
        data = zlib.decompressobj().decompress(packed, LARGEST + 1)
    except zlib.error as error:
        raise damaged() from error
    return limited(data)


def limited(data: bytes) -> bytes:
    """Return the bytes of a file, if they are not more than those of any spec."""
    if len(data) > LARGEST:
        raise NotRecovered(
            "a file in it has more than 1 MiB, and no spec has", "take another print"
        )
    return data


def damaged() -> NotRecovered:
    """Return what is said of a file that cannot be read to its end."""
    return NotRecovered("the file is damaged", "take another copy of it, or another page")
