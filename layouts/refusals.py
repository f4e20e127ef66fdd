"""Why files cannot be written, and what to do about it, in words for the weaver."""

from __future__ import annotations

import errno
from pathlib import Path

from layouts.files import NotRestored

_WHOLE = "an older print there is whole"
_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_FORBIDDEN = {errno.EACCES, errno.EPERM, errno.EROFS}


def print_refusal(error: OSError, folder: Path) -> str:
    """Return one line on a print into `folder` that could not be written."""
    if isinstance(error, NotRestored):
        return (
            f"{error.filename}: is of the newer print, which could not be completed: "
            f"{error.strerror} (print again; the older file is kept as {error.filename2})"
        )
    if isinstance(error, IsADirectoryError):
        mend = f"move it away, or choose another -o; {_WHOLE}"
        return f"{error.filename}: is a folder, where a file is to be written ({mend})"
    if isinstance(error, FileExistsError | NotADirectoryError):
        return _in_the_way(error, folder)
    return f"{folder}: cannot be written: {_reason(error)} ({_mend(error)}; {_WHOLE})"


def _in_the_way(error: OSError, folder: Path) -> str:
    if folder.is_dir():
        mend = f"move it away, or choose another -o; {_WHOLE}"
        return f"{error.filename}: is there and is no file ({mend})"
    file = next((each for each in (folder, *folder.parents) if each.exists()), folder)
    return f"{file}: is a file, not a folder (choose another -o)"


def _mend(error: OSError) -> str:
    if error.errno in _FULL:
        return "free some space, or choose another -o"
    if error.errno in _FORBIDDEN:
        return "make the folder writable, or choose another -o"
    if error.errno == errno.ENAMETOOLONG:
        return "shorten the name of the spec, or choose another -o"
    return "choose another -o"


def starter_refusal(error: OSError, file: Path) -> str:
    """Return one line on a starter spec that could not be written; nothing of it is left."""
    if isinstance(error, FileExistsError):
        return f"{file}: is there already (choose another name; nothing was changed)"
    mends = {errno.ENAMETOOLONG: "choose a shorter name", errno.ENOENT: "make the folder first"}
    mends |= dict.fromkeys(_FULL, "free some space, or choose another folder")
    mend = mends.get(error.errno or 0, "choose another folder")
    return f"{file}: cannot be written: {_reason(error)} ({mend})"


def _reason(error: OSError) -> str:
    return error.strerror or str(error)
