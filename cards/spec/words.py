"""Single words of a spec: whole numbers, yes and no, choices with a near miss, names, colours.

Every scalar arrives as text; each reader here refuses what it does not know and never guesses.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction

from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError

_YES = {"yes", "true", "on"}
_NO = {"no", "false", "off"}
_YARN_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,39}")
# These words already mean something in a yarn order.
_TAKEN_NAMES = re.compile(r"x\d*|to|fill", re.IGNORECASE)
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
_SHORT_COLOUR = re.compile(r"#([0-9a-fA-F])([0-9a-fA-F])([0-9a-fA-F])")
_MOST_CHOICES = 24  # named in one mend


def near_miss(word: str, known: Iterable[str]) -> str | None:
    """Return the known word that `word` was most likely meant to be, or None.

    >>> near_miss("color", ["colour", "letter"])
    'colour'
    """
    spelt = {each.lower(): each for each in known}
    found = get_close_matches(word.lower(), spelt, n=3, cutoff=0.6)
    # Slips of the fingers seldom hit the first letter.
    found.sort(key=lambda each: each[:1] != word[:1].lower())
    return spelt[found[0]] if found else None


def suggestion(word: str, known: Iterable[str]) -> str:
    """Return `did you mean 'colour'?`, or a list of the known words when none is near."""
    choices = list(known)
    found = near_miss(word, choices)
    if found:
        return f"did you mean '{shortened(found)}'?"
    named = [shortened(each) for each in choices[:_MOST_CHOICES]]
    return f"use {in_words(named)}" if named == choices else f"use {', '.join(named)}…"


def in_words(words: Iterable[str], last: str = "or") -> str:
    """Join words as a sentence does.

    >>> in_words(["a", "b", "c"])
    'a, b or c'
    """
    *first, end = list(words) or ["nothing"]
    return f"{', '.join(first)} {last} {end}" if first else end


def text_of(value: object, wanted: str) -> str:
    """Return a scalar as text; refuse a list or a mapping, saying what is `wanted` instead."""
    if isinstance(value, str):
        return value
    if isinstance(value, (int, float, Decimal, Fraction)) and not isinstance(value, bool):
        return str(value)
    if isinstance(value, dt.date):
        return value.isoformat()
    shape = "a mapping" if isinstance(value, dict) else "a list"
    if isinstance(value, bool):
        shape = "a truth value"
    raise NotationError(
        f"{shape} stands where {wanted} is wanted",
        "write it as plain text",
        code="wrong-shape",
    )


def read_whole(value: object, what: str, least: int, most: int) -> int:
    """Return a whole number from `least` to `most`; `what` names it in the message."""
    text = text_of(value, "a whole number").strip()
    span = f"write a whole number from {least} to {most:,}"
    if not re.fullmatch(r"\d+", text, re.ASCII):
        raise NotationError(
            f"`{shortened(text)}` is not a whole number", span, code="not-a-whole-number"
        )
    if len(text) > 1 and text.startswith("0"):
        plain = text.lstrip("0") or "0"
        raise NotationError(
            f"`{text[:20]}` begins with a zero", f"write {plain[:20]}", code="not-a-whole-number"
        )
    if len(text) > 12 or not least <= int(text) <= most:
        raise NotationError(f"{text[:20]} is out of range for {what}", span, code="out-of-range")
    return int(text)


def read_yes_no(value: object) -> bool:
    """Return the truth of yes/no, true/false or on/off."""
    if isinstance(value, bool):
        return value
    text = text_of(value, "yes or no").strip()
    if text.lower() in _YES:
        return True
    if text.lower() in _NO:
        return False
    raise NotationError(
        f"`{shortened(text)}` is neither yes nor no", "write yes or no", code="not-yes-or-no"
    )


def read_choice(value: object, choices: tuple[str, ...], what: str) -> str:
    """Return the one of `choices` that is meant, capitals aside; `what` names their kind."""
    text = text_of(value, in_words(choices)).strip()
    spelt = {each.lower(): each for each in choices}
    found = spelt.get(" ".join(text.lower().split()))
    if found is None:
        raise NotationError(
            f"unknown {what} '{shortened(text)}'", suggestion(text, choices), code="unknown-choice"
        )
    return found


def read_yarn_name(value: object) -> str:
    """Return the name by which a yarn is called in an order."""
    text = text_of(value, "a yarn's name").strip()
    if not _YARN_NAME.fullmatch(text):
        raise NotationError(
            f"'{shortened(text)}' cannot be a yarn's name",
            "begin with a letter, then letters, digits, - or _, 40 at most",
            code="bad-name",
        )
    if _TAKEN_NAMES.fullmatch(text):
        raise NotationError(
            f"a yarn cannot be called '{text}', which has a meaning of its own in an order",
            "give the yarn another name",
            code="bad-name",
        )
    return text


def read_colour(value: object) -> str:
    """Return a colour as `#rrggbb` in small letters."""
    text = text_of(value, 'a colour such as "#44546a"').strip()
    if _COLOUR.fullmatch(text):
        return text.lower()
    short = _SHORT_COLOUR.fullmatch(text)
    mend = 'write six hexadecimal digits in quotes, such as "#44546a"'
    if short:
        mend = f'write "#{"".join(each * 2 for each in short.groups())}"'
    elif re.fullmatch(r"[0-9a-fA-F]{6}", text):
        mend = f'write "#{text}"'
    raise NotationError(f"`{shortened(text)}` is not a colour", mend, code="bad-colour")


def read_letter(value: object) -> str:
    """Return the one or two letters or digits that stand beside a yarn's colour."""
    text = text_of(value, "a letter").strip()
    if not re.fullmatch(r"[^\W_]{1,2}", text):
        raise NotationError(
            f"`{shortened(text)}` cannot stand for a yarn",
            "write one or two letters",
            code="bad-letter",
        )
    return text


