"""The paper that a spec asks for: a named size or a size of its own, in mm as written."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from cards.spec.notation import take_size
from cards.spec.numbers import take_number
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import near_miss, text_of


@dataclass(frozen=True, slots=True)
class PaperSize:
    """A size of paper: its name as it is printed, width and height in mm before any turning."""

    name: str
    width: float
    height: float


# A sizes: ISO 216:2007. Letter and Tabloid: A and B of ANSI/ASME Y14.1, Legal and Half Letter:
# trade usage (from memory): 8 1/2 x 11, 11 x 17, 8 1/2 x 14 and 5 1/2 x 8 1/2 in. Smaller ones,
# such as A6 and index cards, have no room for a card that is read at arm's length.
NAMED_SIZES = {
    "a3": PaperSize("A3", 297.0, 420.0),
    "a4": PaperSize("A4", 210.0, 297.0),
    "a5": PaperSize("A5", 148.0, 210.0),
    "letter": PaperSize("Letter", 215.9, 279.4),
    "legal": PaperSize("Legal", 215.9, 355.6),
    "half letter": PaperSize("Half Letter", 139.7, 215.9),
    "tabloid": PaperSize("Tabloid", 279.4, 431.8),
}
_NAMES = ", ".join(size.name for size in NAMED_SIZES.values())
_SMALLEST, _LARGEST = 80, 2000


def half_of(
    size: PaperSize, orientation: Literal["portrait", "landscape"] = "portrait"
) -> PaperSize:
    """Return exactly half of a sheet, cut or folded across its longer side.

    The page of a sheet that lies across and is cut down its middle; `landscape` is that of a sheet
    that stands upright, cut level. Unlike the next size of a standard nothing is rounded.

    >>> half_of(NAMED_SIZES["a4"])
    PaperSize(name='half of A4', width=148.5, height=210.0)
    """
    short, long = sorted((size.width, size.height))
    width, height = (long / 2, short) if orientation == "portrait" else (short, long / 2)
    return PaperSize(f"half of {size.name}", width, height)


def parse_paper_size(value: object) -> PaperSize:
    """Return the size called `A4` or `Letter`, or a size such as `5 x 8 in` or `200 x 250 mm`.

    Raises NotationError for an unknown name and for sizes outside 80 mm to 2 m.
    """
    text = text_of(value, "a paper size such as A4")
    words = " ".join(text.split())
    shown = shortened(words)
    named = NAMED_SIZES.get(words.lower())
    if named:
        return named
    cross = re.search(r"\s*[x×]\s*", text, re.IGNORECASE)
    if cross is None or not re.match(r"\s*\W*[\d½¼¾⅓⅔]", text):
        raise _unknown(shown)
    height, end = take_size(text, "length", cross.end())
    number, stop = take_number(text[: cross.start()])
    if text[stop : cross.start()].strip():
        width, stop = take_size(text[: cross.start()], "length")
    else:
        width = number * height / take_number(text, cross.end())[0] if height else Fraction(0)
    if text[end:].strip() or text[stop : cross.start()].strip():
        mend = "write it as 200 x 250 mm"
        raise NotationError(f"`{shown}` is no paper size", mend, 0, code="stray-text")
    if not (_SMALLEST <= width <= _LARGEST and _SMALLEST <= height <= _LARGEST):
        what = "small" if min(width, height) < _SMALLEST else "large"
        mend = f"give each side {_SMALLEST} mm to {_LARGEST // 1000} m, or use {_NAMES}"
        raise NotationError(f"{shown} is too {what} for a sheet", mend, 0, code="absurd")
    return PaperSize(words, float(width), float(height))


def _unknown(shown: str) -> NotationError:
    close = near_miss(shown, [size.name for size in NAMED_SIZES.values()])
    mend = f"use {_NAMES}, or a size such as 5 x 8 in"
    if close:
        mend = f"did you mean '{close}'? {mend}"
    return NotationError(f"unknown paper size '{shown}'", mend, 0, code="unknown-choice")
