"""The bytes of a spec from a file or from standard input, or the finding that says why not.

Only a regular file is opened: a named pipe without a writer would keep the weaver waiting.
"""

from __future__ import annotations

import errno
import stat
import sys
from pathlib import Path
from typing import BinaryIO

from cards.spec.findings import Finding, Place
from cards.spec.source import LARGEST

STDIN_NAME = "<stdin>"
_STDIN_PATHS = {"-", "/dev/stdin"}
# What has been read to its end: a second reading would find it empty.
_read_already: list[BinaryIO] = []

_REASONS = {
    errno.ENOENT: ("no-such-file", "there is no such file", "check the name"),
    errno.EISDIR: ("is-a-folder", "this is a folder", "name a spec file in it"),
    errno.ENOTDIR: ("no-such-file", "a file stands where a folder is named", "check the path"),
    errno.ENAMETOOLONG: ("unreadable", "the name is too long for a file", "check the name"),
    errno.ELOOP: ("unreadable", "this link leads back to itself", "make the link anew"),
    errno.EACCES: ("unreadable", "the file may not be read", "check its permissions"),
    errno.EPERM: ("unreadable", "the file may not be read", "check its permissions"),
}


def name_of(path: str | Path) -> str:
    """Return how findings name the file at `path`."""
    return STDIN_NAME if str(path) == "-" else str(path) or "''"


def read_bytes(path: str | Path) -> bytes | Finding:
    """Return what stands at `path`, one byte more than the most at most; `-` is standard input."""
    name = name_of(path)
    try:
        if str(path) in _STDIN_PATHS:
            return _standard_input(name)
        if not str(path):
            return _finding(name, "no-such-file", "no file is named", "name a spec file")
        mode = Path(path).stat().st_mode
        if not (stat.S_ISREG(mode) or stat.S_ISDIR(mode) or _is_descriptor(path)):
            message, mend = "this is not a regular file", "name a spec file, or - to read a pipe"
            return _finding(name, "not-a-regular-file", message, mend)
        with Path(path).open("rb") as file:
            return file.read(LARGEST + 1)
    except OSError as error:
        return _finding(name, *_reason(error))
    except ValueError:  # a null character, or half of a pair
        message, mend = "no file can have this name", "check the name"
        return _finding(name, "unreadable", message, mend)


def _is_descriptor(path: str | Path) -> bool:
    """Whether this is a pipe that the shell has opened already, as for `<(...)`."""
    return Path(path).parent == Path("/dev/fd")


def _standard_input(name: str) -> bytes | Finding:
    try:
        buffer = sys.stdin.buffer
    except (AttributeError, ValueError):  # none at all, or taken off: closed by who started us
        buffer = None
    if buffer is None or buffer.closed:
        message, mend = "standard input is closed", "pipe a spec into it, or name a file"
        return _finding(name, "no-standard-input", message, mend)
    if any(each is buffer for each in _read_already):
        message, mend = "standard input was read already", "name it once only"
        return _finding(name, "read-already", message, mend)
    _read_already[:] = [buffer]
    return buffer.read(LARGEST + 1)


def _reason(error: OSError) -> tuple[str, str, str]:
    known = _REASONS.get(error.errno or 0)
    if known:
        return known
    why = f": {error.strerror}" if error.strerror else ""
    return "unreadable", f"the file cannot be read{why}", "copy it to another place and try again"


def _finding(name: str, code: str, message: str, mend: str) -> Finding:
    return Finding("error", code, message, mend, Place(name, 1, 1))
