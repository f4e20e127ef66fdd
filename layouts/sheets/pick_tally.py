"""Draws the pick tally."""

from __future__ import annotations

from collections.abc import Iterable

from cards.cloth_words import listed
from cards.figures import count
from cards.layer_marks import LayeredSection
from cards.loom.pressing import Treadle
from cards.pick_tally import PickTally, TallySection
from layouts.drawing import Drawing, Mark
from layouts.paper import Frame
from layouts.sheets.counted_list import draw_counted_list
from layouts.sheets.layer_key import layer_checks, layer_key
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    INK,
    SOFT,
    Block,
    baseline,
    key_figures,
    leading,
    paragraph,
    rule,
    stack,
    tick_box,
    yarn_names,
)
from layouts.sheets.tally_lines import line_style
from layouts.typeface import BODY, LABEL, label, measure

SLUG = "pick-tally"


# Common practice, no source.
_ADVICE = "Advance the warp little and often, and measure before you let the tension off."


def draw_pick_tally(card: PickTally, frame: Frame) -> Drawing:
    """Return the pages of a pick tally."""
    flow = PageFlow(frame, card.heading, _legend(card))
    flow.add(key_figures(_key_figures(card), flow.width))
    flow.gap(1.0)
    if card.treadles:
        flow.add(_treadles(card, flow.width))
        flow.gap(2.0)
    flow.add(yarn_names(card.yarns, flow.width))
    if card.marks:
        flow.gap(1.0)
        flow.add(layer_key(card.marks, flow.width))
    if card.pieces_in_all > 1:
        flow.add(_pieces(card, flow.width))
    flow.gap(1.0)
    around = _around(card, flow.width)
    if around is not None:
        flow.add(around)
    flow.add(paragraph(f"{_ADVICE} {card.caution}", flow.width, BODY, colour=SOFT))
    for section in card.sections:
        _section(flow, card, section)
    flow.notes(card.posture)
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
            count(card.picks_each),
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
        found.append((f"{card.pieces} pieces", f"{count(card.picks_all)} picks in all"))
    return found


def _shafts(shafts: Iterable[int]) -> str:
    return " ".join(str(shaft) for shaft in shafts) or "none"


def _treadle_title(card: PickTally) -> str:
    if card.action == "countermarch":
        more = (
            "moves these shafts" if card.together > 1 else "raises these shafts and sinks the rest"
        )
        return f"Each treadle {more}"
    return f"Each treadle {'sinks' if card.action == 'sinking' else 'raises'} these shafts"


def _moves(card: PickTally, treadle: Treadle) -> str:
    """Return the shafts that a treadle moves; both ways where it does not move all others."""
    if card.action == "countermarch" and card.together > 1:
        ways = ((treadle.rise, "up"), (treadle.sink, "down"))
        return ", ".join(f"{_shafts(shafts)} {way}" for shafts, way in ways if shafts)
    return _shafts(treadle.sink if card.action == "sinking" else treadle.rise)


def _treadles(card: PickTally, width: float) -> Block:
    """Return what each treadle does on this loom."""
    parts = [f"{tied.number}: {_moves(card, tied)}" for tied in card.treadles]
    title = paragraph(_treadle_title(card), width, BODY, "bold", SOFT, role="heading")
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


def _pieces(card: PickTally, width: float) -> Block:
    """Return which of several pieces this tally is ticked for: the boxes serve one of them."""
    lines = []
    if card.kinds:
        words = [f"{number} × {name}" for name, number in card.kinds]
        lines.append(f"On this warp, in this order: {listed(words)}.")
    if card.pieces > 1:
        lines.append(f"Piece ______ of {card.pieces}. Print this tally once for each piece.")
    parts = [paragraph(line, width, LABEL, "bold") for line in lines]
    return stack([Block(1.2, lambda x, y: ()), *parts])


