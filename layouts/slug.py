"""Names as they stand in the names of files."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path

# A longer name would leave too little room for that of the spec in the name of a file.
_LONGEST_SLUG = 50


def slug_of(name: str, kind: str) -> str:
    """Return a name as it stands in the name of a file: small letters, without accents.

    Letters of other alphabets stay, so that such names are told apart.

    `kind` is what is taken for a name without a letter or figure.

    >>> slug_of("Jack loom, no. 2", "loom")
    'jack-loom-no-2'
    """
    letters = unicodedata.normalize("NFC", name).casefold()
    words = re.findall(r"[^\W_]+", "".join(_without_accent(each) for each in letters))
    return "-".join(words)[:_LONGEST_SLUG].rstrip("-") or kind


def file_stem(spec: str, candidate: str | None, loom: str | None) -> str:
    """Return the stem of what is printed of a spec, with the candidate and the loom asked for."""
    stem = "folio" if spec == "-" else Path(spec).stem
    told = [("as", candidate, "candidate"), ("on", loom, "loom")]
    return stem + "".join(f".{word}-{slug_of(name, kind)}" for word, name, kind in told if name)


def _without_accent(letter: str) -> str:
    bare = unicodedata.normalize("NFKD", letter).encode("ascii", "ignore").decode()
    return bare or letter
