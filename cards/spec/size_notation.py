"""How yarn is numbered: singles, folded yarns, unlike singles folded together.

A size names its system. Which of two numbers is the ply differs from system to system; where
the numbers themselves do not settle it, both readings are named and neither is taken.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

from cards.spec.numbers import take_number
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.size_systems import (
    DIRECT,
    GRAINS,
    PLY_FIRST,
    SPELLINGS,
    WHOLE,
    SizeParts,
    System,
    unknown_system,
)
from cards.spec.words import text_of
from cards.spec.yarn_notation import parse_label
from cards.units import KILOGRAM, METRE, OUNCE, POUND, YARD

_MOST_PLIES = 12  # after a stroke, where it must be told from a count
MOST_TIMES = 100  # after an x, or in a mapping
_MOST_COMPONENTS = 12
_MOST_COUNT = Fraction(1_000_000)
_DIGIT = "[\\d½¼¾⅓⅔]"
# The mm and the g of number 1.
_LABELLED: dict[System, tuple[Fraction, Fraction]] = {
    "m/100 g": (METRE, KILOGRAM / 10), "m/50 g": (METRE, KILOGRAM / 20), "m/kg": (METRE, KILOGRAM),
    "yd/lb": (YARD, POUND), "yd/oz": (YARD, OUNCE),
}  # fmt: skip


def parse_folded(text: str) -> tuple[SizeParts, ...]:
    """Return the singles of a size, unlike ones joined by `+`, as in `Ne 20 + 30/2` or `Nm 12/2`.

    A number without a system takes that of its neighbour. Raises NotationError as `parse_size`
    does.

    >>> parse_folded("Ne 40 + 20")
    (SizeParts(system='Ne', count=40.0, ply=1), SizeParts(system='Ne', count=20.0, ply=1))
    """
    parts = text.split("+")
    if len(parts) == 1:
        return (parse_size(text),)
    if len(parts) > _MOST_COMPONENTS:
        message = f"a yarn of {len(parts)} unlike singles"
        raise NotationError(message, f"name no more than {_MOST_COMPONENTS}", code="bad-size")
    bare = [re.fullmatch(r"[\s\d.,/x×½¼¾⅓⅔]+", part) is not None for part in parts]
    known = [None if lone else _at(parts, place) for place, lone in enumerate(bare)]
    if all(bare):
        shown = shortened(text)
        mend = f"write Ne {shown} for cotton or Nm {shown}"
        message = f"`{shown}` does not say by which system it counts"
        raise NotationError(message, mend, code="missing-unit")
    found: list[SizeParts] = []
    for place, size in enumerate(known):
        found.append(size or _at(parts, place, _neighbour(known, place)))
    return tuple(found)


def _at(parts: list[str], place: int, system: System | None = None) -> SizeParts:
    """Return one of the singles; what is wrong with it is placed in the whole text."""
    part = parts[place].lstrip()
    before = sum(len(each) + 1 for each in parts[:place]) + len(parts[place]) - len(part)
    name = f"{system} " if system else ""
    try:
        return parse_size(f"{name}{part}")
    except NotationError as error:
        raise error.moved(before - min(len(name), error.offset)) from None


def _neighbour(known: list[SizeParts | None], place: int) -> System:
    """Return the system of the nearest single before, else of the nearest after."""
    order = [*reversed(known[:place]), *known[place:]]
    system = next(each.system for each in order if each is not None)
    if system in WHOLE or system in GRAINS:
        message = "each single needs its unit here"
        mend = f"write {system} behind every number"
        raise NotationError(message, mend, code="missing-unit")
    return system


def parse_size(text: str) -> SizeParts:
    """Return the system, count and ply of a size such as `Ne 8/2`, `worsted 2/18`, `tex 49 x 2`.

    Raises NotationError when the system is missing, or when it is open which number is the ply.

    >>> parse_size("Nm 12/2"), parse_size("34 tex x 2").ply
    (SizeParts(system='Nm', count=12.0, ply=2), 2)
    """
    times = re.fullmatch(rf"(.*{_DIGIT}.*[A-Za-z].*?)((?:\s*[x×]\s*[\d.,]+)+)\s*", text)
    if times and re.match(rf"\s*{_DIGIT}", text):
        one = _parse_single(times[1])
        if one.ply == 1 and one.system not in WHOLE:
            return SizeParts(one.system, one.count, _times(times[2], text))
    return _parse_single(text)


def _parse_single(text: str) -> SizeParts:
    words = text.strip()
    weighed = _weighed(text)
    if weighed is not None:
        return weighed
    by_length = re.match(r".*[A-Za-z]\s*(?:/|per\b)", words, re.IGNORECASE)
    if words[:1].isdigit() and by_length:
        return _from_label(text)
    resultant = re.fullmatch(r"R\s*(\S+)\s*(d?tex)(?:\s*/\s*\d+)?", words, re.IGNORECASE)
    if resultant:
        at = text.index(resultant[1])
        count, end = take_number(text, at)
        _at_end(text, end, at + len(resultant[1]))
        return SizeParts(SPELLINGS[resultant[2].lower()], _sane_count(count, text), 1)
    system, start, stop = _system(text)
    return _counted(text, system, start, stop)


def _weighed(text: str) -> SizeParts | None:
    """Return a size that is the mass of a fixed length: grains in 20 or 120 yd, lb in a spyndle."""
    number = rf"\s*(?P<count>{_DIGIT}[\d., /½¼¾⅓⅔]*?)\s*"
    grains = re.fullmatch(
        rf"{number}(?:grains?|gr)\s*(?:/|per\b)\s*(?P<yards>20|120)\s*(?:yds?|yards?)\s*",
        text,
        re.IGNORECASE,
    )
    spyndle = re.fullmatch(
        rf"{number}(?:lbs?|pounds?)\s*(?:/|per\b)\s*sp[yi]ndle\s*", text, re.IGNORECASE
    )
    found = grains or spyndle
    if found is None:
        return None
    count, end = take_number(text, found.start("count"))
    _at_end(text, end, found.end("count"))
    system: System = "jute"
    if grains:
        system = GRAINS[0] if grains["yards"] == "20" else GRAINS[1]
    return SizeParts(system, _sane_count(count, text), 1)


def _times(text: str, whole: str) -> int:
    """Return the product of `x 2 x 3`: plies, folded again."""
    ply = 1
    for number in re.findall(r"[\d.,]+", text):
        times, _ = take_number(number)
        ply *= _sane_ply(times, whole, MOST_TIMES)
    return _sane_ply(Fraction(ply), whole, MOST_TIMES)


def size_text(parts: SizeParts) -> str:
    """Return a size as a weaver of its system writes it, so that it reads back the same.

    >>> size_text(SizeParts("worsted", 18.0, 2)), size_text(SizeParts("Ne", 2.0, 8))
    ('worsted 2/18', 'Ne 2 x 8')
    """
    system, ply = parts.system, parts.ply
    count = format(Decimal(f"{parts.count:.9g}"), "f")
    count = count.rstrip("0").rstrip(".") if "." in count else count
    if system in WHOLE or system in GRAINS:
        return f"{count} {system}" + (f" x {ply}" if ply > 1 else "")
    if ply == 1:
        return f"{system} {count}"
    if system not in DIRECT:
        pair = f"{ply}/{count}" if system in PLY_FIRST else f"{count}/{ply}"
        if _reads_as(f"{system} {pair}", ply):
            return f"{system} {pair}"
    return f"{system} {count} x {ply}"


def _reads_as(text: str, ply: int) -> bool:
    try:
        return parse_size(text).ply == ply
    except NotationError:
        return False


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
    """Return a size that is a length to a mass, counted in the units in which it is written."""
    label = parse_label(text)
    length, mass = Fraction(label.length), Fraction(label.mass)
    metric = re.search(r"\b(m|metres?|meters?)\b", text)
    usual: System = "m/100 g" if metric else "yd/lb"
    system = usual
    for name, (unit, per) in _LABELLED.items():
        if (unit == METRE) == bool(metric) and abs(mass / per - 1) < Fraction(1, 10**9):
            system = name
    unit, per = _LABELLED[system]
    return SizeParts(system, float(length / unit * per / mass), 1)


def _system(text: str) -> tuple[System, int, int]:
    """Return the system, and where the numbers beside its name start and end."""
    before = re.fullmatch(rf"\s*([A-Za-z][A-Za-z ]*?)\s*({_DIGIT}.*|-.*)", text, re.DOTALL)
    after = re.fullmatch(rf"\s*(.*?{_DIGIT})\s*([A-Wa-wY-Zy-z][A-Za-z ]*?)\s*", text, re.DOTALL)
    match = before or after
    if match is None:
        raise _no_system(text)
    word, group = (match[1], 2) if before else (match[2], 1)
    system = SPELLINGS.get(" ".join(word.lower().split()))
    if system is None:
        raise unknown_system(word, text, shortened(match[group]))
    return system, match.start(group), match.end(group)


def _no_system(text: str) -> NotationError:
    shown = shortened(text)
    if re.fullmatch(r"[\d.,/x× ]*\d", shown, re.ASCII):
        message = f"`{shown}` does not say by which system it counts"
        return NotationError(
            message, f"write Ne {shown} for cotton or Nm {shown}", 0, code="missing-unit"
        )
    word = re.match(rf"\s*([^\W\d_]+)\s*{_DIGIT}", text)
    if word:
        return unknown_system(word[1], text, "")
    return NotationError(f"`{shown}` is no yarn size", "write it as Ne 8/2", 0, code="bad-size")


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
    if pair[2] != "/":
        return SizeParts(system, _sane_count(first, text), _sane_ply(second, text, MOST_TIMES))
    if system in DIRECT:
        raise _folded_or_whole(text, system, pair, start)
    count, ply = _settled(text, system, first, second)
    return SizeParts(system, _sane_count(count, text), _sane_ply(ply, text))


def _folded_or_whole(text: str, system: System, pair: re.Match[str], start: int) -> NotationError:
    """Return the complaint about `tex 49/2`, which may weigh one ply or the folded yarn."""
    size, ply = shortened(pair[1]), shortened(pair[3])
    message = (
        f"`{shortened(text)}` may be {ply} plies of {system} {size} each, or a yarn of {ply} plies "
        f"that is {system} {size} in all"
    )
    whole = f"R {size} tex/{ply}" if system == "tex" else f"{system} {size}"
    mend = f"write {system} {size} x {ply}, or {whole}"
    return NotationError(message, mend, start, code="ambiguous-size")


def _settled(
    text: str, system: System, first: Fraction, second: Fraction
) -> tuple[Fraction, Fraction]:
    """Which of two numbers is the count and which the ply.

    The order that the system uses is taken when its ply is not the larger number. Against that
    order, a number that can be no ply settles it; otherwise both readings are open.
    """
    usual = (second, first) if system in PLY_FIRST else (first, second)
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


def _can_be_ply(number: Fraction, most: int = _MOST_PLIES) -> bool:
    return number.denominator == 1 and 1 <= number <= most


def _shown(number: Fraction) -> str:
    return f"{float(number):g}"


def _sane_count(count: Fraction, text: str) -> float:
    if not 0 < count <= _MOST_COUNT:
        word = "zero" if not count else "absurd"
        message = f"{shortened(text)} is no yarn"
        raise NotationError(message, "copy the size again", 0, code=word)
    return float(count)


def _sane_ply(ply: Fraction, text: str, most: int = _MOST_PLIES) -> int:
    if not _can_be_ply(ply, most):
        message = f"{_shown(ply)} in `{shortened(text)}` can be no ply"
        raise NotationError(message, f"write 1 to {most} plies", 0, code="bad-size")
    return int(ply)


def _at_end(text: str, end: int, stop: int) -> None:
    if text[end:stop].strip():
        message = f"`{shortened(text[end:stop])}` stands after the count"
        raise NotationError(message, "write it as Ne 8/2", end, code="stray-text")
