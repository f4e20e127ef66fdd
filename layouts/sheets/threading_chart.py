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
_COLUMN = "threading"


def draw_threading_chart(card: ThreadingChart, frame: Frame) -> Drawing:
    """Return the pages of a threading chart."""
    flow = PageFlow(frame, card.heading, _legend(card))
    flow.add(key_figures(_key_figures(card), flow.width))
    flow.add(paragraph(_reading(card), flow.width, BODY, colour=SOFT))
    flow.gap(1.5)
    draw_counted_list(flow, card.groups, _style(card, flow.width), _total(card, flow.width))
    flow.gap(3.0)
    flow.add(_heddles(card, flow.width))
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
    if card.floating:
        words += " The floating selvedges go through no heddle."
    return words


def _style(card: ThreadingChart, width: float) -> LineStyle[int]:
    """Return how groups are drawn: the shafts as figures, each as high as its shaft.

    A group that is wider than the paper allows goes on in a further row.
    """
    mirrored = card.first_end == "right"
    two = max(run.value for line in card.groups.lines for run in line.runs) > 9
    cell = 9.0 if two else 6.4
    room = lead_room(card.groups, width)
    check_lead(room, 2 * cell + 1.0)
    longest = max(len(line.runs) for line in card.groups.lines)
    in_row = min(longest, int((room - 1.0) // cell))
    lead = max(in_row * cell + 1.0, heads_width(_COLUMN))
    step = min(_STEP, _HIGHEST / max(1, card.shafts - 1))

    def rows(line: Line[int]) -> list[tuple[int, ...]]:
        shafts = [run.value for run in line.runs]
        return [tuple(shafts[at : at + in_row]) for at in range(0, len(shafts), in_row)]

    def row_height(shafts: tuple[int, ...]) -> float:
        return cap_height(FIGURE) + (max(shafts) - min(shafts)) * step + 2.5

    def height(line: Line[int]) -> float:
        return sum(row_height(shafts) for shafts in rows(line)) + 2.5

    def draw(line: Line[int], x: float, y: float) -> Iterable[Mark]:
        bottom = y
        for shafts in rows(line):
            bottom += row_height(shafts)
            for place, shaft in enumerate(shafts):
                along = (place + 0.5) * cell
                at = x + lead - along if mirrored else x + along
                up = (shaft - min(shafts)) * step
                yield label(at, bottom - up, str(shaft), FIGURE, "bold", "middle", INK)

    return LineStyle(lead, height, draw, "ends", _COLUMN, mirrored=mirrored)


def _total(card: ThreadingChart, width: float) -> Block:
    words = paragraph(f"Total {card.ends} ends", width, LABEL + 1, "bold")
    return stack([Block(1.2, lambda x, y: []), words])


def _heddles(card: ThreadingChart, width: float) -> Block:
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
            yield label(left, at, str(heddles), LABEL + 2, "bold")
            yield tick_box(left + 10.5, at - BOX + 0.6)
        yield rule(x, top + rows * row_height, width, HAIRLINE)

    return Block(head.height + 2.0 + rows * row_height, draw)
