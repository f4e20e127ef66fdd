"""The specs in a folder and in those below it, in the order in which a binder has them.

Hidden files and folders are left alone, and so are folders that are only linked to: they may lead
anywhere, and round in a circle.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

MOST_SPECS = 2000
_SUFFIXES = (".yaml", ".yml")
# Every spec says so, whatever else is wrong with it.
_SAYS_SO = re.compile(rb"^[\s{\xef\xbb\xbf]*[\"']?loomfolio[\"']?\s*:", re.MULTILINE)
_KEPT = re.compile(rb"^(?:looms|yarns)\s*:", re.MULTILINE)
_PROJECT = re.compile(rb"^[\s{]*[\"']?(?:project|draft|cloth)[\"']?\s*:", re.MULTILINE)
_IMPERIAL = re.compile(rb"^units\s*:\s*[\"']?imperial\b", re.MULTILINE)
_LOOKED_AT = 1024 * 1024


class TooManySpecs(ValueError):  # noqa: N818 -- it names what is wrong
    """Raised for a folder with more specs than anybody binds."""


@dataclass(frozen=True, slots=True)
class Found:
    """The specs in a folder by name, and YAML files that are of something else.

    Files of looms and yarns are neither. Names are relative to the folder, with `/`.

    `imperial` is how many of the specs are written in imperial units.
    """

    specs: tuple[str, ...]
    others: tuple[str, ...]
    imperial: int = 0

    @property
    def paper(self) -> str:
        """The paper of most specs, where none is named."""
        return "Letter" if 2 * self.imperial > len(self.specs) else "A4"


def specs_in(folder: Path) -> Found:
    """Return the specs in a folder and below it, those of a folder before those further down.

    Raises OSError where the folder cannot be read, TooManySpecs for more than MOST_SPECS.
    """
    specs: list[str] = []
    others: list[str] = []
    imperial = 0
    for name in _yaml_files(folder):
        data = _looked_at(folder / name)
        if data is not None and not _SAYS_SO.search(data):
            others.append(name)
        elif data is None or _PROJECT.search(data) or not _KEPT.search(data):
            specs.append(name)
            imperial += bool(data and _IMPERIAL.search(data))
        if len(specs) > MOST_SPECS:
            raise TooManySpecs(f"there are more than {MOST_SPECS} specs in it")
    return Found(tuple(specs), tuple(others), imperial)


def _yaml_files(folder: Path) -> Iterator[str]:
    def refuse(error: OSError) -> None:
        if error.filename is None or Path(error.filename) == folder:
            raise error

    for place, folders, files in os.walk(folder, onerror=refuse):
        folders[:] = sorted((each for each in folders if not each.startswith(".")), key=_order)
        for name in sorted(files, key=_order):
            if name.lower().endswith(_SUFFIXES) and not name.startswith("."):
                yield (Path(place) / name).relative_to(folder).as_posix()


def _order(name: str) -> tuple[str, str]:
    return name.casefold(), name


def _looked_at(path: Path) -> bytes | None:
    """Return what is in a file, None where it cannot be read: it may be a spec, and is told of."""
    try:
        if not path.is_file():
            return b""
        with path.open("rb") as file:
            return file.read(_LOOKED_AT)
    except OSError:
        return None
