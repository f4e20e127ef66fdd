"""The paper that a spec asks for: a named size or a size of its own, in mm as written."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

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


# A sizes: ISO 216:2007. Letter and Legal: ANSI/ASME Y14.1 and trade usage (from memory),
# 8 1/2 x 11 in and 8 1/2 x 14 in.
NAMED_SIZES = {
    "a3": PaperSize("A3", 297.0, 420.0),
    "a4": PaperSize("A4", 210.0, 297.0),
    "a5": PaperSize("A5", 148.0, 210.0),
    "letter": PaperSize("Letter", 215.9, 279.4),
    "legal": PaperSize("Legal", 215.9, 355.6),
}
_NAMES = ", ".join(size.name for size in NAMED_SIZES.values())
_SMALLEST, _LARGEST = 80, 2000


def parse_paper_size(value: object) -> PaperSize:
    """Return `A4`, `A5`, `Letter`, `Legal`, or a size such as `5 x 8 in` or `200 x 250 mm`.

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
