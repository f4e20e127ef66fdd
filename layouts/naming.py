"""How the files of a print are called: after the spec, and what of it was asked for."""

from __future__ import annotations

from pathlib import Path


def stem_of(spec: str) -> str:
    """Return what the names of files printed from a spec begin with.

    >>> stem_of("specs/towels.yaml"), stem_of("-")
    ('towels', 'folio')
    """
    return "folio" if spec == "-" else Path(spec).stem


def as_and_on(candidate: str | None, loom: str | None) -> str:
    """Return what the name of a file says of the candidate and the loom that were asked for.

    >>> as_and_on("cotton", None)
    '.as-cotton'
    """
    from layouts.slug import slug_of  # noqa: PLC0415

    told = [("as", candidate, "candidate"), ("on", loom, "loom")]
    return "".join(f".{word}-{slug_of(name, kind)}" for word, name, kind in told if name)
