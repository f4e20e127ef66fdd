"""Names of files that came from outside, and may be those of somebody who means harm.

A name is taken only if it stays in the folder on every system: parts between single `/`, none of
them hidden, `..`, a drive, a device of Windows, or with a character that no file should bear.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

_LONGEST_PART = 200  # bytes; 255 is what most file systems hold
_MOST_PARTS = 16
_FORBIDDEN = re.compile(r'[\\:*?"<>|]')
# Devices of Windows, with or without an ending, from memory.
_DEVICES = re.compile(r"(?i:con|prn|aux|nul|conin\$|conout\$|(?:com|lpt)[0-9¹²³])(?:\..*)?")


def is_safe(name: str) -> bool:
    """Whether a file of that name can be written below a folder, and nowhere else.

    >>> is_safe("looms/attic.yaml"), is_safe("../looms.yaml"), is_safe("C:looms.yaml")
    (True, False, False)
    """
    parts = name.split("/")
    return len(parts) <= _MOST_PARTS and all(map(_is_safe_part, parts))


def _is_safe_part(part: str) -> bool:
    if not part or part.startswith(".") or part[-1] in ". " or part[0] == " ":
        return False
    if _FORBIDDEN.search(part) or _DEVICES.fullmatch(part):
        return False
    if any(unicodedata.category(each)[0] == "C" for each in part):
        return False
    return len(part.encode("utf-8")) <= _LONGEST_PART


def safe_names(names: Iterable[str]) -> list[str]:
    """Return a name for each, its own where that is safe and no other file has it or needs it.

    Names that differ only in capitals are the same on some systems; so are a file and a folder.

    >>> safe_names(["towels.yaml", "/etc/passwd", "Towels.YAML"])
    ['towels.yaml', 'recovered-2.yaml', 'recovered-3.yaml']
    """
    given: list[str] = []
    files: set[str] = set()
    folders: set[str] = set()
    for number, name in enumerate(names, start=1):
        tries = (name, f"recovered-{number}.yaml", f"recovered-{number}-again.yaml")
        chosen = next(each for each in tries if is_safe(each) and _is_free(each, files, folders))
        given.append(chosen)
        files.add(_folded(chosen))
        folders.update(_above(chosen))
    return given


def _is_free(name: str, files: set[str], folders: set[str]) -> bool:
    taken = _folded(name) in files | folders
    return not taken and not any(each in files for each in _above(name))


def _above(name: str) -> list[str]:
    parts = _folded(name).split("/")
    return ["/".join(parts[:place]) for place in range(1, len(parts))]


def _folded(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold()
