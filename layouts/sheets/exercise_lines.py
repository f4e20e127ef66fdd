"""Lines of an exercise to write on: sums with room for a result, and sentences with gaps."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from cards.exercises import Sum
from layouts.drawing import Mark, Weight
from layouts.paper import Frame
from layouts.sheets.parts import (
    HAIR,
    HAIRLINE,
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    leading,
    paragraph,
    rule,
    stack,
)
from layouts.typeface import BODY, LABEL, label, measure

_GAP: Final = "___"
_SHORT: Final = 16.0
_LINE: Final = 10.0
_WRITING: Final = 0.3
_PAD: Final = 1.0
_RESULT: Final = 0.36
_LEAST: Final = 52.0
_NUMBER: Final = 8.0
# On narrower paper the result stands below the words.
_NARROW: Final = 120.0
_WORDS_GAP: Final = 4.0


def gapped(words: str, width: float) -> Block:
    """Return a sentence with gaps to write in; one at its end goes on to the edge."""
    parts = words.split(_GAP)
    rows: list[list[tuple[float, str, float]]] = [[]]
    left = 0.0
    for place, part in enumerate(parts):
        text = part
        words_width = measure(text, LABEL)
        last = place == len(parts) - 1
        gap = 0.0 if last else _SHORT
        if left + words_width + gap > width and rows[-1]:
            rows.append([])
            left, text = 0.0, text.lstrip()
            words_width = measure(text, LABEL)
        if not last and place == len(parts) - 2 and not parts[-1]:
            gap = width - left - words_width
        rows[-1].append((left, text, gap))
        left += words_width + gap
    height = _LINE * len(rows)

    def draw(x: float, y: float) -> Iterable[Mark]:
        for number, row in enumerate(rows):
            line = y + _LINE * number + _LINE - 2.0
            for at, text, gap in row:
                if text.strip():
                    yield label(x + at, line, text, LABEL, colour=INK)
                if gap:
                    start = x + at + measure(text, LABEL) + 0.8
                    yield rule(start, line + 0.8, gap - 1.6, _WRITING, INK)

    return Block(height, draw)


def sum_line(line: Sum, width: float, frame: Frame, *, asked: bool) -> Block:
    """Return a line of a calculation, with room to write where its result is asked.

    The room is at the side of the hand that writes, clear of the words that are read.
    """
    narrow = width < _NARROW
    result = width - _NUMBER if narrow else max(_LEAST, _RESULT * width)
    words_width = width if narrow else width - result - _WORDS_GAP
    number = paragraph(f"{line.number}", _NUMBER, LABEL, "bold")
    numbered = beside([(0.0, number), (_NUMBER, _words(line, words_width - _NUMBER))])
    found = _result(line, result, asked=asked, narrow=narrow)
    if narrow:
        block = stack([numbered, beside([(_NUMBER, found)])])
    elif frame.left_handed:
        block = beside([(0.0, found), (result + _WORDS_GAP, numbered)])
    else:
        block = beside([(0.0, numbered), (words_width + _WORDS_GAP, found)])

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from block.draw(x, y + _PAD)
        yield rule(x, y + block.height + 2 * _PAD, width, HAIRLINE, HAIR)

    return Block(block.height + 2 * _PAD + 0.1, draw)


def _words(line: Sum, width: float) -> Block:
    return stack(
        [
            paragraph(line.name, width, LABEL, "bold"),
            paragraph(line.formula, width, BODY, colour=SOFT),
            paragraph(line.figures, width, LABEL),
        ]
    )


def _result(line: Sum, width: float, *, asked: bool, narrow: bool) -> Block:
    """Return the result, or room to write it; on `narrow` paper both lines stand side by side."""
    if line.result:
        weight: Weight = "bold" if asked else "regular"
        texts = [f"= {line.result}", f"then {line.used}"] if line.used else [f"= {line.result}"]
        if narrow:
            return paragraph(", ".join(texts), width, LABEL, weight)
        return stack([paragraph(text, width, LABEL, weight) for text in texts])
    if not narrow:
        return stack([_blank("=", line.unit, width), _blank("then", line.unit, width)])
    half = (width - _WORDS_GAP) / 2
    return beside(
        [
            (0.0, _blank("=", line.unit, half)),
            (half + _WORDS_GAP, _blank("then", line.unit, half)),
        ]
    )


def _blank(lead: str, unit: str, width: float) -> Block:
    """Return a line to write a result on, with its unit behind it."""
    start, end = measure(lead, LABEL) + 1.5, measure(unit, LABEL) + 1.5
    height = leading(LABEL) + 2.4

    def draw(x: float, y: float) -> Iterable[Mark]:
        line = y + baseline(LABEL) + 1.6
        yield label(x, line, lead, LABEL, colour=INK)
        yield rule(x + start, line + 0.8, width - start - end, _WRITING, INK)
        if unit:
            yield label(x + width, line, unit, LABEL, "regular", "end", INK)

    return Block(height, draw)
