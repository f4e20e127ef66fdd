"""The photographs of a project: what each shows, and where it is, for nobody else to open."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from cards.spec import Reading
from cards.spec.photograph_files import photograph_bytes
from cards.spec.refusal import NotationError


@dataclass(frozen=True, slots=True)
class ProjectPhotograph:
    """A photograph: what it shows, and its file in the folder of the spec, None without one."""

    of: str
    file: str
    folder: Path | None

    def data(self) -> bytes:
        """Return the bytes of its file; raises NotationError where that cannot be had."""
        return photograph_bytes(self.folder, self.file)

    def digest(self) -> str:
        """Return the SHA-256 (FIPS 180-4) of its file, nothing where that cannot be had."""
        try:
            return hashlib.sha256(self.data()).hexdigest()
        except NotationError:
            return ""


def photographs_of(reading: Reading) -> tuple[ProjectPhotograph, ...]:
    """Return the photographs of a spec in their order."""
    if reading.spec is None:
        return ()
    folder = reading.path.parent if reading.path is not None else None
    return tuple(ProjectPhotograph(each.of, each.file, folder) for each in reading.spec.photographs)
