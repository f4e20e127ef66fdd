"""Numbers as weavers write them: whole, decimal, with a fraction, or with a fraction sign.

Every number is an exact Fraction. What could be read in two ways is refused.
"""

from __future__ import annotations

import re
from fractions import Fraction

from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError

_SIGNS = {
    "½": Fraction(1, 2), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3), "¼": Fraction(1, 4),
    "¾": Fraction(3, 4), "⅕": Fraction(1, 5), "⅖": Fraction(2, 5), "⅗": Fraction(3, 5),
    "⅘": Fraction(4, 5), "⅙": Fraction(1, 6), "⅚": Fraction(5, 6), "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8),
}  # fmt: skip
MOST_DIGITS = 12

# A number at the start of a text: 4 1/2, 1/2, 4½, ½, 4.5, 4.
NUMBER = re.compile(
    rf"""(?P<whole>\d+)\s*(?P<sign>[{"".join(_SIGNS)}])
       | (?P<only>[{"".join(_SIGNS)}])
       | (?P<mixed>\d+)\s+(?P<over>\d+)\s*[/⁄]\s*(?P<under>\d+)
       | (?P<top>\d+)\s*[/⁄]\s*(?P<bottom>\d+)
       | (?P<plain>\d+\.\d+|\.\d+|\d+)""",
    re.VERBOSE | re.ASCII,
)


def take_number(text: str, start: int = 0) -> tuple[Fraction, int]:
    """Return the number that begins at `start`, and the index just after it.

    Raises NotationError when there is none, when it is negative, too long, or written with a
    decimal comma or an exponent.

    >>> take_number("4 1/2 in")
    (Fraction(9, 2), 5)
    """
    at = start + len(text[start:]) - len(text[start:].lstrip())
    if text[at : at + 1] in {"-", "−", "–"}:
        raise NotationError(
            f"`{shortened(text)}` is negative", "write a size above zero", at, code="negative"
        )
    match = NUMBER.match(text, at)
    if match is None:
        raise _no_number(text, at)
    _refuse_odd(text, match)
    return _value(match, at), match.end()


def _no_number(text: str, at: int) -> NotationError:
    if not text[at:]:
        return NotationError("a number is missing", "write the number", at, code="no-number")
    word = text[at:].split(maxsplit=1)[0]
    if word.lower().lstrip("+") in {"inf", "infinity", "nan", ".inf", ".nan"}:
        return NotationError(
            f"`{shortened(word)}` is not a size", "write a number", at, code="not-a-number"
        )
    return NotationError(
        f"`{shortened(word)}` stands where a number is wanted",
        "begin with the number",
        at,
        code="no-number",
    )


def _refuse_odd(text: str, match: re.Match[str]) -> None:
    rest = text[match.end() :]
    comma = re.match(r",(\d+)", rest)
    if comma and match["plain"]:
        whole, part = shortened(match["plain"]), shortened(comma.group(1))
        mend = f"write {whole}.{part}, not {whole},{part}"
        if len(part) == 3 and "." not in whole:
            mend = f"write {whole}{part} for thousands, or {whole}.{part}"
        raise NotationError(
            f"`{whole},{part}` has a comma", mend, match.start(), code="decimal-comma"
        )
    if re.match(r"[eE][+-]?\d", rest):
        word = re.match(r"\S+", text[match.start() :])
        raise NotationError(
            f"`{shortened(word.group() if word else text)}` is written with an exponent",
            "write the number out",
            match.start(),
            code="exponent",
        )
    if re.match(r"\.\d|\.(?=\s|$)", rest):
        raise NotationError(
            f"`{shortened(text)}` has a point too many",
            "write 2.5 or 2",
            match.end(),
            code="bad-number",
        )
    if any(len(each) > MOST_DIGITS for each in re.findall(r"\d+", match.group().replace(".", ""))):
        raise NotationError(
            f"the number has more than {MOST_DIGITS} digits",
            "write fewer digits",
            match.start(),
            code="too-many-digits",
        )


def _value(match: re.Match[str], at: int) -> Fraction:
    if match["sign"]:
        return int(match["whole"]) + _SIGNS[match["sign"]]
    if match["only"]:
        return _SIGNS[match["only"]]
    if match["plain"]:
        return Fraction(match["plain"])
    whole = int(match["mixed"] or 0)
    over, under = int(match["over"] or match["top"]), int(match["under"] or match["bottom"])
    if under == 0:
        raise NotationError(
            f"`{shortened(match.group())}` divides by zero",
            "write another fraction",
            at,
            code="bad-number",
        )
    return whole + Fraction(over, under)
