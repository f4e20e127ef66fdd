"""How a value or a key of the spec is shown in a message: short, and in one line.

What a file holds may be endless, and may hold line ends that would forge a finding of its own.
"""

from __future__ import annotations

_MOST_SHOWN = 40


def one_line(text: str) -> str:
    r"""Return `text` with everything that is not printable written as an escape.

    >>> one_line("a\nb")
    'a\\nb'
    """
    if text.isprintable():
        return text
    return "".join(_visible(character) for character in text)


def shortened(text: str, most: int = _MOST_SHOWN) -> str:
    """Return `text` stripped, in one line, and cut with … when it has more than `most` characters.

    >>> shortened("a very long word indeed", 12)
    'a very long…'
    """
    text = text.strip()
    if len(text) > most:
        text = f"{text[: most - 1].rstrip()}…"
    return one_line(text)


def _visible(character: str) -> str:
    if character.isprintable():
        return character
    if character == "\u00a0":
        return " "
    return character.encode("unicode_escape").decode("ascii")
