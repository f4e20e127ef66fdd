"""The spec taken out of a PDF or SVG that was printed from it, whoever has had the file since.

Nothing in such a file is trusted: not its size, not its form, not the names in it. Whatever is
wrong with it becomes one NotRecovered.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from layouts.attachment import Attachment
from layouts.not_recovered import MOST_FILES, NotRecovered

# A binder of many folios has some 100 MB; nothing printed has so much.
LARGEST_FILE = 256 * 1024 * 1024
LARGEST_IN_ALL = 64 * 1024 * 1024

_PDF_WITHIN = 1024  # bytes before which a reader looks for the head of a PDF
_MARKUP = re.compile(rb"(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)?[\x00\s]*<")


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
