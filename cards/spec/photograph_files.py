"""The bytes of a photograph in the folder of a spec; never of a file outside that folder.

Links are followed to their end, which must be in the folder too. Only regular files are opened.
"""

from __future__ import annotations

import stat
from pathlib import Path
from typing import Final

from cards.spec.refusal import NotationError

LARGEST_PHOTOGRAPH: Final = 50 * 1024 * 1024


def photograph_bytes(folder: Path | None, file: str) -> bytes:
    """Return the bytes of a photograph by its path in the `folder` of its spec.

    Raises NotationError saying why it cannot be had: code "no-photograph" where there is none,
    which the sheets can do without.
    """
    if folder is None:
        message = "a spec from standard input has no folder in which photographs could be"
        raise NotationError(message, "name the spec as a file", code="no-photograph")
    try:
        return _read(_within(folder, file))
    except NotationError:
        raise
    except FileNotFoundError:
        message, mend = "there is no such photograph", "check the name; its box stays empty"
        raise NotationError(message, mend, code="no-photograph") from None
    except (OSError, RuntimeError, ValueError) as error:
        why = getattr(error, "strerror", None)
        message = f"the photograph cannot be read{f': {why}' if why else ''}"
        mend = "check the name and the permissions"
        raise NotationError(message, mend, code="unreadable") from error


def _within(folder: Path, file: str) -> Path:
    home = folder.resolve(strict=True)
    path = (home / file).resolve(strict=True)
    if not path.is_relative_to(home):
        message = "a link leads out of the folder of the spec"
        mend = "copy the photograph into the folder of the spec"
        raise NotationError(message, mend, code="photograph-outside")
    return path


def _read(path: Path) -> bytes:
    found = path.stat()
    if not stat.S_ISREG(found.st_mode):
        what = "a folder" if stat.S_ISDIR(found.st_mode) else "no regular file"
        message = f"this is {what}"
        raise NotationError(message, "name a JPEG or PNG file", code="not-a-photograph")
    if found.st_size <= LARGEST_PHOTOGRAPH:
        with path.open("rb") as stream:
            data = stream.read(LARGEST_PHOTOGRAPH + 1)
        if len(data) <= LARGEST_PHOTOGRAPH:
            return data
    message = f"the photograph has more than {LARGEST_PHOTOGRAPH // 1024**2} MiB"
    raise NotationError(message, "scale it down before", code="photograph-too-large")
