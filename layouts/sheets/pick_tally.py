"""Draws the pick tally."""

from __future__ import annotations

from collections.abc import Iterable

from cards.counted import Line
from cards.loom.shed import TiedTreadle
from cards.pick_tally import Pick, PickTally, TallySection
from cards.project.model import ProjectYarn
from layouts.drawing import Drawing, Mark, Weight
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
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    key_figures,
    leading,
    paragraph,
    rows_of,
    rule,
    stack,
    tick_box,
    yarn_patch,
)
from layouts.typeface import BODY, FIGURE, LABEL, cap_height, label, measure

SLUG = "pick-tally"

_PATCH_WIDTH = 9.0
_PATCH_HEIGHT = 7.0
_BETWEEN_PICKS = 3.4

# Common practice, no source.
_ADVICE = (
    "Advance the warp little and often, and measure before you let the tension off. Let it off "
    "slowly: ratchet, beater and a stretched warp can hurt fingers."
)


def draw_pick_tally(card: PickTally, frame: Frame) -> Drawing:
    """Return the pages of a pick tally."""
    flow = PageFlow(frame, card.heading, _legend(card))
    flow.add(key_figures(_key_figures(card), flow.width))
    flow.gap(1.0)
    if card.treadles:
        flow.add(_treadles(card, flow.width))
        flow.gap(2.0)
    flow.add(_shuttles(card, flow.width))
    if card.pieces > 1:
        flow.add(_pieces(card, flow.width))
    flow.gap(1.0)
    around = _around(card, flow.width)
    if around is not None:
        flow.add(around)
    flow.add(paragraph(_ADVICE, flow.width, BODY, colour=SOFT))
    for section in card.sections:
        _section(flow, card, section)
    flow.notes()
    return flow.drawing("Pick tally", SLUG)


def _legend(card: PickTally) -> str:
    words = "Lengths are read on the loom under tension, from the start of the piece."
    if card.treadles:
        words += f" Treadle 1 is at the {card.treadle_1}."
    return words


def _key_figures(card: PickTally) -> list[tuple[str, str]]:
    figures = card.figures
    other = figures.other()
    per = figures.density(card.picks_per_mm)
    beat = "picks, all layers" if card.layers > 1 else "picks"
    found = [
        (
            str(card.picks_each),
            ("picks in a piece" if card.pieces > 1 else "picks")
            + (", given" if card.picks_given else ""),
        ),
        (
            figures.tape(card.piece_length),
            f"weave to ({other.tape(card.piece_length)})",
        ),
        (per, f"{beat} ({other.density(card.picks_per_mm)})"),
    ]
    if card.pieces > 1:
        found.append((f"{card.pieces} pieces", f"{card.picks_all} picks in all"))
    return found


def _shafts(shafts: Iterable[int]) -> str:
    return " ".join(str(shaft) for shaft in shafts) or "none"


