"""The parts of a pattern booklet, each as slices that a flow makes pages of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from cards.finished_cloth import FinishedCloth
from cards.glossary import Term
from cards.pattern_booklet import CloseUp, PatternBooklet, StepGroup, YarnNeeded
from layouts.drawing import Figure, Line, Mark, Weight
from layouts.pattern_title import caption
from layouts.prose import Prose, Slice, Tag, line_step, page_of, room
from layouts.prose_flow import Measures, side_head
from layouts.prose_table import NONE, figure_table
from layouts.sheets.cloth_picture import cloth_picture, picture_scale
from layouts.sheets.parts import (
    HAIR,
    INK,
    PATCH_HEIGHT,
    PATCH_WIDTH,
    SOFT,
    Block,
    baseline,
    beside,
    paragraph,
    stack,
    yarn_patch,
)
from layouts.sheets.weave_picture import Style, in_yarns
from layouts.typeface import BODY, LABEL, label, measure

_AFTER_GROUP: Final = 5.0
_CELL: Final = 2.4
_SMALL_CELL: Final = 1.9
_TALLEST: Final = 70.0  # of a further cloth


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the contents: a part, or a card within the cards."""

    title: str
    name: str
    inner: bool = False


@dataclass(frozen=True, slots=True)
class Card:
    """A card in the booklet: of which kind, its name and title, whether it is of another loom."""

    kind: str
    name: str
    title: str
    other: bool


