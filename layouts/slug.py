"""Names as they stand in the names of files."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from itertools import chain, count

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


def slugs_of(names: Sequence[str], kind: str) -> list[str]:
    """Return a slug for each name; no two are the same.

    >>> slugs_of(["Window", "window!"], "seat")
    ['window', 'window-2']
    """
    found: list[str] = []
    for name in names:
        slug = slug_of(name, kind)
        tries = chain([slug], (f"{slug}-{number}" for number in count(2)))
        found.append(next(each for each in tries if each not in found))
    return found


def _without_accent(letter: str) -> str:
    bare = unicodedata.normalize("NFKD", letter).encode("ascii", "ignore").decode()
    return bare or letter
