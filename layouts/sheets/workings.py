"""Draws the workings: what was allowed, then step by step the formula, its figures, the result.

On wide paper the figures stand beside the words, on narrow paper under them. No step is cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from cards.workings import Allowed, Part, Worked, WorkingsSheet
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    HAIR,
    HAIRLINE,
    INK,
    SOFT,
    Block,
    beside,
    heading_line,
    paragraph,
    rule,
    stack,
    yarn_names,
)
from layouts.typeface import BODY, NOTE

SLUG = "workings"

_LEGEND: Final = "Behind =: before it is rounded. Behind “then”: what is used from there on."

_WIDE: Final = 150.0  # from here on words, figures and result stand side by side
_GAP: Final = 4.0
_PAD: Final = 0.8


def draw_workings(card: WorkingsSheet, frame: Frame) -> Drawing:
    """Return the pages of the workings."""
    flow = PageFlow(frame, card.heading, _LEGEND)
    flow.add(stack([paragraph(text, flow.width, BODY) for text in card.head], gap=1.0))
    for part in card.parts:
        flow.gap(3.5)
        _add_part(flow, part)
    flow.notes()
    return flow.drawing("Workings", SLUG)


def _add_part(flow: PageFlow, part: Part) -> None:
    """Place a part; its heading never stands alone at the foot of a page."""
    width = flow.width
    title = _title(part, width)
    blocks = [_step(step, width) for step in part.steps]
    if part.allowed:
        blocks.insert(0, _allowances(part.allowed, width))
    flow.add(stack([title, blocks[0]]))
    flow.running_head = stack([_title(part, width, "continued")])
    for block in blocks[1:]:
        flow.add(block)
    flow.running_head = None


def _title(part: Part, width: float, behind: str = "") -> Block:
    words = f"{part.title}, {behind}" if behind else part.title
    if part.yarn is not None and not behind:
        title = yarn_names([part.yarn], width)
        if part.title != part.yarn.name:
            kind = part.title.removeprefix(f"{part.yarn.name}, ")
            title = stack([title, paragraph(kind, width, BODY, colour=SOFT)])
    else:
        title = heading_line(words, width)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from title.draw(x, y)
        yield rule(x, y + title.height + 0.4, width, 0.4, INK)

    return Block(title.height + 0.8, draw)


def _ruled(block: Block, width: float) -> Block:
    """Return a block with some air and a hairline under it."""

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from block.draw(x, y + _PAD)
        yield rule(x, y + block.height + 2 * _PAD, width, HAIRLINE, HAIR)

    return Block(block.height + 2 * _PAD + 0.1, draw)


def _allowances(allowed: Sequence[Allowed], width: float) -> Block:
    """Return a line for every allowance: its name, its value, and where that is from."""
    lines = []
    for each in allowed:
        if width >= _WIDE:
            name, value = 0.3 * width, 0.13 * width
            lines.append(
                beside(
                    [
                        (0.0, paragraph(each.name, name - _GAP, BODY)),
                        (name, paragraph(each.value, value - _GAP, BODY, "bold", anchor="end")),
                        (
                            name + value,
                            paragraph(each.words, width - name - value, BODY, colour=SOFT),
                        ),
                    ]
                )
            )
        else:
            value = 0.24 * width
            words = stack(
                [paragraph(each.name, width - value, BODY), _small(each.words, width - value)]
            )
            lines.append(
                beside(
                    [
                        (0.0, words),
                        (width - value, paragraph(each.value, value, BODY, "bold", anchor="end")),
                    ]
                )
            )
    return _ruled(stack(lines, gap=0.4), width)


def _small(text: str, width: float) -> Block:
    return paragraph(text, width, NOTE, colour=SOFT)


def _step(step: Worked, width: float) -> Block:
    if width >= _WIDE:
        first, third = 0.42 * width, 0.23 * width
        second = width - first - third
        block = beside(
            [
                (0.0, _words(step, first - _GAP)),
                (first, _figures(step, second - _GAP)),
                (first + second, _result(step, third)),
            ]
        )
    else:
        third = 0.36 * width
        block = beside(
            [
                (
                    0.0,
                    stack(
                        [_words(step, width - third - _GAP), _figures(step, width - third - _GAP)]
                    ),
                ),
                (width - third, _result(step, third)),
            ]
        )
    return _ruled(block, width)


def _words(step: Worked, width: float) -> Block:
    """Return what a step is called, its formula, and a remark."""
    texts = [text for text in (step.formula, step.note) if text]
    return stack(
        [paragraph(step.name, width, BODY, "bold"), *(_small(text, width) for text in texts)]
    )


def _figures(step: Worked, width: float) -> Block:
    if not step.line.figures:
        return Block(0.0, lambda x, y: ())
    return paragraph(step.line.figures, width, BODY)


def _result(step: Worked, width: float) -> Block:
    """Return the result, in other units too, and what is used from there on if that differs."""
    line = step.line
    lead = "given: " if step.given else "= "
    parts = [paragraph(f"{lead}{line.result}", width, BODY, "bold")]
    if line.other:
        parts.append(_small(f"({line.other})", width))
    if line.used:
        parts.append(paragraph(f"then {line.used}", width, BODY, "bold"))
    return stack(parts)
