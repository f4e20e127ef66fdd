"""Figures of the plan named in a text: `wind {warp.ends} ends`; `{{` and `}}` are real braces.

A name is letters, figures, spaces and dots. There is nothing else between braces: no formats, no
arithmetic, no way into the program, and what is put in is never read again.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError

_LONGEST = 200  # characters of a name; an open brace is not searched for its end any further


@dataclass(frozen=True, slots=True)
class Named:
    """A name between braces as written; `offset` is where it starts in the text."""

    name: str
    offset: int


def parts_of(text: str) -> tuple[str | Named, ...]:
    """Return a text as plain parts and names, real braces among the plain parts.

    Raises NotationError at a brace that is not closed, not opened, or empty.

    >>> parts_of("wind {warp.ends} ends {{so}}")
    ('wind ', Named(name='warp.ends', offset=6), ' ends ', '{', 'so', '}')
    """
    parts: list[str | Named] = []
    at = 0
    while at < len(text):
        brace = _next_brace(text, at)
        if brace > at:
            parts.append(text[at:brace])
            at = brace
        elif text[at : at + 2] in ("{{", "}}"):
            parts.append(text[at])
            at += 2
        else:
            named, at = _named(text, at)
            parts.append(named)
    return tuple(parts)


def filled(text: str, value: Callable[[str], str | None]) -> str:
    """Return a text with the figures put in; a name without a value stays as it is written.

    A text with malformed braces is returned as it is. `value` gives the text for a name, or None.

    >>> filled("wind {warp.ends} of {x}", {"warp.ends": "248"}.get)
    'wind 248 of {x}'
    """
    try:
        parts = parts_of(text)
    except NotationError:
        return text
    return "".join(part if isinstance(part, str) else _value(part, value) for part in parts)


def _value(named: Named, value: Callable[[str], str | None]) -> str:
    found = value(named.name)
    return f"{{{named.name}}}" if found is None else found


def _next_brace(text: str, at: int) -> int:
    found = [place for place in (text.find("{", at), text.find("}", at)) if place >= 0]
    return min(found, default=len(text))


def _named(text: str, at: int) -> tuple[Named, int]:
    """Return the name between braces that opens at `at`, and where the text goes on."""
    if text[at] == "}":
        message, mend = "a brace is closed that was not opened", "write }} for a real brace"
        raise NotationError(message, mend, at, code="stray-brace")
    end = _next_brace(text[: at + 2 + _LONGEST], at + 1)
    if text[end : end + 1] != "}":
        begun = shortened(" ".join(text[at : at + 20].split()))
        message = f"the brace of `{begun}` is not closed"
        mend = "close it behind the name, as {warp.ends}, or write {{ for a real brace"
        raise NotationError(message, mend, at, code="open-brace")
    inside = text[at + 1 : end]
    if not inside.strip():
        message, mend = "there is no name in the braces", "write one, as {warp.ends}"
        raise NotationError(message, mend, at, code="empty-braces")
    start = at + 1 + len(inside) - len(inside.lstrip())
    return Named(inside.strip(), start), end + 1
