"""How yarn is sold and numbered: sizes, labels, put-ups, prices.

A size names its system. Which of two numbers is the ply differs from system to system; where
the numbers themselves do not settle it, both readings are named and neither is taken.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from cards.spec.notation import kind_of, take_size
from cards.spec.numbers import take_number
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import near_miss, text_of
from cards.units import METRE, POUND, YARD

System = Literal[
    "Ne", "lea", "worsted", "Nm", "tex", "denier", "dram", "run", "cut", "skein",
    "yd/lb", "m/100 g",
]  # fmt: skip
SYSTEMS: tuple[System, ...] = (
    "Ne", "lea", "worsted", "Nm", "tex", "denier", "dram", "run", "cut", "skein",
    "yd/lb", "m/100 g",
)  # fmt: skip
_SPELLINGS: dict[str, System] = {
    "ne": "Ne", "cotton": "Ne", "lea": "lea", "linen lea": "lea", "linen": "lea",
    "worsted": "worsted", "nm": "Nm", "tex": "tex", "denier": "denier", "den": "denier",
    "dram": "dram", "run": "run", "cut": "cut", "skein": "skein",
}  # fmt: skip
# The length of the yarn as it stands, plies and all.
WHOLE_SYSTEMS: frozenset[System] = frozenset({"yd/lb", "m/100 g"})
_DIRECT = {"tex", "denier", "dram"}
# British and worsted usage puts the ply first, the others the count (Taylor, Cotton Weaving and
# Designing, p. 200; trade usage otherwise).
_PLY_FIRST = {"worsted"}
_MOST_PLIES = 12  # in a size written as text; a mapping may say more
_MOST_COUNT = Fraction(1_000_000)


@dataclass(frozen=True, slots=True)
class Label:
    """What the label says: `length` in mm of yarn weigh `mass` in g; `text` as written."""

    length: float
    mass: float
    text: str


@dataclass(frozen=True, slots=True)
class PutUp:
    """One package as sold, by mass in g or by length in mm; `text` as written."""

    mass: float | None
    length: float | None
    text: str


@dataclass(frozen=True, slots=True)
class Price:
    """The price of one put-up; `currency` as written, empty if it was not."""

    amount: Decimal
    currency: str


def parse_label(value: object) -> Label:
    """Return a label such as `590 m per 100 g`, `677 m/100 g` or `3360 yd/lb`."""
    text = text_of(value, "a label such as 590 m per 100 g")
    length, end = take_size(text, "length")
    per = re.match(r"\s*(?:per\b|/)\s*", text[end:], re.IGNORECASE)
    if per is None:
        message = "the label does not say what the length weighs"
        mend = "write it as 590 m per 100 g"
        raise NotationError(message, mend, end, code="bad-label")
    start = end + per.end()
    if text[start : start + 1].isalpha():
        padded = f"{text[:start]}1 {text[start:]}"
        mass, stop = take_size(padded, "mass", start)
        stop -= 2
    else:
        mass, stop = take_size(text, "mass", start)
    if text[stop:].strip(" ."):
        message = f"`{shortened(text[stop:])}` stands after the label"
        raise NotationError(message, "write it as 590 m per 100 g", stop, code="stray-text")
    if not length or not mass:
        raise NotationError(f"{shortened(text)} is nothing", "copy the label", 0, code="zero")
    metres_per_gram = length / mass / 1000
    if not Fraction(1, 100) <= metres_per_gram <= 2000:
        message = f"{shortened(text)} is no yarn: {float(metres_per_gram):g} m to the gram"
        raise NotationError(message, "copy the label again", 0, code="absurd")
    return Label(float(length), float(mass), text.strip())


def parse_put_up(value: object) -> PutUp:
    """Return what one package holds: a mass such as `100 g`, or a length such as `560 yd`."""
    text = text_of(value, "a mass or a length such as 100 g")
    _, end = take_number(text)
    word = re.match(r"\s*([^\W\d_]*)", text[end:])
    kind = kind_of(word.group(1)) if word else None
    if not text[end:].strip():
        number = shortened(text)
        mend = f"write {number} g or {number} m"
        raise NotationError(f"`{number}` has no unit", mend, end, code="missing-unit")
    size, stop = take_size(text, kind or "mass")
    if text[stop:].strip(" ."):
        message = f"`{shortened(text[stop:])}` stands after the size"
        raise NotationError(message, "write one number and one unit", stop, code="stray-text")
    if not size:
        raise NotationError(f"{shortened(text)} is nothing", "write what it holds", 0, code="zero")
    if size > (100_000_000 if kind == "length" else 1_000_000):
        message = f"{shortened(text)} is beyond all reason"
        raise NotationError(message, "write what one package holds", 0, code="absurd")
    mass, length = (None, float(size)) if kind == "length" else (float(size), None)
    return PutUp(mass, length, text.strip())


def parse_price(value: object) -> Price:
    """Return a price such as `9.80`, `£9.80`, `EUR 9.80` or `9.80 EUR`, exact."""
    text = text_of(value, "a price such as 9.80")
    match = re.fullmatch(r"\s*([^\d.,\s-]*)\s*(\S*\d\S*?)\s*([^\d.,\s-]*)\s*", text)
    if match is None or (match[1] and match[3]) or len(match[1] + match[3]) > 5:
        message = f"`{shortened(text)}` is not a price"
        raise NotationError(message, "write 9.80, or 9.80 EUR", 0, code="bad-price")
    number = match[2]
    amount, end = take_number(text, match.start(2))
    if end != match.end(2) or not re.fullmatch(r"\d+(\.\d+)?", number, re.ASCII):
        message = f"`{shortened(number)}` is not a price"
        raise NotationError(message, "write 9.80, or 9.80 EUR", match.start(2), code="bad-price")
    if amount > 1_000_000:
        message = f"{shortened(text)} is beyond all reason"
        raise NotationError(message, "write the price of one put-up", 0, code="absurd")
    return Price(Decimal(number), match[1] or match[3])


@dataclass(frozen=True, slots=True)
class SizeParts:
    """A yarn size taken apart; `count` in the units of its system, of one ply."""

    system: System
    count: float
    ply: int


def parse_size(text: str) -> SizeParts:
    """Return the system, count and ply of a size such as `Ne 8/2`, `worsted 2/18`, `tex 49 x 2`.

    Raises NotationError when the system is missing, or when it is open which number is the ply.

    >>> parse_size("Nm 12/2")
    SizeParts(system='Nm', count=12.0, ply=2)
    """
    words = text.strip()
    by_length = re.match(r".*[A-Za-z]\s*(?:/|per\b)", words, re.IGNORECASE)
    if words[:1].isdigit() and by_length:
        return _from_label(text)
    resultant = re.fullmatch(r"R\s*(\S+)\s*tex(?:\s*/\s*\d+)?", words, re.IGNORECASE)
    if resultant:
        at = text.index(resultant[1])
        count, end = take_number(text, at)
        _at_end(text, end, at + len(resultant[1]))
        return SizeParts("tex", _sane_count(count, text), 1)
    system, start, stop = _system(text)
    return _counted(text, system, start, stop)


def parse_count(value: object) -> float:
    """Return a count that stands alone, such as `8` or `5 1/2`; refuse one with its ply."""
    text = text_of(value, "a count such as 8")
    if re.fullmatch(r"\s*[\d.,]+\s*[/x×]\s*[\d.,]+\s*", text, re.IGNORECASE):
        message = f"`{shortened(text)}` is not one number"
        raise NotationError(message, "write `count: 8` and `ply: 2`", 0, code="bad-yarn-size")
    count, end = take_number(text)
    _at_end(text, end, len(text))
    return _sane_count(count, text)


def _from_label(text: str) -> SizeParts:
    label = parse_label(text)
    metric = re.search(r"\b(m|metres?|meters?)\b", text)
    length, mass = Fraction(label.length), Fraction(label.mass)
    if metric:
        return SizeParts("m/100 g", float(length / METRE / mass * 100), 1)
    return SizeParts("yd/lb", float(length / YARD / (mass / POUND)), 1)


def _system(text: str) -> tuple[System, int, int]:
    """Return the system, and where the numbers beside its name start and end."""
    before = re.fullmatch(r"\s*([A-Za-z][A-Za-z ]*?)\s*(\d.*|[½¼¾⅓⅔].*|-.*)", text, re.DOTALL)
    after = re.fullmatch(r"\s*(.*?[\d½¼¾⅓⅔])\s*([A-Wa-wY-Zy-z][A-Za-z ]*?)\s*", text, re.DOTALL)
    match = before or after
    if match is None:
        raise _no_system(text)
    word, group = (match[1], 2) if before else (match[2], 1)
    system = _SPELLINGS.get(" ".join(word.lower().split()))
    if system is None:
        raise _unknown_system(word, text)
    return system, match.start(group), match.end(group)


def _no_system(text: str) -> NotationError:
    shown = shortened(text)
    if re.fullmatch(r"[\d.,/x× ]*\d", shown, re.ASCII):
        message = f"`{shown}` does not say by which system it counts"
        return NotationError(
            message, f"write Ne {shown} for cotton or Nm {shown}", 0, code="missing-unit"
        )
    word = re.match(r"\s*([^\W\d_]+)\s*[\d½¼¾⅓⅔]", text)
    if word:
        return _unknown_system(word[1], text)
    return NotationError(f"`{shown}` is no yarn size", "write it as Ne 8/2", 0, code="bad-size")


def _unknown_system(word: str, text: str) -> NotationError:
    at = text.index(word)
    if "silk" in word.lower():
        message = "a silk count may be metric, of the single or of the folded yarn"
        mend = "write Nm 20/2, or Ne 20 for a folded count, or give the label"
        return NotationError(message, mend, at, code="ambiguous-size")
    close = near_miss(word, _SPELLINGS)
    mend = f"did you mean {_SPELLINGS[close]}?" if close else f"use {', '.join(SYSTEMS[:-2])}"
    return NotationError(
        f"unknown yarn system '{shortened(word)}'", mend, at, code="unknown-system"
    )


def _counted(text: str, system: System, start: int, stop: int) -> SizeParts:
    numbers = text[start:stop]
    pair = re.fullmatch(r"\s*([\d.,]+)\s*([/x×])\s*([\d.,]+)\s*", numbers, re.IGNORECASE)
    if pair is None:
        count, end = take_number(text, start)
        _at_end(text, end, stop)
        return SizeParts(system, _sane_count(count, text), 1)
    # Cut short, lest 8/2 be read as a fraction.
    first, _ = take_number(text[: start + pair.end(1)], start)
    second, _ = take_number(text, start + pair.start(3))
    if pair[2] != "/" or system in _DIRECT:
        if pair[2] == "/":
            message = f"`{shortened(text)}` does not say which number is the ply"
            pair_text = f"{shortened(pair[1])} x {shortened(pair[3])}"
            mend = f"write {system} {pair_text}, the size of one ply first"
            raise NotationError(message, mend, start, code="ambiguous-size")
        return SizeParts(system, _sane_count(first, text), _sane_ply(second, text))
    count, ply = _settled(text, system, first, second)
    return SizeParts(system, _sane_count(count, text), _sane_ply(ply, text))


def _settled(
    text: str, system: System, first: Fraction, second: Fraction
) -> tuple[Fraction, Fraction]:
    """Which of two numbers is the count and which the ply.

    The order that the system uses is taken when its ply is not the larger number. Against that
    order, a number that can be no ply settles it; otherwise both readings are open.
    """
    usual = (second, first) if system in _PLY_FIRST else (first, second)
    other = (usual[1], usual[0])
    if _can_be_ply(usual[1]) and usual[1] <= usual[0]:
        return usual
    if _can_be_ply(other[1]) and not _can_be_ply(usual[1]):
        return other
    if _can_be_ply(usual[1]) and not _can_be_ply(other[1]):
        return usual
    if not _can_be_ply(usual[1]):
        message = f"neither number in `{shortened(text)}` can be the ply"
        raise NotationError(message, f"write 1 to {_MOST_PLIES} plies", 0, code="bad-size")
    message = f"`{shortened(text)}` may be {_folded(*usual)} or {_folded(*other)}"
    small, large = sorted((first, second))
    mapping = f"{{system: {system}, count: {_shown(large)}, ply: {small}}}"
    mend = f"write {mapping}, or with the two exchanged"
    raise NotationError(message, mend, 0, code="ambiguous-size")


def _folded(count: Fraction, ply: Fraction) -> str:
    return f"a single of {_shown(count)}" if ply == 1 else f"{ply} plies of {_shown(count)}"


def _can_be_ply(number: Fraction) -> bool:
    return number.denominator == 1 and 1 <= number <= _MOST_PLIES


def _shown(number: Fraction) -> str:
    return f"{float(number):g}"


def _sane_count(count: Fraction, text: str) -> float:
    if not 0 < count <= _MOST_COUNT:
        word = "zero" if not count else "absurd"
        message = f"{shortened(text)} is no yarn"
        raise NotationError(message, "copy the size again", 0, code=word)
    return float(count)


def _sane_ply(ply: Fraction, text: str) -> int:
    if not _can_be_ply(ply):
        message = f"{_shown(ply)} in `{shortened(text)}` can be no ply"
        raise NotationError(message, f"write 1 to {_MOST_PLIES} plies", 0, code="bad-size")
    return int(ply)


def _at_end(text: str, end: int, stop: int) -> None:
    if text[end:stop].strip():
        message = f"`{shortened(text[end:stop])}` stands after the count"
        raise NotationError(message, "write it as Ne 8/2", end, code="stray-text")
