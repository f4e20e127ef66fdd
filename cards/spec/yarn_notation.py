"""How yarn is sold: labels, put-ups, prices. How it is numbered stands in `size_notation`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from cards.spec.notation import kind_of, take_size
from cards.spec.numbers import take_number
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.words import text_of


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
