"""What no printed file may hold, and the one error that says so."""

from __future__ import annotations

import zlib

from cards.spec.source import LARGEST

# Specs and kept files; a binder has several of each project.
MOST_FILES = 5000


class NotRecovered(ValueError):  # noqa: N818 -- it names what is wrong
    """Raised when no spec can be had; `mend` says what to do about it."""

    def __init__(self, message: str, mend: str) -> None:
        super().__init__(message)
        self.mend = mend


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
