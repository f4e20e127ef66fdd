"""Finished folios kept beside a binder, so that only what has changed is drawn again.

A file holds a line with the SHA-256 of all behind it, a line of JSON, and a PDF. It is taken only
if nothing in it is damaged, if spec, kept files and photographs have the bytes from which it was
made, and if this very program made it on such a page. Else it is as if it were not there: nothing
that is read from it is ever run. A link in the place of the folder is not followed: nothing is
kept, and nothing taken away, in a folder that is not ours.
"""

from __future__ import annotations

import errno
import hashlib
import json
import os
import re
import stat
import sys
import tempfile
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import asdict
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import Any

from cards.binder import BinderEntry
from cards.project.photographs import ProjectPhotograph
from cards.project.source import Source
from cards.spec import Finding, KeptSource, Place
from cards.spec.source import LARGEST
from layouts.binder_folio import BoundFolio, BoundSheet
from layouts.paper import Frame

_SUFFIX = ".folio"
_OURS = re.compile(rf"[0-9a-f]{{40}}\{_SUFFIX}")
_UNFINISHED = re.compile(rf"\.{_OURS.pattern}\.[^.]+\.part")
_LARGEST = 256 * 1024 * 1024
_LIBRARIES = ("reportlab", "numpy", "pydantic", "PyYAML", "fontpkg-lato", "pypdf", "pillow")


class FolioCache:
    """The finished folios of the specs in one folder, on one kind of page."""

    def __init__(self, place: Path, folder: Path, frame: Frame, *, anew: bool = False) -> None:
        """Begin with the folder in which they are kept; with `anew` nothing in it is taken."""
        self._anew = anew
        self._place, self._folder = place, folder
        self._made_by = f"{program_key()} {frame!r}"
        self._used: set[str] = set()
        self.trouble: OSError | None = None

    def find(self, name: str) -> BoundFolio | None:
        """Return the folio of a spec as it is now, if it was kept."""
        path = self._path(name)
        if self._anew:
            return None
        try:
            self._check_ours()
            found = self._read(name, _content(path, _LARGEST))
        except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
            return None  # never written, damaged, or of another make
        if found is not None:
            self._used.add(path.name)
        return found

    def keep(self, folio: BoundFolio) -> None:
        """Keep a folio; where that cannot be it is told by `trouble`, and nothing else happens."""
        path = self._path(folio.name)
        head = json.dumps(self._head(folio), ensure_ascii=True, sort_keys=True).encode("ascii")
        rest = head + b"\n" + folio.pdf
        try:
            self._place.mkdir(parents=True, exist_ok=True)
            self._check_ours()
            _write(path, hashlib.sha256(rest).hexdigest().encode("ascii") + b"\n" + rest)
        except OSError as error:
            self.trouble = error
        else:
            self._used.add(path.name)

    def forget_others(self) -> None:
        """Remove what was kept of specs that are no more, and what a kill left half written."""
        with suppress(OSError):
            self._check_ours()
            for path in sorted(self._place.iterdir()):
                stale = _OURS.fullmatch(path.name) and path.name not in self._used
                if stale or _UNFINISHED.fullmatch(path.name):
                    with suppress(OSError):
                        path.unlink()

    def _check_ours(self) -> None:
        """Raise OSError where the folder is none, or a link to another one."""
        if not stat.S_ISDIR(self._place.lstat().st_mode):
            raise NotADirectoryError(errno.ENOTDIR, "a file or a link is in its place")

    def _path(self, name: str) -> Path:
        key = f"{name}\n{self._made_by}".encode("utf-8", "surrogatepass")
        return self._place / f"{hashlib.sha256(key).hexdigest()[:40]}{_SUFFIX}"

    def _head(self, folio: BoundFolio) -> dict[str, Any]:
        source = folio.source
        findings = [{**asdict(each), "place": asdict(each.place)} for each in folio.findings]
        for each in findings:
            file = Path(each["place"]["file"])
            if file.is_relative_to(self._folder):
                each["place"]["file"] = file.relative_to(self._folder).as_posix()
        return {
            "made_by": self._made_by,
            "name": folio.name,
            "spec": _digest(source.data),
            "kept": [[each.name, _digest(each.data)] for each in source.kept],
            "photographs": [list(each) for each in source.photographs],
            "entry": asdict(folio.entry),
            "sheets": [[each.title, each.pages] for each in folio.sheets],
            "findings": findings,
            "notes": list(folio.notes),
        }

    def _read(self, name: str, data: bytes) -> BoundFolio | None:
        """Return a folio from a file; None if it is another, an error if it is damaged."""
        digest, rest = data.split(b"\n", 1)
        if hashlib.sha256(rest).hexdigest().encode("ascii") != digest:
            return None
        words, pdf = rest.split(b"\n", 1)
        head = json.loads(words)
        if head["made_by"] != self._made_by or head["name"] != name:
            return None
        source = self._source(name, head)
        if source is None:
            return None
        entry = {key: _frozen(value) for key, value in head["entry"].items()}
        return BoundFolio(
            name=name,
            source=source,
            entry=BinderEntry(**entry),
            sheets=tuple(BoundSheet(str(title), int(pages)) for title, pages in head["sheets"]),
            findings=tuple(self._finding(each) for each in head["findings"]),
            notes=tuple(map(str, head["notes"])),
            pdf=pdf,
        )

    def _source(self, name: str, head: dict[str, Any]) -> Source | None:
        """Return spec, kept files and photographs as they are now, if they are as they were."""
        path = self._folder / name
        data = _content(path, LARGEST)
        if _digest(data) != head["spec"]:
            return None
        kept = []
        for called, digest in head["kept"]:
            content = _content(path.parent / called, LARGEST)
            if _digest(content) != digest:
                return None
            kept.append(KeptSource(str(called), content))
        shown = tuple((str(file), str(digest)) for file, digest in head["photographs"])
        if any(ProjectPhotograph("", file, path.parent).digest() != was for file, was in shown):
            return None
        return Source(path.name, data, tuple(kept), shown)

    def _finding(self, data: dict[str, Any]) -> Finding:
        place = data["place"]
        file = str(self._folder / place["file"])
        return Finding(**{**data, "place": Place(file, int(place["line"]), int(place["column"]))})


