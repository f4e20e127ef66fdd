"""Numbers of a text with the word of the trade behind them: 240 ends, 3 m, 2 per dent, a 40 reed.

A number without such a word is nobody's figure. What stands before and behind it in its sentence
is kept, for that tells what it is a figure of.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from cards.units import INCH, KILOGRAM, OUNCE, POUND, YARD
from cards.written_numbers import Number, numbers_in

Kind = Literal[
    "ends", "picks", "length", "ends density", "picks density", "density", "per dent", "reed",
    "shafts", "treadles", "bouts", "packages", "mass",
]  # fmt: skip

_CM: Final = r"(?:cm|centimet(?:re|er)s?)"
_IN: Final = r"(?:in|inch|inches)"
_PER: Final = rf"\s*(?:per|to\s+the|to\s+an?|an?|/)\s*(?P<per>10\s*cm|{_CM}|{_IN})\b"

_DENT: Final = (
    r"\s*(?:ends?\s+|threads?\s+)?(?:per|to\s+(?:a|the|each|every)|in\s+(?:a|each|every)|an?|each)"
    r"\s+dent\b"
)
_PACKAGES: Final = r"\s+(?:skeins?|balls?|cones?|packages?|hanks?|spools?|tubes?|put-ups?)\b"
# The `in` of `in total` is no inch.
_NO_INCH: Final = (
    r"in\s+(?:the|an?|each|every|total|all|this|that|front|one|order|pairs|groups|turn)\b"
)
_LENGTHS: Final = (
    rf"(?:\s*|-)(?!{_NO_INCH})"
    rf"(?P<unit>{_CM}|mm|met(?:re|er)s?|m|{_IN}|yds?|yards?)\b(?!\s*/)"
)

# What follows a number, the first that fits; `per` is the length of a density.
_PATTERNS: Final[tuple[tuple[Kind, str], ...]] = (
    ("reed", rf"(?:[\s-]*dents?)?{_PER}\s+reed\b"),
    ("reed", r"(?:[\s-]dent)?\s+reed\b(?!\s+hook)"),
    ("per dent", _DENT),
    ("ends density", rf"\s*(?:ends?|threads?|warp\s+ends){_PER}"),
    ("ends density", r"\s*(?P<per>epi\b|e\.p\.i\.)"),
    ("picks density", rf"\s*picks?{_PER}"),
    ("picks density", r"\s*(?P<per>ppi\b|p\.p\.i\.)"),
    ("density", _PER),
    ("ends", r"(?:\s+|-)(?:warp\s+)?ends?\b"),
    ("ends", r"\s+warp\s+threads?\b"),
    ("picks", r"(?:\s+|-)picks?\b"),
    ("shafts", r"(?:\s+|-)shafts?\b"),
    ("treadles", r"(?:\s+|-)treadles?\b"),
    ("bouts", r"\s+bouts?\b"),
    ("packages", _PACKAGES),
    ("length", _LENGTHS),
    ("mass", r"(?:\s*|-)(?P<unit>kg|g|grams?|oz|ounces?|lbs?|pounds?)\b"),
)
_BEHIND: Final = tuple((kind, re.compile(each, re.IGNORECASE)) for kind, each in _PATTERNS)

_SENTENCE: Final = re.compile(r"[.;!?](?=\s|$)|\n\s*\n")


@dataclass(frozen=True, slots=True)
class Mention:
    """A number with its word: `value` in mm, g, per mm or counted; `step` that of its last digit.

    `start` and `end` are its place in the text, `before` and `after` the rest of its sentence.
    """

    kind: Kind
    value: float
    step: float
    start: int
    end: int
    text: str
    before: str
    after: str


def mentions_in(text: str) -> Iterator[Mention]:
    """Yield every number of a text that has a word of the trade behind it.

    >>> [(each.kind, each.value) for each in mentions_in("Wind 240 ends, 3 m long.")]
    [('ends', 240.0), ('length', 3000.0)]
    """
    cuts = [match.end() for match in _SENTENCE.finditer(text)]
    for number in numbers_in(text):
        begin = max((cut for cut in cuts if cut <= number.start), default=0)
        end = min((cut for cut in cuts if cut >= number.end), default=len(text))
        found = _behind(text[number.end : end]) or _before(text[begin : number.start])
        if found is None:
            continue
        kind, match = found
        stop = number.end + (match.end() if match is not None else 0)
        yield _mention(text, number, kind, match, (begin, stop, end))


def _behind(after: str) -> tuple[Kind, re.Match[str]] | None:
    for kind, pattern in _BEHIND:
        match = pattern.match(after)
        if match is not None:
            return kind, match
    return None


_REED_BEFORE: Final = re.compile(r"\breed\s*(?:of|with|is|no\.?|number|:)?\s*$", re.IGNORECASE)


def _before(before: str) -> tuple[Kind, None] | None:
    """Return what a number is by what stands before it: the number of a reed."""
    return ("reed", None) if _REED_BEFORE.search(before) else None


def _mention(
    text: str,
    number: Number,
    kind: Kind,
    match: re.Match[str] | None,
    sentence: tuple[int, int, int],
) -> Mention:
    begin, stop, end = sentence
    unit = 1.0
    if match is not None:
        groups = match.groupdict()
        if groups.get("unit"):
            unit = _unit(groups["unit"])
        elif groups.get("per"):
            unit = 1 / _per(groups["per"])
    before, after = text[begin : number.start], text[stop:end]
    if kind == "density" and _REED_BEFORE.search(before):
        kind = "reed"
    return Mention(
        kind=kind,
        value=number.value * unit,
        step=number.step * unit,
        start=number.start,
        end=stop,
        text=text[number.start : stop],
        before=" ".join(before.split()),
        after=" ".join(after.split()),
    )


def _per(words: str) -> float:
    """Return the mm over which threads are counted."""
    words = words.lower()
    if words.startswith("10"):
        return 100.0
    return 10.0 if words.startswith("c") else float(INCH)


def _unit(word: str) -> float:
    """Return a unit in mm or g."""
    word = word.lower()
    for begin, unit in _UNITS.items():
        if word.startswith(begin):
            return float(unit)
    return 1000.0  # m, metres


# By how they begin, the longer ones first.
_UNITS: Final[Mapping[str, Fraction | int]] = {
    "mm": 1, "cm": 10, "cent": 10, "in": INCH, "y": YARD,
    "kg": KILOGRAM, "g": 1, "oz": OUNCE, "ou": OUNCE, "lb": POUND, "p": POUND,
}  # fmt: skip
