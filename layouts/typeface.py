"""The typeface and its measure: Lato, whose figures all have one width.

Sizes are points, lengths are millimetres. Nothing is kerned, since neither writer kerns, so a
width is the sum of its characters' widths and PDF and SVG break lines alike. Nothing is ever
shrunk: text that is too wide is wrapped, and no character is lost by it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from layouts.drawing import BLACK, Anchor, Text, Weight

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

MM_PER_PT = 25.4 / 72  # ISO 32000: 72 units of user space to the inch
FAMILY = "Lato"

NOTE = 9.0
BODY = 10.5
LABEL = 12.0
FIGURE = 18.0
TITLE = 20.0
DISPLAY = 30.0

# Categories that need shaping, have no ink of their own, or mean something else to every reader.
_UNPRINTABLE = frozenset({"Mn", "Mc", "Me", "Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
_RIGHT_TO_LEFT = frozenset({"R", "AL", "AN"})


def font_file(weight: Weight = "regular") -> Path:
    """Return where the font file of a weight lies."""
    from fontpkg_lato import ROOT  # noqa: PLC0415 - a cold start that prints nothing needs no font

    return Path(ROOT) / "files" / f"{FAMILY}-{weight.capitalize()}.ttf"


def face(weight: Weight = "regular") -> TTFont:
    """Return the font of a weight, read once, as reportlab measures and embeds it."""
    return _face(weight)


@cache
def _face(weight: Weight) -> TTFont:  # a default would be a second entry of the cache
    from reportlab.pdfbase.ttfonts import TTFont  # noqa: PLC0415 - 150 ms that few callers need

    path = font_file(weight)
    return TTFont(path.stem, str(path), asciiReadable=False)


class _Widths(dict[str, float]):
    """Width of each character in mm at one point, looked up in the font when first asked for."""

    def __init__(self, weight: Weight) -> None:
        super().__init__()
        self._weight = weight

    def __missing__(self, character: str) -> float:
        check_glyphs(character)
        width = float(face(self._weight).face.charWidths[ord(character)]) / 1000 * MM_PER_PT
        self[character] = width
        return width


_WIDTHS: dict[Weight, _Widths] = {"regular": _Widths("regular"), "bold": _Widths("bold")}


def measure(text: str, size: float, weight: Weight = "regular") -> float:
    """Width of a line of text in mm at `size` points.

    Raises ValueError naming the first character that the font lacks.
    """
    return sum(map(_WIDTHS[weight].__getitem__, text)) * size


def label(
    x: float,
    y: float,
    text: str,
    size: float,
    weight: Weight = "regular",
    anchor: Anchor = "start",
    colour: str = BLACK,
) -> Text:
    """Return a line of text with its baseline at (x, y) mm and its width measured."""
    return Text(x, y, text, size, measure(text, size, weight), weight, anchor, colour)


def missing_glyphs(text: str) -> list[str]:
    """Characters of the text that cannot be printed, each once, in the order they appear.

    Besides those the font has no glyph for, these are combining marks and right-to-left scripts,
    which would need shaping, and control characters.
    """
    if text.isascii() and text.isprintable():
        return []
    glyphs = face("regular").face.charToGlyph
    return [each for each in dict.fromkeys(text) if not _printable(each, glyphs)]


def check_glyphs(text: str) -> None:
    """Raise ValueError naming the first character of the text that cannot be printed."""
    lacking = missing_glyphs(text)
    if lacking:
        name = unicodedata.name(lacking[0], "a control character").lower()
        raise ValueError(f"the font has no glyph for U+{ord(lacking[0]):04X} {name}")


def _printable(character: str, glyphs: dict[int, int]) -> bool:
    return (
        unicodedata.category(character) not in _UNPRINTABLE
        and unicodedata.bidirectional(character) not in _RIGHT_TO_LEFT
        and bool(glyphs.get(ord(character)))
    )


def ascent(size: float) -> float:
    """Height in mm above the baseline that a line of `size` points keeps free."""
    return float(face().face.ascent) / 1000 * size * MM_PER_PT


def descent(size: float) -> float:
    """Depth in mm below the baseline that a line of `size` points keeps free; positive."""
    return -float(face().face.descent) / 1000 * size * MM_PER_PT


def cap_height(size: float) -> float:
    """Height in mm of a capital letter of `size` points."""
    return float(face().face.capHeight) / 1000 * size * MM_PER_PT


def wrap(text: str, width_mm: float, size: float, weight: Weight = "regular") -> list[str]:
    """Break text into lines no wider than `width_mm` at `size` points.

    Lines end at spaces, which the break replaces, as it does those at the very end; else behind
    a hyphen, dash or slash that does not stand between figures or in a unit; else inside a word
    that is wider than a whole line. A new line in the text stays one. Every character that has ink
    is kept, if need be one to a line. Raises ValueError for a character that the font lacks.

    >>> wrap("24 slate, 2 sand", 16, BODY)
    ['24 slate,', '2 sand']
    """
    if not text:
        return []
    widths = _WIDTHS[weight]
    room = (width_mm + 1e-9) / size  # the sum of a line that fits exactly may end a hair above it
    lines: list[str] = []
    for paragraph in text.split("\n"):
        lines.extend(_wrapped(paragraph, room, widths))
    return lines


# The next word with the spaces before it, or its part up to a mark that may end a line.
_PIECE = re.compile(
    # Not 8/2, 2026-03-02, -5 or yd/lb.
    r" *(?:[^ ]*?(?:[^ \d](?:[-–—]|(?<=[^ \d]{3})/)(?=[^ ])|\d[-–—/](?=[^ \d]))|[^ ]+)"
)


def breakable(text: str) -> list[str]:
    """Return a line of text in the parts between which `wrap` may break it.

    >>> breakable("24 slate, 2-ply")
    ['24', ' slate,', ' 2-', 'ply']
    """
    return _PIECE.findall(text)


def _wrapped(paragraph: str, room: float, widths: _Widths) -> Iterator[str]:
    line, used = "", 0.0
    for piece in _PIECE.findall(paragraph):
        width = sum(map(widths.__getitem__, piece))
        if line and used + width > room:
            yield line
            piece = piece.lstrip(" ")  # noqa: PLW2901 - the break stands for the spaces
            line, used = "", 0.0
            width = sum(map(widths.__getitem__, piece))
        if used + width > room:  # the line is empty here: spaces give way before a word is broken
            piece = piece.lstrip(" ")  # noqa: PLW2901
            *full, piece = _split(piece, room, widths)  # noqa: PLW2901
            yield from full
            width = sum(map(widths.__getitem__, piece))
        line, used = line + piece, used + width
    yield line


def _split(word: str, room: float, widths: _Widths) -> list[str]:
    parts, used = [""], 0.0
    for character in word:
        used += widths[character]
        if parts[-1] and used > room:
            parts.append("")
            used = widths[character]
        parts[-1] += character
    return parts
