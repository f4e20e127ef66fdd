"""The pattern booklet put together: prose and cards on one paper, with one numbering.

Pages are made twice. The first time no number of a page is known, and each is set as so many
eights; lines are broken for those, so that the second time nothing moves and every number is true.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count
from typing import Final

from cards.glossary import Term, terms_used
from cards.pattern_booklet import CARDS, DRAFTS, PatternBooklet, pattern_booklet
from cards.project import Project
from layouts.drawing import Drawing, Page, Text, flat
from layouts.drawing import Entry as OutlineEntry
from layouts.drawn import drawn_sheets
from layouts.numbering import numbered, numbered_frame
from layouts.paper import Frame
from layouts.pattern_parts import Card, Entry, Parts
from layouts.pattern_title import cloths_apart, summary_fits, title_drawing
from layouts.prose import Prose, Slice
from layouts.prose_flow import FlowPage, ProseFlow, measures_of
from layouts.sheet_list import sheets_of

CONTENTS: Final = "Contents"
ABOUT: Final = "About this pattern"
NEEDS: Final = "What you need"
CALCULATION: Final = "The calculation in short"
CARD_PART: Final = "Draft and cards"
STEPS: Final = "Step by step"
FINISHING: Final = "Finishing"
CAUTIONS: Final = "Take care"
GLOSSARY: Final = "The words of the trade"


@dataclass(frozen=True, slots=True)
class Booklet:
    """A booklet: its drawings page after page, each page with its number and its outline."""

    drawings: tuple[Drawing, ...]

    @property
    def pages(self) -> tuple[Page, ...]:
        """All pages in their order."""
        return tuple(page for drawing in self.drawings for page in drawing.pages)


def draw_pattern_booklet(
    project: Project,
    frame: Frame,
    others: Sequence[Project] = (),
    note: Callable[[str], None] = lambda words: None,
) -> Booklet:
    """Return the pattern booklet of a project; `others` is the project on other looms.

    `note` is told which card is left out because the paper is too small for it. Raises
    PaperTooSmall where the booklet cannot do without.
    """
    made = _Made(
        pattern_booklet(project, others),
        numbered_frame(frame),
        *_cards(project, frame, others, note),
    )
    first = made.laid_out(Prose(digits=2), ())
    digits = len(str(first.total))
    terms = terms_used(first.words())
    pages: Mapping[str, int] = {}
    for _ in range(2):
        laid = made.laid_out(Prose(pages, digits), terms)
        pages = laid.page_numbers()
    return _bound(made.booklet, laid, frame)


def _cards(
    project: Project, frame: Frame, others: Sequence[Project], note: Callable[[str], None]
) -> tuple[list[Drawing], list[Card]]:
    """Return the sheets that belong into a pattern, the draft first, and what each one is."""
    there = sheets_of(project)
    drawings: list[Drawing] = []
    for names in (DRAFTS, CARDS):
        chosen = [name for name in names if name in there and _wanted(project, name)]
        if chosen:
            drawings += drawn_sheets(
                project, numbered_frame(frame), chosen, note=note, others=others
            )
    return drawings, [_card(drawing) for drawing in drawings]


def _wanted(project: Project, name: str) -> bool:
    return name != "heddle-count" or project.heddle_plan.known


def _card(drawing: Drawing) -> Card:
    slug = drawing.slug
    kind = next(
        name
        for name in (*DRAFTS, *CARDS)
        if slug == name or slug.startswith((f"{name}-of-", f"{name}-on-"))
    )
    return Card(kind, slug, drawing.title, "-on-" in slug.removeprefix(kind))


@dataclass(frozen=True, slots=True)
class _LaidOut:
    """A booklet whose pages are made, before they are numbered."""

    title: Drawing
    front: list[FlowPage]
    cards: list[Drawing]
    back: list[FlowPage]

    @property
    def total(self) -> int:
        cards = sum(len(drawing.pages) for drawing in self.cards)
        return 1 + len(self.front) + cards + len(self.back)

    def page_numbers(self) -> dict[str, int]:
        """Return the page on which every part and every card begins, from 1."""
        numbers: dict[str, int] = {}
        at = 2
        for page in self.front:
            numbers |= dict.fromkeys(page.parts, at)
            at += 1
        numbers[CARD_PART] = at
        for drawing in self.cards:
            numbers[drawing.slug] = at
            at += len(drawing.pages)
        for page in self.back:
            numbers |= dict.fromkeys(page.parts, at)
            at += 1
        return numbers

    def words(self) -> Iterator[str]:
        """Yield the words of every page as they are printed, lines joined."""
        pages = [
            *self.title.pages,
            *(each.page for each in (*self.front, *self.back)),
            *(page for drawing in self.cards for page in drawing.pages),
        ]
        for page in pages:
            yield " ".join(mark.text for mark in flat(page.marks) if isinstance(mark, Text))


@dataclass(frozen=True, slots=True)
class _Made:
    """What a booklet is made of: its data, its page, and the cards, which are drawn once."""

    booklet: PatternBooklet
    frame: Frame
    drawings: list[Drawing]
    cards: list[Card]

    def laid_out(self, prose: Prose, terms: Sequence[Term]) -> _LaidOut:
        """Return the booklet with the numbers and the terms that are known."""
        parts = Parts(self.booklet, prose, measures_of(self.frame))
        front, back = self._flow(), self._flow()
        for title, slices in self._front(parts):
            front.part(title, slices)
        for title, slices in self._back(parts, terms):
            back.part(title, slices)
        first = title_drawing(self.booklet, self.frame)
        return _LaidOut(first, front.pages(), self.drawings, back.pages())

    def _flow(self) -> ProseFlow:
        return ProseFlow(self.frame, self.booklet.title)

    def _front(self, parts: Parts) -> Iterator[tuple[str, list[Slice]]]:
        yield CONTENTS, parts.contents(list(self._entries()))
        if self._has_about:
            about = parts.about(
                cloths_apart(self.booklet, self.frame),
                summary=not summary_fits(self.booklet, self.frame),
            )
            yield ABOUT, about
        yield NEEDS, parts.needs()
        yield CALCULATION, parts.calculation()

    def _back(self, parts: Parts, terms: Sequence[Term]) -> Iterator[tuple[str, list[Slice]]]:
        yield STEPS, parts.steps(self.cards)
        yield FINISHING, parts.finishing()
        yield CAUTIONS, parts.cautions()
        yield GLOSSARY, parts.glossary(terms)

    @property
    def _has_about(self) -> bool:
        booklet = self.booklet
        return booklet.close_up is not None or bool(booklet.aim or booklet.skills)

    def _entries(self) -> Iterator[Entry]:
        if self._has_about:
            yield Entry(ABOUT, ABOUT)
        yield Entry(NEEDS, NEEDS)
        yield Entry(CALCULATION, CALCULATION)
        yield Entry(CARD_PART, CARD_PART)
        for card in self.cards:
            yield Entry(card.title, card.name, inner=True)
        yield Entry(STEPS, STEPS)
        yield Entry(FINISHING, FINISHING)
        yield Entry(CAUTIONS, CAUTIONS)
        yield Entry(GLOSSARY, GLOSSARY)


def _bound(booklet: PatternBooklet, laid: _LaidOut, frame: Frame) -> Booklet:
    """Return all pages numbered, with the outline."""
    prose = [
        [Drawing(each.page.name, "prose", (each.page,)) for each in pages]
        for pages in (laid.front, laid.back)
    ]
    version = f"version {booklet.version}" if booklet.version else ""
    spec = f"spec {booklet.fingerprint}" if booklet.fingerprint else ""
    words = " · ".join(each for each in (booklet.code, version, booklet.date, spec) if each)
    rest = [*prose[0], *laid.cards, *prose[1]]
    title = replace(laid.title, pages=tuple(replace(page, label="1") for page in laid.title.pages))
    drawings = [title, *numbered(rest, numbered_frame(frame), 2, words)]
    places = count()
    listed = [
        _entered(drawing, [OutlineEntry(name, level, next(places)) for name, level in titles])
        for drawing, titles in zip(drawings, [[("Title page", 0)], *_titles(laid)], strict=True)
    ]
    return Booklet(tuple(listed))


def _entered(drawing: Drawing, entries: Sequence[OutlineEntry]) -> Drawing:
    """Return a drawing whose first page has entries in the outline."""
    first, *rest = drawing.pages
    return replace(drawing, pages=(replace(first, entries=tuple(entries)), *rest))


def _titles(laid: _LaidOut) -> Iterator[list[tuple[str, int]]]:
    """Yield for every drawing behind the title page what the outline has of it, and how deep."""
    for page in laid.front:
        yield [(part, 0) for part in page.parts]
    for place, drawing in enumerate(laid.cards):
        above = [] if place else [(CARD_PART, 0)]
        yield [*above, (drawing.title, 1)]
    for page in laid.back:
        yield [(part, 0) for part in page.parts]
