"""Numbers in a text: in figures, with fractions, and in words.

Left out is what only looks like a number: dates, yarn sizes such as 8/2, patterns such as 2-1-2,
and ranges such as 10 to 12, which say nothing exact.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

_UNITS: Final = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_TEENS: Final = (
    "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen",
    "eighteen", "nineteen",
)  # fmt: skip
_TENS: Final = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_VALUES: Final = {
    **{word: place for place, word in enumerate(_UNITS, start=1)},
    **{word: place for place, word in enumerate(_TEENS, start=10)},
    **{word: 10 * place for place, word in enumerate(_TENS, start=2)},
}
_FRACTIONS: Final = {
    "½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4), "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
}  # fmt: skip
_PARTS: Final = {"half": Fraction(1, 2), "quarter": Fraction(1, 4)}

# What has more of them is no count or length of a weaver's, and soon too large to reckon with.
_MOST_FIGURES: Final = 15

_SIGNS: Final = "".join(_FRACTIONS)
_FIGURES: Final = re.compile(
    rf"""(?<![\w.,/\-–])(?:
        (?P<whole>\d{{1,3}}(?:[,\u00a0\u202f]\d{{3}})+(?!\d)|\d{{2,3}}\ \d{{3}}(?!\d)|\d+)
        (?P<decimals>[.,]\d{{1,3}}(?!\d))?
        (?:[ \u00a0]?(?P<sign>[{_SIGNS}])|[ ](?P<over>\d{{1,2}})/(?P<under>\d{{1,2}})(?!\d))?
        |(?P<alone>[{_SIGNS}])
        |(?P<top>\d)/(?P<bottom>[248]|16)(?=\s*(?:in|yd|inch|yard)\b)
    )(?![\d{_SIGNS}]|[.,/]\d|[-–]\d)""",
    re.VERBOSE,
)

_SMALL: Final = (
    rf"(?:(?:{'|'.join(_TENS)})(?:[- ](?:{'|'.join(_UNITS)}))?|{'|'.join(_TEENS + _UNITS)})"
)
_HUNDREDS: Final = rf"(?:(?:a|{'|'.join(_UNITS)})\s+hundred(?:\s+(?:and\s+)?{_SMALL})?)"
_WORDS: Final = re.compile(
    rf"""\b(?:
        (?:a|{_SMALL})\s+thousand(?:,?\s+(?:and\s+)?(?:{_HUNDREDS}|{_SMALL}))?
        |{_HUNDREDS}|{_SMALL}
    )(?:\s+and\s+a\s+(?P<part>half|quarter))?(?![\w]|-(?:{"|".join(_VALUES)})\b)""",
    re.VERBOSE | re.IGNORECASE,
)
_WORD: Final = re.compile(rf"\b(?:hundred|thousand|{'|'.join(_VALUES)})\b")
# Units may stand twice, as in `4 cm to 5 cm`.
_RANGE: Final = re.compile(r"\s*(?:cm|mm|m|in|yd|g|oz|%)?\s*(?:-|–|to|or)\s*")


@dataclass(frozen=True, slots=True)
class Number:
    """A number written at `start` to `end` of a text; `step` is the last digit's, such as 0.1."""

    start: int
    end: int
    value: float
    step: float


def numbers_in(text: str) -> list[Number]:
    """Return the numbers of a text in order, without those of a range.

    >>> [number.value for number in numbers_in("two hundred and forty ends, 4 1/2 in, 8/2, 3 to 5")]
    [240.0, 4.5]
    """
    found = sorted([*_in_figures(text), *_in_words(text)], key=lambda each: each.start)
    return [
        each
        for place, each in enumerate(found)
        if not (place and _is_range(text, found[place - 1], each))
        and not (place + 1 < len(found) and _is_range(text, each, found[place + 1]))
    ]


def _is_range(text: str, one: Number, other: Number) -> bool:
    between = text[one.end : other.start]
    if between.strip() == "and":
        # `between 10 and 12`, but not `2 ends and 3 picks`
        return "between" in text[: one.start][-12:]
    return _RANGE.fullmatch(between) is not None


def _in_figures(text: str) -> Iterator[Number]:
    for match in _FIGURES.finditer(text):
        whole, decimals = match["whole"], match["decimals"] or ""
        value, step = Fraction(0), Fraction(1)
        if len(whole or "") > _MOST_FIGURES:
            continue
        if whole:
            places = decimals.replace(",", ".")
            value = Fraction(re.sub(r"\D", "", whole) + places)
            step = Fraction(1, 10 ** max(0, len(places) - 1))
        sign = match["sign"] or match["alone"]
        top, bottom = match["over"] or match["top"], match["under"] or match["bottom"]
        if sign:
            value, step = value + _FRACTIONS[sign], Fraction(1, 8)
        elif top and bottom and int(bottom):
            value, step = value + Fraction(int(top), int(bottom)), Fraction(1, 8)
        yield Number(match.start(), match.end(), float(value), float(step))


def _in_words(text: str) -> Iterator[Number]:
    for match in _WORDS.finditer(text):
        total = current = 0
        for word in _WORD.findall(match[0].lower()):
            if word == "thousand":
                total, current = total + 1000 * (current or 1), 0
            elif word == "hundred":
                current = 100 * (current or 1)
            else:
                current += _VALUES[word]
        part = _PARTS.get((match["part"] or "").lower(), Fraction(0))
        value = float(total + current + part)
        yield Number(match.start(), match.end(), value, 0.25 if part else 1.0)
