"""The message for a name that a table does not know: what it is, and the nearest that would do."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def unknown(kind: str, name: str, known: Iterable[str]) -> ValueError:
    """Return the error for `name`, which is not among the `known` names of a `kind`.

    >>> str(unknown("fibre", "Cottn", ["cotton", "linen"]))
    "unknown fibre 'Cottn'; did you mean 'cotton'?"
    """
    names = list(known)
    folded = {each.casefold(): each for each in names}
    near = get_close_matches(name.casefold(), folded, n=1)
    if near:
        return ValueError(f"unknown {kind} {name!r}; did you mean {folded[near[0]]!r}?")
    return ValueError(f"unknown {kind} {name!r}; known are {', '.join(names)}")
