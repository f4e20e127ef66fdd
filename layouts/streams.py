"""What is said, to whom: data and paths as bytes to stdout, words in the stream's own encoding.

Data is UTF-8 whatever the surroundings say, and a path is the name that the file really has. A
reader that has seen enough and closes the pipe is no error; a full disk is one. Nobody listening
on stderr changes nothing.
"""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import TextIO

import click


def give_data(text: str) -> bool:
    """Write data to stdout, as UTF-8; return whether it could be."""
    # Bytes of a file name that are no text come out as JSON writes them.
    return _give(text.encode("utf-8", "backslashreplace"))


def give_bytes(data: bytes) -> bool:
    """Write bytes to stdout as they are; return whether it could be."""
    return _give(data)


def give_path(path: Path) -> bool:
    """Write a path to stdout, a line of its own, as the bytes of its name."""
    return _give(os.fsencode(path) + b"\n")


def give_words(text: str) -> bool:
    """Write lines for a person to stdout; what its encoding lacks becomes a question mark."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    return _give(f"{text}\n".encode(encoding, "replace"))


def tell(text: str, *, end: str = "\n") -> None:
    """Write a message to stderr, if anybody listens there."""
    encoding = getattr(sys.stderr, "encoding", None) or "utf-8"
    try:
        click.echo(f"{text}{end}".encode(encoding, "replace"), nl=False, err=True)
    except (OSError, ValueError):
        _silence(sys.stderr)


def seen_by_a_person() -> bool:
    """Tell whether stderr is a terminal."""
    try:
        return sys.stderr is not None and sys.stderr.isatty()
    except ValueError:  # closed
        return False


def open_stderr() -> None:
    """Put something in the place of a stderr that was closed when the program started."""
    if sys.stderr is None:
        sys.stderr = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115 - for good


def _give(data: bytes) -> bool:
    try:
        click.echo(data, nl=False)
    except BrokenPipeError:
        _silence(sys.stdout)
    except OSError as error:
        _silence(sys.stdout)
        mend = "free some space, or lead it elsewhere"
        tell(f"standard output: cannot be written: {error.strerror} ({mend})")
        return False
    return True


def _silence(stream: TextIO | None) -> None:
    """Lead what is still to be written nowhere, or it would fail again when the program ends."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())  # type: ignore[union-attr]  # then it is suppressed
        os.close(nowhere)
