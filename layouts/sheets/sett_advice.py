"""Draws the advice on a sett: yarns, the closest sett, what uses want, reeds, cover, weight."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from cards.calculation.sley import pattern_text
from cards.figures import Figures
from cards.project.model import ProjectYarn
from cards.sett_advice import LayerPart, NearReed, SettAdviceCard, UseRow
from cards.sett_words import (
    closest_line,
    cover_line,
    diameter_words,
    interlacing_words,
    mean_line,
    per_unit,
    percent,
    tenths,
    weight_lines,
    yarn_words,
)
from layouts.drawing import Box, Drawing, Mark, Weight
from layouts.paper import Frame
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    HAIR,
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
    yarn_names,
)
from layouts.typeface import BODY, label, measure

SLUG = "sett-advice"

_LEGEND: Final = (
    "The closest sett is Ashenhurst’s: threads side by side × ends ÷ (ends + intersections) of a "
    "repeat. What share of it suits a use is common practice. A woven, washed sample is better."
)
_GAP: Final = 4.0
_USES_LEAST: Final = 34.0
_PAD: Final = 1.2


def draw_sett_advice(card: SettAdviceCard, frame: Frame) -> Drawing:
    """Return the pages of the advice on a sett."""
    flow = PageFlow(frame, card.heading, _LEGEND)
    flow.add(key_figures(_key(card), flow.width))
    flow.gap(1.0)
    first, *more = [_yarns(card, yarns, flow.width) for yarns in card.yarns]
    flow.add(stack([heading_line("Yarns", flow.width), first]))
    for block in more:
        flow.gap(1.5)
        flow.add(block)
    for part in card.parts:
        flow.gap(2.5)
        _add_part(flow, card, part)
    flow.gap(2.5)
    title = heading_line("Weight of the finished cloth, one layer thick", flow.width)
    lines = weight_lines(card.weight, card.figures)
    flow.add(stack([title, *(paragraph(line, flow.width, BODY) for line in lines)]))
    flow.notes()
    return flow.drawing("Sett advice", SLUG)


def _key(card: SettAdviceCard) -> list[tuple[str, str]]:
    figures, other = card.figures, card.figures.other()
    ends = card.parts[0].advice.ends
    of_one = " of one layer" if card.layers > 1 else ""
    use = f" · {card.use.use} {_range(card.use.low, card.use.high)}" if card.use else ""
    return [
        (figures.density(ends.density), f"sett{of_one} ({other.density(ends.density)})"),
        (percent(ends.share), f"of the closest{use}"),
        (figures.density(ends.most), f"closest{of_one} ({other.density(ends.most)})"),
        (figures.by_area(card.weight.total), f"finished ({other.by_area(card.weight.total)})"),
    ]


def _range(low: float, high: float) -> str:
    return f"{low * 100:.0f}–{percent(high)}"


def _yarns(card: SettAdviceCard, yarns: tuple[ProjectYarn, ...], width: float) -> Block:
    """Return yarns of one size with what is known of it."""
    lines = [
        paragraph(yarn_words(yarns[0], card.figures), width, BODY, "bold"),
        paragraph(diameter_words(yarns[0], card.figures), width, BODY),
    ]
    return stack([yarn_names(yarns, width), *lines])


def _means(card: SettAdviceCard, part: LayerPart, width: float) -> list[Block]:
    """Return how thick the threads are on the mean, where unlike ones lie side by side."""
    yarns = {yarn.key: yarn for alike in card.yarns for yarn in alike}
    lines = []
    for name, threads in (("ends", part.advice.ends), ("picks", part.advice.picks)):
        words = mean_line(threads, yarns)
        if words:
            lines.append(paragraph(f"Mean thickness of the {name}: {words}", width, BODY))
    return lines


def _add_part(flow: PageFlow, card: SettAdviceCard, part: LayerPart) -> None:
    figures, ends, picks = card.figures, part.advice.ends, part.advice.picks
    width = flow.width
    lines = [
        heading_line(_part_title(card, part), width, _where(card)),
        *_means(card, part, width),
        paragraph(f"Ends, closest: {closest_line(ends, picks, figures)}", width, BODY),
    ]
    if picks.interlacing.share != ends.interlacing.share or picks.diameter != ends.diameter:
        said = interlacing_words(picks.interlacing, "picks")
        close = closest_line(picks, ends, figures)
        lines.append(paragraph(f"Picks, {said}; closest: {close}", width, BODY))
    for name, threads in (("ends", ends), ("picks", picks)):
        chosen = f"{figures.density(threads.density)} ÷ {per_unit(figures, threads.most)}"
        lines.append(
            paragraph(f"Chosen {name}: {chosen} = {percent(threads.share)}", width, BODY, "bold")
        )
    flow.add(stack(lines[:2]))
    for line in lines[2:]:
        flow.add(line)
    flow.gap(1.5)
    table = _Table(card, part, width)
    head, (first, second, *more) = table.head(), table.rows()
    flow.add(stack([head, first, second]))
    flow.running_head = head
    for row in more[:-2]:
        flow.add(row)
    # No row stands alone at the head of a page.
    flow.add(stack(more[-2:]))
    flow.running_head = None
    flow.gap(1.5)
    for text in (*_beside(card, part), f"Cover factor on the loom: {cover_line(part.advice)}"):
        flow.add(paragraph(text, width, BODY))


def _part_title(card: SettAdviceCard, part: LayerPart) -> str:
    weave = interlacing_words(part.advice.ends.interlacing)
    if card.layers == 1 and len(card.parts) == 1:
        return weave[0].upper() + weave[1:]
    *first, last = map(str, part.layers)
    which = f"Layers {', '.join(first)} and {last}, each" if first else f"Layer {last}"
    return f"{which}: {weave}"


def _where(card: SettAdviceCard) -> str:
    """Return which sections are meant, where the piece has others that interlace otherwise."""
    return f"In {', '.join(card.sections)}" if card.sections else ""


def _beside(card: SettAdviceCard, part: LayerPart) -> list[str]:
    """Return what stands under the table: wraps, reeds, and sections that are closer."""
    figures, ends = card.figures, part.advice.ends
    texts = []
    if part.advice.by_wraps is not None:
        many, weave = _wraps_share(part), figures.both("density", part.advice.by_wraps)
        texts.append(f"By wraps, as a rule of thumb: wraps × {many} = {weave}")
    if part.for_advised and part.advised is not None and card.use is not None:
        near = f"{tenths(figures, part.advised)} {figures.density(1.0).split(' ', 1)[1]}"
        texts.append(f"Reeds for {near}, {card.use.use}: {_reeds(card, part.for_advised)}")
    if part.for_chosen:
        near = figures.density(ends.density)
        texts.append(f"Reeds for {near}, as chosen: {_reeds(card, part.for_chosen)}")
    if part is card.parts[-1]:
        for other in card.closer:
            most = figures.density(min(each.ends.most for each in other.layers))
            names = ", ".join(other.sections)
            share = f"{percent(other.share)} of the closest, {most}"
            texts.append(f"In {names} the ends lie closer: {share}")
    return texts


def _wraps_share(part: LayerPart) -> str:
    """Return the share of the wraps that a weave takes, as ends over ends and intersections."""
    weave = part.advice.ends.interlacing
    whole = weave.threads + weave.intersections
    return f"{weave.threads} ÷ {float(whole):g}"


def _reeds(card: SettAdviceCard, reeds: Iterable[NearReed]) -> str:
    figures = card.figures
    return "; ".join(
        f"{figures.reed(float(each.choice.reed))} with {pattern_text(each.choice.pattern)} gives "
        f"{figures.density(each.sett)}"
        for each in reeds
    )


class _Table:
    """What every use wants of one layer, in shares and in setts; the asked one in a frame."""

    def __init__(self, card: SettAdviceCard, part: LayerPart, width: float) -> None:
        self._part = part
        self._width = width
        first, second = card.figures, card.figures.other()
        columns = [
            ("of the closest", [_range(row.share[0], row.share[2]) for row in part.rows]),
            (_unit(first), [_span(first, row) for row in part.rows]),
            ("usual", [tenths(first, row.setts[1]) for row in part.rows]),
            (_unit(second), [_span(second, row) for row in part.rows]),
        ]
        wide = [
            max(measure(text, BODY, "bold") for text in (name, *texts)) + _GAP
            for name, texts in columns
        ]
        # The other units go first where the paper is narrow.
        while sum(wide) + _USES_LEAST > width and len(wide) > 2:
            wide.pop()
        self._columns = columns[: len(wide)]
        self._wide = wide
        self._uses = width - sum(wide) - 2 * _PAD

    def head(self) -> Block:
        """Return what stands in each column."""
        names = [name for name, _ in self._columns]
        return self._line("use", names, "bold", SOFT, 0.4, framed=False)

    def rows(self) -> list[Block]:
        """Return a row for every range, the closest first."""
        rows = []
        for place, row in enumerate(self._part.rows):
            uses = ", ".join(row.uses)
            if row.holds:
                uses += " · the chosen sett lies here"
            weight: Weight = "bold" if row.asked else "regular"
            texts = [column[place] for _, column in self._columns]
            rows.append(self._line(uses, texts, weight, INK, HAIRLINE, framed=row.asked))
        return rows

    def _line(
        self,
        uses: str,
        texts: list[str],
        weight: Weight,
        colour: str,
        line: float,
        *,
        framed: bool,
    ) -> Block:
        words = paragraph(uses, self._uses, BODY, weight, colour)
        height = max(words.height, leading(BODY)) + 2 * _PAD

        def draw(x: float, y: float) -> Iterable[Mark]:
            if framed:
                yield Box(x, y + 0.2, self._width, height - 0.4, None, INK, 0.6)
            yield from words.draw(x + _PAD, y + _PAD)
            right = x + self._uses + _PAD
            for text, wide in zip(texts, self._wide, strict=True):
                right += wide
                yield label(right, y + _PAD + baseline(BODY), text, BODY, weight, "end", colour)
            if not framed:
                yield rule(x, y + height - 0.1, self._width, line, HAIR)

        return Block(height, draw)


def _unit(figures: Figures) -> str:
    return "ends per cm" if figures.metric else "ends per in"


def _span(figures: Figures, row: UseRow) -> str:
    return f"{tenths(figures, row.setts[0])}–{tenths(figures, row.setts[2])}"