def _content(path: Path, most: int) -> bytes:
    """Return what is in a regular file of at most so many bytes; raises OSError for any other.

    A pipe would keep the weaver waiting, and a device has no end.
    """
    found = path.stat()
    if not stat.S_ISREG(found.st_mode) or found.st_size > most:
        raise OSError(errno.EINVAL, "not a file of that size", str(path))
    return path.read_bytes()


def _frozen(value: Any) -> Any:  # noqa: ANN401 - what JSON holds
    return tuple(map(str, value)) if isinstance(value, list) else str(value)


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _write(path: Path, data: bytes) -> None:
    """Write a file whole or not at all."""
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
        Path(name).replace(path)
    except BaseException:
        with suppress(OSError):
            Path(name).unlink()
        raise


@cache
def program_key() -> str:
    """Return what stands for this program: all of its modules, and the libraries it draws with.

    A version alone would not do: a program that is being worked on changes without one.
    """
    digest = hashlib.sha256(sys.version.encode())
    for library in _LIBRARIES:
        digest.update(f"{library} {_version(library)}\n".encode())
    for path in _modules():
        digest.update(path.name.encode())
        with suppress(OSError):
            digest.update(path.read_bytes())
    return digest.hexdigest()


def _version(library: str) -> str:
    try:
        return metadata.version(library)
    except metadata.PackageNotFoundError:
        return "?"


def _modules() -> Iterable[Path]:
    rooms = (Path(__file__).parent, Path(sys.modules["cards"].__file__ or "").parent)
    for room in rooms:
        yield from sorted(room.rglob("*.py"))
