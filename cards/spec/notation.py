"""Quantities of the spec: lengths, densities, shares, masses.

Read as exact Fractions, given as floats in mm, threads per mm, fractions of one, and g. A size
must name its unit; what could be read in two ways is refused with both readings.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal

from cards.spec.numbers import take_number
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import near_miss, text_of
from cards.units import (
    CENTIMETRE,
    FOOT,
    INCH,
    KILOGRAM,
    METRE,
    OUNCE,
    POUND,
    YARD,
)

Kind = Literal["length", "mass"]

_LENGTHS = {
    Fraction(1): "mm millimetre millimetres millimeter millimeters",
    CENTIMETRE: "cm centimetre centimetres centimeter centimeters",
    METRE: "m metre metres meter meters",
    INCH: "in inch inches",
    FOOT: "ft foot feet",
    YARD: "yd yds yard yards",
}
_MASSES = {
    Fraction(1): "g gram grams gramme grammes",
    KILOGRAM: "kg kilogram kilograms",
    OUNCE: "oz ounce ounces",
    POUND: "lb lbs pound pounds",
}
LENGTH_UNITS = {word: size for size, words in _LENGTHS.items() for word in words.split()}
MASS_UNITS = {word: size for size, words in _MASSES.items() for word in words.split()}
_SHORT = ("mm", "cm", "m", "in", "ft", "yd", "g", "kg", "oz", "lb")
_THREADS = {"epi", "ppi", "dpi"}

LONGEST = 1_000_000.0  # 1 km in mm
_DENSEST = 10_000  # threads in 10 cm
_HEAVIEST = Fraction(1_000_000)  # 1 t in g
_EXAMPLES = {"length": "130 cm or 51 in", "mass": "100 g or 4 oz"}
_NAMES = {"length": "a length", "mass": "a mass", "density": "threads to a length"}


def parse_length(
    value: object, *, zero: bool = False, least: int = 0, most: float = LONGEST
) -> float:
    """Return a length in mm, such as `4 1/2 in`, `2.5 m` or `4½ in`; `zero` allows `0 cm`.

    `least` and `most` are in mm; what lies outside them is refused as absurd.

    Raises NotationError for a missing, unknown or wrong unit and for absurd sizes.

    >>> parse_length("4 1/2 in")
    114.3
    """
    text = text_of(value, "a length such as 130 cm")
    size, end = take_size(text, "length")
    _nothing_after(text, end)
    if size or not zero:
        _not_below(text, size, Fraction(least), f"{least} mm")
        _not_above(text, size, Fraction(most), f"{most / 1000:g} m")
    return float(size)


def parse_mass(value: object) -> float:
    """Return a mass in g, such as `100 g`, `1.5 kg` or `8 1/2 oz`."""
    text = text_of(value, "a mass such as 100 g")
    size, end = take_size(text, "mass")
    _nothing_after(text, end)
    _not_below(text, size, Fraction(0), "")
    _not_above(text, size, _HEAVIEST, "1,000 kg")
    return float(size)


def parse_percent(value: object, *, least: int = 0, most: int = 60) -> float:
    """Return a share written in percent as a fraction of one; the limits are in percent."""
    text = text_of(value, "a share such as 8 %")
    number, end = take_number(text)
    rest = text[end:].strip().lower()
    if rest not in {"%", "percent", "per cent"}:
        if not rest:
            shown = shortened(text)
            per_hundred = f"{float(number * 100):g} %"
            mend = f"write {shown} %" if number >= 1 else f"write {per_hundred} or {shown} %"
            message = f"`{shown}` does not say whether it is percent"
            raise NotationError(message, mend, end, code="missing-unit")
        at = end + len(text[end:]) - len(text[end:].lstrip())
        message = f"`{shortened(text[at:])}` stands where % is wanted"
        raise NotationError(message, "write the share in percent, as 8 %", at, code="wrong-unit")
    if not least <= number <= most:
        message = f"{shortened(text)} is out of range"
        mend = f"write {least} to {most} %"
        raise NotationError(message, mend, 0, code="out-of-range")
    return float(number / 100)


def parse_density(value: object, *, least: int = 0, most: int = _DENSEST) -> float:
    """Return threads or dents per mm, such as `40 per 10 cm`, `5 per cm`, `24 epi`.

    `least` and `most` count them in 10 cm; fewer and more are refused as absurd.

    >>> parse_density("40 per 10 cm")
    0.4
    """
    text = text_of(value, "a density such as 5 per cm")
    number, end = take_number(text)
    rest = text[end:]
    short = re.fullmatch(r"\s*(epi|ppi|dpi)\s*", rest, re.IGNORECASE)
    density = number / (INCH if short else _taken_per(text, end))
    _not_below(text, density, Fraction(least, 100), f"{least} per 10 cm")
    limit = "100 per mm" if most == _DENSEST else f"{most} per 10 cm"
    _not_above(text, density, Fraction(most, 100), limit)
    return float(density)


def _taken_per(text: str, end: int) -> Fraction:
    """Return the length in mm that a density is counted over."""
    rest = text[end:]
    at = end + len(rest) - len(rest.lstrip())
    per = re.match(r"\s*(?:ends?|picks?|dents?|threads?)?\s*(?:per\b|/)\s*", rest, re.IGNORECASE)
    number = shortened(text[:end])
    if per is None:
        word = rest.strip().split(" ")[0] if rest.strip() else ""
        if not word:
            mend = f"write {number} per cm or {number} per in"
            raise NotationError(f"`{number}` has no unit", mend, end, code="missing-unit")
        kind = kind_of(word)
        mend = "write threads to a length, such as 5 per cm or 12 per in"
        if kind:
            message = (
                f"{shortened(text)} is {_NAMES[kind]}, and {_NAMES['density']} are wanted here"
            )
        else:
            message = f"unknown unit `{shortened(word)}`"
            close = near_miss(word, _THREADS)
            mend = f"did you mean {close}?" if close else mend
        raise NotationError(message, mend, at, code="wrong-unit" if kind else "unknown-unit")
    start = end + per.end()
    if not text[start:].strip():
        mend = f"write {number} per cm or {number} per in"
        raise NotationError("a length is missing after `per`", mend, start, code="missing-unit")
    over = text[start:]
    if over[0].isalpha():
        size, stop = _take_unit(text, start, "length", "1")
    else:
        size, stop = take_size(text, start=start, kind="length")
    _nothing_after(text, stop)
    if not size:
        raise NotationError("a density over no length", "write 5 per cm", start, code="zero")
    return size


def take_size(text: str, kind: Kind, start: int = 0) -> tuple[Fraction, int]:
    """Return a size in mm or g that begins at `start`, and the index just after its unit."""
    number, end = take_number(text, start)
    unit, stop = _take_unit(text, end, kind, shortened(text[start:end]))
    return number * unit, stop


def _take_unit(text: str, start: int, kind: Kind, number: str) -> tuple[Fraction, int]:
    """Return the size of the unit that stands at `start`; `number` is what it counts."""
    match = re.compile(r"\s*([^\W\d_]+|\S)?").match(text, start)
    word = (match.group(1) or "") if match else ""
    at = match.start(1) if match and word else start
    if not word:
        units = ("cm", "in") if kind == "length" else ("g", "oz")
        mend = f"write {number} {units[0]} or {number} {units[1]}"
        raise NotationError(f"`{number}` has no unit", mend, start, code="missing-unit")
    if word.isdigit():
        message = f"`{shortened(text)}` has two numbers side by side"
        raise NotationError(message, "write one number and its unit", at, code="bad-number")
    table = LENGTH_UNITS if kind == "length" else MASS_UNITS
    unit = table.get(word, table.get(word.lower()))
    if unit is None:
        raise _wrong_unit(text, word, at, kind)
    return unit, at + len(word)


def kind_of(word: str) -> Literal["length", "mass"] | None:
    """Return what a unit measures, None for an unknown one."""
    if word.lower() in LENGTH_UNITS:
        return "length"
    return "mass" if word.lower() in MASS_UNITS else None


def _wrong_unit(text: str, word: str, at: int, kind: Kind) -> NotationError:
    shown, number = shortened(text), shortened(text[:at])
    if word in {'"', "”", "″", "'", "’", "′"}:
        unit = "ft" if word in "'’′" else "in"
        mend = f"write {number} {unit}"
        return NotationError(f"`{word}` is not read as a unit", mend, at, code="unknown-unit")
    other = kind_of(word)
    if other:
        message = f"{shown} is {_NAMES[other]}, and {_NAMES[kind]} is wanted here"
        return NotationError(message, f"write {_EXAMPLES[kind]}", at, code="wrong-unit")
    if word.lower() in {*_THREADS, "per", "%", "/"}:
        message = f"{_NAMES[kind]} is wanted here, not {shown}"
        return NotationError(message, f"write {_EXAMPLES[kind]}", at, code="wrong-unit")
    close = near_miss(word, [unit for unit in _SHORT if kind_of(unit) == kind])
    units = ", ".join(unit for unit in _SHORT if kind_of(unit) == kind)
    mend = f"did you mean {close}?" if close else f"use {units}"
    return NotationError(f"unknown unit `{shortened(word)}`", mend, at, code="unknown-unit")


def _nothing_after(text: str, end: int) -> None:
    rest = text[end:]
    if rest.strip(" .") == "" and "." not in rest[1:]:
        return
    at = end + len(rest) - len(rest.lstrip())
    message = f"`{shortened(rest)}` stands after the size"
    raise NotationError(message, "write one number and one unit", at, code="stray-text")


def _not_below(text: str, size: Fraction, least: Fraction, limit: str) -> None:
    if size == 0:
        message = f"{shortened(text)} is nothing"
        raise NotationError(message, "write a size above zero", 0, code="zero")
    if size < least:
        message = f"{shortened(text)} is less than anybody weaves"
        raise NotationError(message, f"write {limit} or more", 0, code="absurd")


def _not_above(text: str, size: Fraction, most: Fraction, limit: str) -> None:
    if size > most:
        message = f"{shortened(text)} is beyond all reason"
        raise NotationError(message, f"stay within {limit}", 0, code="absurd")