def _treadles(card: PickTally, width: float) -> Block:
    """Return what each treadle does on this loom."""
    verb = "sinks" if card.sinking else "raises"

    def words(tied: TiedTreadle) -> str:
        return _shafts(tied.sink if card.sinking else tied.rise)

    parts = [f"{tied.treadle}: {words(tied)}" for tied in card.treadles]
    title = paragraph(f"Each treadle {verb} these shafts", width, BODY, "bold", SOFT)
    columns = [measure(part, LABEL, "bold") for part in parts]
    pitch = max(columns) + 7.0
    in_row = max(1, int((width + 7.0) // pitch))
    rows = -(-len(parts) // in_row)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from title.draw(x, y)
        for index, part in enumerate(parts):
            row, column = divmod(index, in_row)
            at = y + title.height + row * leading(LABEL) + baseline(LABEL)
            number, shafts = part.split(":", 1)
            yield label(x + column * pitch, at, f"{number}:", LABEL, "bold")
            yield label(
                x + column * pitch + measure(f"{number}: ", LABEL, "bold"),
                at,
                shafts.strip(),
                LABEL,
            )

    return Block(title.height + rows * leading(LABEL), draw)


def _shuttles(card: PickTally, width: float) -> Block:
    """Return the yarns of the shuttles with patch and name, as many in a row as there is room."""
    between = _PATCH_WIDTH + 3.0
    names = [paragraph(yarn.name, width - between, LABEL) for yarn in card.yarns]
    widths = [between + min(measure(yarn.name, LABEL), width - between) for yarn in card.yarns]
    placed = [_shuttle(yarn, name) for yarn, name in zip(card.yarns, names, strict=True)]
    rows = []
    for row in rows_of(widths, width, least_gap=8.0):
        lefts = [sum(widths[index] + 8.0 for index in row[:place]) for place in range(len(row))]
        rows.append(beside([(left, placed[index]) for left, index in zip(lefts, row, strict=True)]))
    return stack(rows)


def _shuttle(yarn: ProjectYarn, name: Block) -> Block:
    height = max(name.height, _PATCH_HEIGHT) + 1.2

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from yarn_patch(yarn, x, y + 0.6, _PATCH_WIDTH, _PATCH_HEIGHT)
        yield from name.draw(x + _PATCH_WIDTH + 3.0, y + (height - name.height) / 2)

    return Block(height, draw)


def _pieces(card: PickTally, width: float) -> Block:
    """Return which of several pieces this tally is ticked for: the boxes serve one of them."""
    words = f"Piece ______ of {card.pieces}. Print this tally once for each piece."
    return stack([Block(1.2, lambda x, y: ()), paragraph(words, width, LABEL, "bold")])


def _around(card: PickTally, width: float) -> Block | None:
    """Return what lies before the first piece, between pieces and after the last one."""
    figures, around = card.figures, card.around
    lines = []
    if around.header:
        lines.append(f"Before the first piece: header {figures.both('tape', around.header)}")
    if around.sample:
        lines.append(
            f"Sample {figures.both('tape', around.sample)}, {card.sample_picks} picks: "
            "wash it and measure it before you weave on"
        )
    if around.fringe:
        lines.append(
            f"Leave {figures.both('tape', around.fringe)} unwoven before the first piece and "
            "after the last, for the fringe"
        )
    between = 2 * around.fringe + around.gap
    if between and card.pieces > 1:
        lines.append(f"Leave {figures.both('tape', between)} unwoven between two pieces")
    if around.hem and len(card.sections) == 1:
        lines.append(f"The first and the last {figures.both('tape', around.hem)} are the hems")
    if not lines:
        return None
    rows = [paragraph(line, width - 8.0, LABEL) for line in lines]

    def draw(x: float, y: float) -> Iterable[Mark]:
        for row in rows:
            yield tick_box(x, y + 0.6)
            yield from row.draw(x + 8.0, y + 0.3)
            y += max(row.height, 5.6) + 0.9

    return Block(sum(max(row.height, 5.6) + 0.9 for row in rows), draw)


def _section(flow: PageFlow, card: PickTally, section: TallySection) -> None:
    style = _style(card, section, flow.width)
    flow.gap(4.0)
    end = _section_end(card, section, flow.width)
    title = _section_head(card, section, flow.width)
    draw_counted_list(flow, section.picks, style, end, title)


def _section_head(card: PickTally, section: TallySection, width: float) -> Block:
    figures = card.figures
    picks = section.last - section.first + 1
    span = f"{picks} picks, {section.first} to {section.last}"
    tape = f"{figures.tape(section.start)} to {figures.tape(section.end)} on the loom"
    title = paragraph(section.name, width, LABEL + 3, "bold")
    words = paragraph(f"{span} · {tape}", width, BODY, colour=SOFT)
    parts = [title, words]
    if section.note:
        parts.append(paragraph(section.note, width, LABEL))
    inner = stack(parts)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield rule(x, y, width, 0.5, INK)
        yield from inner.draw(x, y + 1.2)

    return Block(inner.height + 2.2, draw)


def _section_end(card: PickTally, section: TallySection, width: float) -> Block:
    figures = card.figures
    words = f"Weave to {figures.both('tape', section.end)}: pick {section.last}"
    parts = [paragraph(words, width - 9.0, LABEL, "bold")]
    if section.cut_off:
        parts.append(
            paragraph("This section ends within a repeat.", width - 9.0, BODY, colour=SOFT)
        )
    inner = stack(parts)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield tick_box(x, y + 1.2)
        yield from inner.draw(x + 9.0, y + 1.4)

    return Block(max(inner.height, 5.0) + 2.4, draw)


def _style(card: PickTally, section: TallySection, width: float) -> LineStyle[Pick]:
    """Return how lines are drawn: the patch of the shuttle, then pick after pick.

    Treadles stand free; shafts to raise are divided by strokes, since one pick raises several.
    Picks that the paper has no room for go on in a further row.
    """
    room = lead_room(section.picks, width) - _PATCH_WIDTH - 3.0
    column = "press" if section.by_treadle else "raise"

    rows = {
        line.number: _rows([_words(run.value, section) for run in line.runs], room, section)
        for line in section.picks.lines
    }
    widths = [_row_width(row, section) for each in rows.values() for row in each]
    check_lead(room, max(widths))
    heads = f"shuttle, {column}", "in section"
    lead = max(_PATCH_WIDTH + 3.0 + max(widths), heads_width(*heads))

    def height(line: Line[Pick]) -> float:
        return _ROW_HEIGHT * len(rows[line.number]) + 2.1

    def draw(line: Line[Pick], x: float, y: float) -> Iterable[Mark]:
        yarn = line.runs[0].value.yarn
        top = y + 1.05 + (_ROW_HEIGHT - _PATCH_HEIGHT) / 2
        yield from yarn_patch(yarn, x, top, _PATCH_WIDTH, _PATCH_HEIGHT)
        for place, row in enumerate(rows[line.number]):
            at = y + 1.05 + (place + 0.5) * _ROW_HEIGHT + cap_height(FIGURE) / 2
            yield from _row(row, section, x + _PATCH_WIDTH + 3.0, at)

    def reading(picks: int) -> str:
        return card.figures.tape(section.start + picks / card.picks_per_mm)

    return LineStyle(lead, height, draw, "picks", *heads, reading=reading)


def _row(row: list[str], section: TallySection, left: float, at: float) -> Iterable[Mark]:
    for word in row:
        stroke = word == _STROKE
        weight: Weight = "regular" if stroke else "bold"
        yield label(left, at, word, FIGURE, weight, colour=SOFT if stroke else INK)
        left += measure(word, FIGURE, weight) + _gap(section)


_ROW_HEIGHT = 8.4
_STROKE = "/"


def _gap(section: TallySection) -> float:
    """Return the space between words: picks stand apart, shafts of one pick close together."""
    return _BETWEEN_PICKS if section.by_treadle else 1.7


def _words(pick: Pick, section: TallySection) -> list[str]:
    """Return a pick as words that may stand in different rows: treadles joined, shafts apart."""
    if section.by_treadle:
        return ["+".join(str(treadle) for treadle in pick.shed)]
    return [str(shaft) for shaft in pick.shed] or ["0"]


def _row_width(row: list[str], section: TallySection) -> float:
    words = sum(measure(word, FIGURE, "bold") for word in row)
    return words + _gap(section) * max(0, len(row) - 1)


def _rows(picks: list[list[str]], room: float, section: TallySection) -> list[list[str]]:
    """Return the words of all picks in rows not wider than `room`; picks are parted by strokes.

    A pick is broken only if it alone is wider than a row, so that no lift is taken for two.
    """
    rows: list[list[str]] = [[]]
    used = -_gap(section)
    for place, words in enumerate(picks):
        whole = words if section.by_treadle or place == len(picks) - 1 else [*words, _STROKE]
        needed = _row_width(whole, section) + _gap(section)
        pieces = [(whole, needed)]
        if needed > room:
            pieces = [([word], measure(word, FIGURE, "bold") + _gap(section)) for word in whole]
        for piece, width in pieces:
            if rows[-1] and used + width > room:
                rows.append([])
                used = -_gap(section)
            rows[-1].extend(piece)
            used += width
    return rows