def read_date(value: object) -> dt.date:
    """Return a date written as year-month-day."""
    text = text_of(value, "a date").strip()
    try:
        # Python also reads week dates and dates without hyphens.
        return dt.date.fromisoformat(text if re.fullmatch(r"[\d-]{10}", text) else "")
    except ValueError:
        raise NotationError(
            f"`{shortened(text)}` is not a date",
            "write year, month and day, such as 2026-03-02",
            code="bad-date",
        ) from None


def plain_name(name: str) -> str:
    """Return a name by which two are one, capitals and spaces aside.

    >>> plain_name(" Attic  Loom")
    'attic loom'
    """
    return " ".join(name.split()).casefold()


def read_numbers(value: object, what: str, most: int, least: int = 1) -> tuple[int, ...]:
    """Return whole numbers written side by side or as a list, each from `least` to `most`.

    A lone 0 and an empty text both mean none at all.
    """
    if isinstance(value, (list, tuple)):
        numbers = []
        for position, each in enumerate(value):
            try:
                numbers.append(read_whole(each, what, least, most))
            except NotationError as error:
                raise _inside(error, position) from None
        return tuple(numbers)
    text = text_of(value, "numbers side by side")
    if text.strip() in {"", "0"}:
        return ()
    numbers = []
    for match in re.finditer(r"[^\s,+]+", text):
        try:
            numbers.append(read_whole(match.group(), what, least, most))
        except NotationError as error:
            raise error.moved(match.start()) from None
    return tuple(numbers)


def read_pairs(value: object, what: str, most: int) -> tuple[tuple[int, int], ...]:
    """Return pairs of different whole numbers, written `1 2, 3 4` or as a list of such texts.

    No number may stand twice.
    """
    listed = isinstance(value, (list, tuple))
    texts = list(value) if isinstance(value, (list, tuple)) else _between_commas(value)
    pairs: list[tuple[int, int]] = []
    offset = 0
    for position, text in enumerate(texts):
        try:
            pairs.append(_pair(text, {each for pair in pairs for each in pair}, what, most))
        except NotationError as error:
            raise _inside(error, position) if listed else error.moved(offset) from None
        offset += len(text) + 1 if isinstance(text, str) else 0
    return tuple(pairs)


def _pair(text: object, taken: set[int], what: str, most: int) -> tuple[int, int]:
    pair = read_numbers(text, what, most)
    if len(pair) == 2 and len({*pair} - taken) == 2:
        return pair[0], pair[1]
    message = f"a pair is two different {what}s, each in one pair only"
    raise NotationError(message, "write pairs such as 1 2, 3 4", code="bad-pair")


def _between_commas(value: object) -> list[object]:
    return list(text_of(value, "pairs such as 1 2, 3 4").split(","))


def _inside(error: NotationError, position: int) -> NotationError:
    return NotationError(
        error.message, error.mend, error.offset, code=error.code, path=(position, *error.path)
    )