def _around(card: PickTally, width: float) -> Block | None:
    """Return what lies before the first piece, between pieces and after the last one."""
    figures, around = card.figures, card.around
    lines = []
    if around.header:
        lines.append(f"Before the first piece: header {figures.both('tape', around.header)}")
    if around.sample:
        lines.append(
            f"Sample {figures.both('tape', around.sample)}, {count(card.sample_picks)} picks: "
            "wash it and measure it before you weave on"
        )
    if around.fringe:
        lines.append(
            f"Leave {figures.both('tape', around.fringe)} unwoven before the first piece and "
            "after the last, for the fringe"
        )
    between = 2 * around.fringe + around.gap
    if between and card.pieces_in_all > 1:
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
    style = line_style(card, section, flow.width)
    flow.gap(4.0)
    end = _section_end(card, section, flow.width)
    title = _section_head(card, section, flow.width)
    draw_counted_list(flow, section.picks, style, end, title)


def _section_head(card: PickTally, section: TallySection, width: float) -> Block:
    figures = card.figures
    picks = section.last - section.first + 1
    span = f"{count(picks)} picks, {section.first} to {section.last}"
    if abs(section.picks_per_mm / card.picks_per_mm - 1) > 0.01:
        span += f" · beat {figures.density(section.picks_per_mm)} here"
    tape = f"{figures.tape(section.start)} to {figures.tape(section.end)} on the loom"
    title = paragraph(section.name, width, LABEL + 3, "bold", role="heading")
    words = paragraph(f"{span} · {tape}", width, BODY, colour=SOFT)
    parts = [title, words]
    if section.layered is not None:
        parts.append(paragraph(_layered_words(section.layered), width, LABEL, "bold"))
        if section.layered.missed:
            edges = " and ".join(section.layered.missed)
            told = f"The weft misses the last end of {edges}: take it round that end by hand."
            parts.append(paragraph(told, width, LABEL))
    if section.note:
        parts.append(paragraph(section.note, width, LABEL))
    inner = stack(parts)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield rule(x, y, width, 0.5, INK)
        yield from inner.draw(x, y + 1.2)

    return Block(inner.height + 2.2, draw)


def _layered_words(layered: LayeredSection) -> str:
    """Return what cloth is woven, and at which sides its shuttles lie."""
    starts = [f"{each.yarn.letter} from the {each.side}" for each in layered.shuttles]
    words = f"{layered.words[:1].upper()}{layered.words[1:]}"
    shuttles = "Shuttles" if len(starts) > 1 else "Shuttle"
    words = f"{words}. {shuttles}: {', '.join(starts)}."
    if layered.apart and len(starts) > 1:
        # Common practice, no source: locked wefts close an edge that is to stay open.
        words += " Their wefts must not lock at the edges."
    return words


# How often to look between layers, in mm (a weaver's account: every few inches).
_LOOK = 100.0


def _looked_under(card: PickTally, section: TallySection) -> bool:
    """Whether a look between layers falls due in a section, or none would in any of the piece."""
    longest = max(each.end - each.start for each in card.sections)
    return section.end - section.start >= min(_LOOK, longest)


def _section_end(card: PickTally, section: TallySection, width: float) -> Block:
    figures = card.figures
    words = f"Weave to {figures.both('tape', section.end)}: pick {section.last}"
    parts = [paragraph(words, width - 9.0, LABEL, "bold")]
    if section.cut_off:
        parts.append(
            paragraph("This section ends within a repeat.", width - 9.0, BODY, colour=SOFT)
        )
    inner = stack(parts)
    layered = section.layered
    looks = None
    if layered is not None and layered.checks and _looked_under(card, section):
        looks = layer_checks(layered.checks, "10 cm" if figures.metric else "4 in", width)

    def draw(x: float, y: float) -> Iterable[Mark]:
        if looks is not None:
            yield from looks.draw(x, y + 1.2)
            y += looks.height
        yield tick_box(x, y + 1.2)
        yield from inner.draw(x + 9.0, y + 1.4)

    return Block(max(inner.height, 5.0) + 2.4 + (looks.height if looks else 0.0), draw)
