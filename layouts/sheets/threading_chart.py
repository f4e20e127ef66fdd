"""Draws the threading chart."""

from __future__ import annotations

from collections.abc import Iterable

from cards.counted import Line
from cards.threading_chart import ThreadingChart
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.counted_list import (
    LineStyle,
    check_lead,
    draw_counted_list,
    heads_width,
    lead_room,
)
from layouts.sheets.layer_key import layer_key
from layouts.sheets.layer_mark import TAG, layer_tag
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    BOX,
    HAIRLINE,
    INK,
    SOFT,
    Block,
    baseline,
    heading_line,
    key_figures,
    leading,
    paragraph,
    rule,
    stack,
    tick_box,
)
from layouts.typeface import BODY, FIGURE, LABEL, cap_height, label

SLUG = "threading-chart"

# Figures step up with their shaft, so that the shape of the threading is seen; the steps of all
# shafts together are not higher than this.
_STEP = 3.0
_HIGHEST = 15.0
_MOST_STEPS = 8
_COLUMN = "threading"


def draw_threading_chart(card: ThreadingChart, frame: Frame) -> Drawing:
    """Return the pages of a threading chart."""
    flow = PageFlow(frame, card.heading, _legend(card))
    flow.add(key_figures(_key_figures(card), flow.width))
    flow.add(paragraph(_reading(card), flow.width, BODY, colour=SOFT))
    if card.layers:
        flow.gap(1.5)
        flow.add(_layers(card, flow.width))
    flow.gap(1.5)
    draw_counted_list(flow, card.groups, _style(card), _total(card, flow.width))
    flow.gap(3.0)
    flow.add(_heddles(card, flow.width, left_handed=flow.left_handed))
    flow.notes()
    return flow.drawing("Threading chart", SLUG)


def _legend(card: ThreadingChart) -> str:
    near = "nearest the weaver" if card.shaft_1 == "front" else "farthest from the weaver"
    return f"First end at the {card.first_end}. Shaft 1 is {near}."


def _key_figures(card: ThreadingChart) -> list[tuple[str, str]]:
    ends = f"{card.ends} + {card.floating}" if card.floating else str(card.ends)
    word = "ends + floating" if card.floating else "ends"
    used = sum(1 for heddles in card.heddles if heddles)
    return [(ends, word), (str(used), "shafts threaded"), (card.first_end, "first end")]


def _reading(card: ThreadingChart) -> str:
    other = "left" if card.first_end == "right" else "right"
    words = (
        f"Read each line from the {card.first_end} to the {other}. Thread a group, count it back, "
        "tie it, tick it."
    )
    if card.sley:
        words += f" {card.sley}"
    if card.floating:
        words += " The floating selvedges go through no heddle."
    return words


def _layers(card: ThreadingChart, width: float) -> Block:
    """Return which layer hangs on which shafts, and where the cloth is folded."""
    parts = [layer_key(card.layers, width)]
    if card.folds:
        folds = "Fold" if len(card.folds) == 1 else "Folds"
        sides = " and ".join(card.folds)
        # Common practice, no source.
        words = f"{folds} at the {sides}: single ends, no selvedge; sley a little more open there."
        parts.append(paragraph(words, width, BODY, "bold"))
    return stack(parts)


def most_in_a_group(card: ThreadingChart, width: float) -> int:
    """Return how many ends of a group fit side by side; the eye must find a group in one row."""
    room = lead_room(card.groups, width)
    check_lead(room, 4 * _cell(card) + 1.0)
    return int((room - 1.0) // _cell(card))


def _cell(card: ThreadingChart) -> float:
    """Return the width in mm of a figure with the space around it."""
    return 9.0 if card.shafts > 9 else 6.4


def _style(card: ThreadingChart) -> LineStyle[int]:
    """Return how groups are drawn: the shafts as figures, each as high as its shaft.

    Shafts stand at the same height in every line. With many shafts the steps would be too small
    to be told apart, so the figures then stand on one line.
    """
    mirrored = card.first_end == "right"
    cell = _cell(card)
    used = max(run.value for line in card.groups.lines for run in line.runs)
    step = min(_STEP, _HIGHEST / max(1, used - 1)) if used <= _MOST_STEPS else 0.0
    longest = max(len(line.runs) for line in card.groups.lines)
    lead = max(longest * cell + 1.0, heads_width(_COLUMN))
    tags = TAG + 1.6 if card.layers else 0.0
    tall = cap_height(FIGURE) + (used - 1) * step + 5.0 + tags

    def height(_line: Line[int]) -> float:
        return tall

    def draw(line: Line[int], x: float, y: float) -> Iterable[Mark]:
        for place, run in enumerate(line.runs):
            along = (place + 0.5) * cell
            at = x + lead - along if mirrored else x + along
            up = (run.value - 1) * step + tags
            yield label(at, y + tall - 2.5 - up, str(run.value), FIGURE, "bold", "middle", INK)
            layer = card.layer_of(run.value)
            if layer is not None:
                yield from layer_tag(layer.lane, at, y + tall - 1.4 - TAG / 2)

    return LineStyle(lead, height, draw, "ends", _COLUMN, mirrored=mirrored)


def _total(card: ThreadingChart, width: float) -> Block:
    words = paragraph(f"Total {card.ends} ends", width, LABEL + 1, "bold")
    return stack([Block(1.2, lambda x, y: []), words])


def _heddles(card: ThreadingChart, width: float, *, left_handed: bool) -> Block:
    """Return the heddles that each shaft needs, with boxes to tick when they are counted out."""
    pitch = 19.0
    in_row = max(1, int(width // pitch))
    rows = -(-card.shafts // in_row)
    row_height = 14.5
    head = heading_line("Heddles on each shaft", width)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from head.draw(x, y)
        top = y + head.height + 1.0
        for index, heddles in enumerate(card.heddles):
            row, column = divmod(index, in_row)
            left, up = x + column * pitch, top + row * row_height
            yield label(left, up + baseline(BODY), f"shaft {index + 1}", BODY, colour=SOFT)
            at = up + leading(BODY) + baseline(LABEL) + 1.0
            figure, box = (left + BOX + 2.0, left) if left_handed else (left, left + 10.5)
            yield label(figure, at, str(heddles), LABEL + 2, "bold")
            yield tick_box(box, at - BOX + 0.6)
        yield rule(x, top + rows * row_height, width, HAIRLINE)

    return Block(head.height + 2.0 + rows * row_height, draw)
