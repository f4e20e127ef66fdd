"""A file that a spec refers to, as it was read: what must travel with the spec to work it out."""

from __future__ import annotations

import posixpath
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class KeptSource:
    """A file beside a spec: its name relative to the folder of the spec, with `/`, and its bytes.

    The name is that by which the spec asks for it, so that the file is found again where it is put.
    """

    name: str
    data: bytes


def kept_name(referring: str, asked: str, path: Path, folder: Path) -> str:
    """Return the name of a file relative to the folder of the spec.

    `referring` is the name of the file that asks for it, `asked` what that one calls it. `path` is
    where it really lies, below `folder`: what is named by a way out of the folder and back takes
    its name from there.

    >>> kept_name("looms/ours.yaml", "./more.yaml", Path("/x/looms/more.yaml"), Path("/x"))
    'looms/more.yaml'
    >>> kept_name("towels.yaml", "../x/looms.yaml", Path("/x/looms.yaml"), Path("/x"))
    'looms.yaml'
    """
    written = Path(asked).as_posix()
    name = posixpath.normpath(posixpath.join(posixpath.dirname(referring), written))
    return path.relative_to(folder).as_posix() if name.startswith("..") else name
