"""What stands before the projects of a binder: title page, contents, indexes, and what is missing.

Every line that names a project ends with the page on which it begins, in the one numbering that
runs through the binder.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cards.binder import BinderEntry, Index, indexes_of, month_words
from cards.heading import Heading
from layouts.binder_folio import Unbound
from layouts.binder_page import TAB_PATCH, tab_patch
from layouts.drawing import Drawing, Line, Mark, Page
from layouts.glyphs import printable
from layouts.paper import Frame, hole_marks
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    HAIR,
    HAIRLINE,
    HEAVY,
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    heading_line,
    leading,
    paragraph,
    rule,
    stack,
)
from layouts.typeface import BODY, LABEL, TITLE, label, measure

_BINDER_TITLE = TITLE + 12.0
_NUMBER_ROOM = 14.0
_GAP = 3.0
_INDENT = 6.0
_MOST_FINDINGS = 40


@dataclass(frozen=True, slots=True)
class Front:
    """A binder without its pages: its title, its projects in order, and specs that are missing."""

    title: str
    fingerprint: str
    entries: tuple[BinderEntry, ...]
    unbound: tuple[Unbound, ...]


def front_drawings(front: Front, frame: Frame, starts: Sequence[int]) -> list[Drawing]:
    """Return the sheets before the projects; `starts` is the page on which each begins."""
    made = [_title_page(front, frame), _contents(front, frame, starts)]
    if front.unbound:
        made.append(_not_bound(front, frame))
    return [*made, _indexes(front, frame, starts)]


def settled_front(front: Front, frame: Frame, pages: Sequence[int]) -> list[Drawing]:
    """Return the sheets before projects of so many pages, with the numbers they really have.

    How many pages the front has is not known before it is drawn, and moves all numbers; every
    number has the same room, so the second drawing is laid out as the first.
    """
    starts = [1 + sum(pages[:place]) for place in range(len(pages))]
    before = sum(len(drawing.pages) for drawing in front_drawings(front, frame, starts))
    return front_drawings(front, frame, [before + start for start in starts])


def _heading(front: Front, card: str) -> Heading:
    units = {entry.units for entry in front.entries}
    return Heading(
        card=card,
        title=front.title,
        code="",
        date=_dates(front.entries),
        maker=_makers(front.entries),
        units="imperial" if units == {"imperial"} else "metric",
        loom="",
        fingerprint=front.fingerprint,
        printed_from="binder",
    )


def _dates(entries: Sequence[BinderEntry]) -> str:
    """Return the months from the first to the last project."""
    dates = sorted(entry.date for entry in entries if entry.date)
    if not dates:
        return ""
    months = dict.fromkeys((month_words(dates[0]), month_words(dates[-1])))
    return " to ".join(months)


def _makers(entries: Sequence[BinderEntry]) -> str:
    makers = list(dict.fromkeys(entry.maker for entry in entries if entry.maker))
    return ", ".join(makers) if len(makers) <= 3 else ""


def _title_page(front: Front, frame: Frame) -> Drawing:
    x, y, width, height = frame.content
    number = len(front.entries)
    words = "1 project" if number == 1 else f"{number} projects"
    missing = len(front.unbound)
    lines = [words, _dates(front.entries), _makers(front.entries)]
    if missing:
        lines.append(
            f"{missing} {'spec is' if missing == 1 else 'specs are'} missing: see Not bound"
        )
    marks: list[Mark] = [*hole_marks(frame)]
    title = paragraph(front.title, width, _BINDER_TITLE, "bold")
    top = y + height * 0.28
    marks.extend(title.draw(x, top))
    line = top + title.height + 3.0
    marks.append(Line(x, line, x + width, line, HEAVY, INK))
    said = stack([paragraph(each, width, LABEL + 2) for each in lines if each], gap=1.5)
    marks.extend(said.draw(x, line + 4.0))
    foot = stack(
        [
            paragraph(
                "Every page says from which state of its spec it was printed. The contents say the "
                "same of every project: throw away a page that differs, for it is stale.",
                width,
                BODY,
                colour=SOFT,
            ),
            paragraph(f"binder {front.fingerprint}", width, BODY, "bold", SOFT),
        ],
        gap=2.0,
    )
    marks.extend(foot.draw(x, y + height - foot.height))
    page = Page(frame.width, frame.height, tuple(marks), "Title page")
    return Drawing("Title page", "title-page", (page,))


def _contents(front: Front, frame: Frame, starts: Sequence[int]) -> Drawing:
    flow = PageFlow(frame, _heading(front, "Contents"))
    for place, (entry, start) in enumerate(zip(front.entries, starts, strict=True)):
        flow.add(_content_line(entry, place, start, flow.width))
    return flow.drawing("Contents", "contents")


def _content_line(entry: BinderEntry, place: int, start: int, width: float) -> Block:
    """Return a project with its tab, its title and the page where it begins."""
    left = TAB_PATCH + _GAP
    room = width - left - _NUMBER_ROOM
    title = paragraph(entry.title, room, LABEL, "bold")
    about = " · ".join(text for text in (entry.about, f"spec {entry.fingerprint}") if text)
    what = "; ".join(entry.structures)
    under = stack([paragraph(each, room, BODY, colour=SOFT) for each in (about, what) if each])

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from tab_patch(x, y + 0.2, place)
        yield from title.draw(x + left, y)
        at = y + baseline(LABEL)
        if title.height < leading(LABEL) * 1.5:
            yield from _leader(x + left + measure(entry.title, LABEL, "bold"), x + width, at)
        yield label(x + width, at, str(start), LABEL, "bold", "end", INK)
        yield from under.draw(x + left, y + title.height)

    return Block(title.height + under.height + 3.0, draw)


def _leader(start: float, end: float, at: float) -> Iterable[Mark]:
    """Lead the eye from a title to the number of its page."""
    if end - _NUMBER_ROOM + 3.0 > start + 6.0:
        yield Line(start + 2.0, at, end - _NUMBER_ROOM + 3.0, at, 0.25, HAIR, (0.25, 1.6))


def _indexes(front: Front, frame: Frame, starts: Sequence[int]) -> Drawing:
    flow = PageFlow(frame, _heading(front, "Index"))
    for index in indexes_of(front.entries):
        _index(flow, index, front.entries, starts)
    return flow.drawing("Index", "index")


def _index(
    flow: PageFlow, index: Index, entries: Sequence[BinderEntry], starts: Sequence[int]
) -> None:
    width = flow.width
    heading = stack([heading_line(index.title, width), _ruled(width)])
    flow.gap(5.0)
    waiting: list[Block] = [heading]
    for term, places in index.terms:
        lines = [_index_line(entries[place], place, starts[place], width) for place in places]
        head = paragraph(term, width, BODY, "bold")
        # A term is never left at the foot of a page without its first project.
        flow.add(stack([*waiting, head, lines[0]]))
        waiting = []
        for line in lines[1:]:
            flow.add(line)
        flow.gap(1.6)


def _ruled(width: float) -> Block:
    return Block(1.6, lambda x, y: [rule(x, y + 0.3, width, HAIRLINE, SOFT)])


def _index_line(entry: BinderEntry, place: int, start: int, width: float) -> Block:
    number = measure(f"{place + 1}", BODY, "bold") + 2.0
    room = width - _INDENT - max(number, 7.0) - _NUMBER_ROOM
    title = paragraph(entry.title, room, BODY)

    def draw(x: float, y: float) -> Iterable[Mark]:
        at = y + baseline(BODY)
        yield label(x + _INDENT, at, str(place + 1), BODY, "bold", colour=SOFT)
        left = x + _INDENT + max(number, 7.0)
        yield from title.draw(left, y)
        if title.height < leading(BODY) * 1.5:
            yield from _leader(left + measure(entry.title, BODY), x + width, at)
        yield label(x + width, at, str(start), BODY, "regular", "end", INK)

    return Block(title.height + 0.4, draw)


def _not_bound(front: Front, frame: Frame) -> Drawing:
    """Return the sheet of the specs that cannot be bound, each with what is to be mended."""
    flow = PageFlow(frame, _heading(front, "Not bound"))
    words = "These specs are in the folder and not in the binder. Mend them, and bind again."
    flow.add(stack([paragraph(words, flow.width, BODY, colour=SOFT), _space(2.0)]))
    for each in front.unbound:
        _missing(flow, each)
    return flow.drawing("Not bound", "not-bound")


def _missing(flow: PageFlow, unbound: Unbound) -> None:
    width = flow.width
    lines = [] if not unbound.why else [unbound.why]
    errors = [each for each in unbound.findings if each.level == "error"]
    for each in errors[:_MOST_FINDINGS]:
        place = f"line {each.place.line}, column {each.place.column}"
        lines.append(f"{place}: {each.message} ({each.mend})")
    more = len(errors) - _MOST_FINDINGS
    if more > 0:
        lines.append(f"and {more} more: loomfolio check says all of them")
    blocks = [stack([paragraph(printable(unbound.name), width, LABEL, "bold"), _space(0.5)])]
    blocks += [stack([_listed(line, width), _space(0.8)]) for line in lines]
    flow.keep(blocks)
    flow.gap(4.0)


def _listed(text: str, width: float) -> Block:
    words = paragraph(printable(text), width - _INDENT, BODY)
    return beside([(0.0, paragraph("–", _INDENT, BODY)), (_INDENT, words)])


def _space(height: float) -> Block:
    return Block(height, lambda x, y: ())