@dataclass(frozen=True, slots=True)
class Parts:
    """Makes the parts of one booklet at the measures of a page."""

    booklet: PatternBooklet
    prose: Prose
    measures: Measures

    def contents(self, entries: Sequence[Entry]) -> list[Slice]:
        """Return a line for every part and card, with its page."""
        whole = Tag("list")
        lines = [
            Slice(self._entry(each), keep=not each.inner, within=(whole, Tag("item")))
            for each in entries
        ]
        lines[-1] = replace(lines[-1], keep=False)
        return self.measures.indented(lines)

    def _entry(self, entry: Entry) -> Block:
        prose, width = self.prose, self.measures.text
        indent = 6.0 if entry.inner else 0.0
        number = prose.number(entry.name)
        right = width - measure("8" * prose.digits, BODY, "bold")
        weight: Weight = "regular" if entry.inner else "bold"
        words = paragraph(
            entry.title, right - indent - 6.0, BODY, weight, SOFT if entry.inner else INK
        )
        above = 0.0 if entry.inner else 0.9
        step = line_step(BODY)
        height = max(step, words.height) + above

        def draw(x: float, top: float) -> Iterable[Mark]:
            y = top + above
            yield from words.draw(x + indent, y)
            at = y + words.height - paragraph("x", 50.0, BODY).height + baseline(BODY)
            if words.height <= step:
                start = x + indent + measure(entry.title, BODY, "bold") + 2.0
                if start < x + right - 3.0:
                    yield Line(start, at - 0.1, x + right - 2.0, at - 0.1, 0.3, HAIR, (0.3, 1.4))
            yield label(x + width, at, number, BODY, weight, "end")

        return Block(height, draw)

    def about(self, cloths: Sequence[FinishedCloth], *, summary: bool) -> list[Slice]:
        """Return what the pattern is for, what it teaches, and the weave from near.

        `cloths` have no room on the title page; nor has the summary if `summary` is true.
        """
        booklet, prose, measures = self.booklet, self.prose, self.measures
        found: list[Slice] = []
        lead = [booklet.summary] if summary and booklet.summary else []
        lead += [booklet.aim] if booklet.aim else []
        for text in lead:
            found += measures.indented(prose.paragraph(text, measures.text, LABEL))
            found.append(room(3.0, keep=False))
        if booklet.skills:
            head = side_head(prose, "You will practise", (), measures)
            found += measures.aside(head, prose.bullets(booklet.skills, measures.text))
            found.append(room(3.0, keep=False))
        first = 1 if len(cloths) == len(booklet.cloths) else 2
        shown = self._cloths(cloths, first) if cloths else []
        found += shown
        if booklet.close_up is not None:
            found += self._close_up(booklet.close_up, first + len(shown))
        return found

    def _cloths(self, cloths: Sequence[FinishedCloth], first: int) -> list[Slice]:
        """Return cloths, each in a figure of its own, all at one scale."""
        booklet, measures = self.booklet, self.measures
        scales = [
            picture_scale([cloth], measures.text, _TALLEST, booklet.units) for cloth in cloths
        ]
        scale = max((each for each in scales if each is not None), key=lambda each: each.times)
        found = []
        for number, cloth in enumerate(cloths, start=first):
            picture = cloth_picture([cloth], scale, measures.text, booklet.units)
            words = caption([cloth], scale, number)
            captioned = self.prose.captioned(picture, words, measures.text)
            found.append(Slice(stack([captioned.block, room(4.0).block])))
        return measures.indented(found)

    def _close_up(self, near: CloseUp, number: int) -> list[Slice]:
        prose, measures = self.prose, self.measures
        cell = _CELL if measures.side else _SMALL_CELL
        columns = min(near.weave.cells.shape[1], int(measures.text / cell))
        weave = near.weave.columns(range(columns))
        rows = near.weave.cells.shape[0]
        style = Style(cell, first_row_on_top=False, filled="warp")

        def draw(x: float, y: float) -> Iterable[Mark]:
            marks = tuple(in_yarns(weave, style, x, y))
            words = f"{columns} ends and {rows} picks of the section {near.section}"
            yield Figure(marks, "The weave from near", words)

        times = cell / near.across
        caption = (
            f"Figure {number}. The weave from near, about {times:.2g} times its size: {columns} "
            f"ends and {rows} picks of {near.section}, first pick at the bottom."
        )
        figure = Block(rows * cell, draw)
        return measures.indented([prose.captioned(figure, caption, measures.text)])

    def needs(self) -> list[Slice]:
        """Return yarns, loom, tools and materials."""
        booklet, prose, measures = self.booklet, self.prose, self.measures
        yarns = [Slice(self._yarn(each)) for each in booklet.yarns]
        found = measures.aside(side_head(prose, "Yarn", (), measures), yarns)
        found.append(room(_AFTER_GROUP, keep=False))
        facts = [Slice(self._fact(each.name, each.words)) for each in booklet.loom]
        found += measures.aside(side_head(prose, "Loom", (), measures), _kept(facts))
        found.append(room(_AFTER_GROUP, keep=False))
        tools = prose.bullets(booklet.materials, measures.text)
        found += measures.aside(side_head(prose, "Tools and materials", (), measures), tools)
        return found

    def _yarn(self, needed: YarnNeeded) -> Block:
        prose, width = self.prose, self.measures.text
        indent = PATCH_WIDTH + 3.5
        buy = measure(needed.buy, LABEL, "bold")
        beneath = buy > 0.4 * (width - indent)
        rest = width - indent - (0.0 if beneath else buy + 4.0)
        parts = [prose.block(needed.yarn.name, rest, LABEL, "bold")]
        if beneath:
            parts.append(prose.block(needed.buy, width - indent, LABEL, "bold"))
        parts.append(prose.block(needed.what, width - indent, BODY, colour=SOFT))
        parts.append(prose.block(f"{needed.needed} are needed", width - indent, BODY))
        words = stack(parts)
        height = max(words.height, PATCH_HEIGHT) + 2.5

        def draw(x: float, y: float) -> Iterable[Mark]:
            yield from yarn_patch(needed.yarn, x, y + 0.3, PATCH_WIDTH, PATCH_HEIGHT)
            yield from words.draw(x + indent, y)
            if not beneath:
                at = y + baseline(LABEL) + 0.25
                yield label(x + width, at, needed.buy, LABEL, "bold", "end", INK)

        return Block(height, draw)

    def _fact(self, name: str, words: str) -> Block:
        prose, width = self.prose, self.measures.text
        start = 32.0
        return beside(
            [
                (0.0, prose.block(name, start - 2.0, BODY, colour=SOFT)),
                (start, prose.block(words, width - start, BODY)),
            ]
        )

    def calculation(self) -> list[Slice]:
        """Return the table of the figures that matter."""
        booklet, prose, measures = self.booklet, self.prose, self.measures
        metric = booklet.units.metric
        heads = ("figure", *(("metric", "imperial") if metric else ("imperial", "metric")), "from")
        rows = [
            (each.name, (each.value, each.other or NONE, each.origin or "worked out"))
            for each in booklet.figures
        ]
        words = (
            "What is assumed is common practice, and will differ with your hands and your yarn: "
            "weave and wash the sample before you trust it."
        )
        text = _kept(measures.indented(prose.paragraph(words, measures.text)))
        table = figure_table(prose, heads, rows, measures.text)
        text[-1] = replace(text[-1], keep=True)
        return [*text, room(3.0), *measures.indented(table)]

    def steps(self, cards: Sequence[Card]) -> list[Slice]:
        """Return the stages of the work, each with its cards."""
        found: list[Slice] = []
        for place, group in enumerate(self.booklet.groups, start=1):
            head = self._stage(place, group, cards)
            steps = _none_alone(self.prose.ticked(group.steps, self.measures.text))
            found += self.measures.aside(head, steps)
            found.append(room(_AFTER_GROUP, keep=False))
        return found

    def _stage(self, place: int, group: StepGroup, cards: Sequence[Card]) -> Block:
        return side_head(
            self.prose, f"{place} {group.name}", _references(group, cards), self.measures
        )

    def finishing(self) -> list[Slice]:
        """Return how the cloth is finished."""
        text = self.prose.ticked(self.booklet.finishing, self.measures.text)
        return self.measures.indented(_none_alone(text))

    def cautions(self) -> list[Slice]:
        """Return what to mind, by topics."""
        found: list[Slice] = []
        plain = [each.words for each in self.booklet.cautions if not each.name]
        found += self.measures.indented(self.prose.bullets(plain, self.measures.text))
        if plain:
            found.append(room(2.0, keep=False))
        for each in self.booklet.cautions:
            if each.name:
                found += self._defined(each.name, each.words)
        return found

    def glossary(self, terms: Sequence[Term]) -> list[Slice]:
        """Return the words of the trade that are used, each with what it means."""
        found: list[Slice] = []
        for term in terms:
            found += self._defined(term.word, term.meaning)
        return found

    def _defined(self, word: str, meaning: str) -> list[Slice]:
        prose, measures = self.prose, self.measures
        if not measures.side:
            return [*prose.defined(word, meaning, measures.text), room(1.4, keep=False)]
        head = prose.block(word, measures.side, BODY, "bold")
        text = prose.paragraph(meaning, measures.text)
        return [*measures.aside(head, text), room(1.4, keep=False)]


def _references(group: StepGroup, cards: Sequence[Card]) -> list[str]:
    """Return the cards of a stage with their pages: those of the first loom by name."""
    found = []
    for kind in group.cards:
        own = [card for card in cards if card.kind == kind and not card.other]
        others = [card for card in cards if card.kind == kind and card.other]
        if own:
            title = f"{own[0].title[:1].lower()}{own[0].title[1:]}"
            found.append(f"{title}, {_pages(own)}")
        if others:
            found.append(f"on other looms {_pages(others)}")
    return found


def _pages(cards: Sequence[Card]) -> str:
    word = "page" if len(cards) == 1 else "pages"
    return f"{word} {', '.join(page_of(card.name) for card in cards)}"


def _kept(slices: Sequence[Slice]) -> list[Slice]:
    """Return slices that all stay together."""
    return [replace(each, keep=place + 1 < len(slices)) for place, each in enumerate(slices)]


def _none_alone(slices: Sequence[Slice]) -> list[Slice]:
    """Return the lines of a list so that neither its first nor its last item stands alone."""
    starts = [
        place
        for place, each in enumerate(slices)
        if each.within and each.within[-1].role == "item label"
    ]
    kept = list(slices)
    for start in {*starts[1:2], *starts[-1:]} - {0}:
        kept[start - 1] = replace(kept[start - 1], keep=True)
    return kept
