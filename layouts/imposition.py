"""Pages put on the sheets that a printer prints: two to be cut apart, folded, or on both sides.

This is done when all pages are laid out, and only in a file that is printed as a whole: what is
looked at page by page keeps its single pages. Nothing is shrunk: pages of half the size are laid
out at that size. A card begins on a leaf of its own where both sides are printed, so that it can
be taken out; the back of its last leaf stays white. Creep, by which the inner leaves of a thick
booklet stand out beyond the outer ones, is not made up for: a margin is wide enough for it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import astuple, dataclass, replace
from itertools import count, zip_longest
from typing import Literal

from cards.spec import Paper, PaperSize, half_of
from cards.spec.paper import NAMED_SIZES
from layouts.drawing import BLACK, Drawing, Entry, Figure, Line, Mark, Page, Part, flat
from layouts.paper import Frame, frame_for, hole_marks, to_enlarge, turned_over
from layouts.transform import moved

Way = Literal["pages", "half sheets", "booklet"]
Duplex = Literal["", "DuplexFlipLongEdge", "DuplexFlipShortEdge"]

_CUT_DASH = (1.2, 1.8)
_CUT_WIDTH = 0.15
_CUT_GREY = "#808080"
# Marks by which to lay a blade or ruler, at the very edge of the sheet, in mm.
_CUT_TICK = 5.0


@dataclass(frozen=True, slots=True)
class Imposition:
    """How pages come onto printed sheets.

    `double` prints both sides; a booklet always is. `signature` is how many pages of a booklet are
    folded together, None for all. `stacked` puts half pages one below the other, on a sheet that
    stands upright. Pages that `run_on` go on from one drawing to the next as in a book, and no
    drawing begins on a leaf of its own.
    """

    way: Way = "pages"
    double: bool = False
    signature: int | None = None
    stacked: bool = False
    run_on: bool = False


PAGES = Imposition()


def imposition_of(
    paper: Paper,
    *,
    half_sheet: bool = False,
    booklet: bool = False,
    double: bool = False,
    signature: int | None = None,
) -> Imposition:
    """Return how the pages of a project are printed: as asked for here, or else as its paper is."""
    way: Way = "pages"
    if half_sheet or booklet:
        way = "booklet" if booklet else "half sheets"
    elif paper.booklet or paper.half_sheet:
        way = "booklet" if paper.booklet else "half sheets"
    return Imposition(
        way,
        double or paper.sides == "double",
        signature or paper.signature,
        stacked=way == "half sheets" and paper.orientation == "landscape",
    )


def page_frame(size: PaperSize, paper: Paper, how: Imposition) -> Frame:
    """Return a page to lay out on, of paper of a `size`.

    The pages of a booklet are bound in its fold and have neither holes nor a wider margin. Raises
    PaperTooSmall for an edge that has no room for its holes.
    """
    if how.way == "booklet":
        return frame_for(half_of(size))
    if how.way == "half sheets":
        size = half_of(size, "landscape" if how.stacked else "portrait")
        return frame_for(size, binding=paper.binding, holes=paper.holes)
    return frame_for(size, paper.orientation, paper.binding, paper.holes)


def paper_that_would_do(frame: Frame, how: Imposition, least: tuple[float, float]) -> str:
    """Return in words which paper leaves `least` mm between the margins of a page.

    `frame` is the page of the paper that is too small. Empty where a page is a sheet of its own.
    """
    if how.way == "pages":
        return ""
    _, _, width, height = frame.content
    needed = (frame.width - width + least[0], frame.height - height + least[1])
    long, short = needed[1 if how.stacked else 0] * 2, needed[0 if how.stacked else 1]
    fitting = [
        size.name
        for size in NAMED_SIZES.values()
        if max(size.width, size.height) >= long and min(size.width, size.height) >= short
    ]
    return (
        f", two of them a sheet of {math.ceil(short)} × {math.ceil(long)} mm: "
        f"{', '.join(fitting)} would do"
    )


def impose(drawings: Sequence[Drawing], frame: Frame, how: Imposition) -> list[Drawing]:
    """Return the sides of the sheets to be printed, in the order in which they are printed.

    `drawings` are sheets as they are read, drawn on `frame`, and of their true size. Pages that
    come two to a sheet become one drawing, whose pages know which stand on them. Raises ValueError
    for pages of another size than the frame's.
    """
    if how.way == "pages":
        return _on_both_sides(drawings, frame, how) if how.double else list(drawings)
    _check_sizes(drawings, frame)
    if how.way == "booklet":
        return [_booklet(drawings, how.signature)]
    return [_half_sheets(drawings, frame, how)]


def duplex(frame: Frame, how: Imposition) -> Duplex:
    """Return about which edge of the printed sheet its back is turned, empty for one side only."""
    if how.way == "booklet":
        return "DuplexFlipShortEdge"
    if not how.double:
        return ""
    width, height = frame.width, frame.height
    if how.way == "half sheets":
        width, height = _sheet_size(frame, stacked=how.stacked)
    upright = frame.binding not in {"top", "bottom"}  # the line about which a leaf is turned
    return "DuplexFlipLongEdge" if upright == (height >= width) else "DuplexFlipShortEdge"


def how_to_print(frame: Frame, how: Imposition) -> str:
    """Return what to tell the printer and to do with the sheets, empty where nothing is to do."""
    edge = "long" if duplex(frame, how) == "DuplexFlipLongEdge" else "short"
    both = f"print both sides, flip on the {edge} edge"
    if how.way == "booklet":
        sheets = f"every {how.signature // 4} sheets" if how.signature else "all sheets"
        return f"{both}; fold {sheets} together in the middle and staple them in the fold"
    if how.way == "half sheets":
        cut = "cut every sheet in two along the dashed line"
        return f"{both}; {cut}" if how.double else cut
    return both if how.double else ""


# Both sides


def _on_both_sides(drawings: Sequence[Drawing], frame: Frame, how: Imposition) -> list[Drawing]:
    """Return drawings on leaves; a white back at the very end is left out."""
    done = _leaves(drawings, frame, how)
    if done and not done[-1].pages[-1].marks:
        done[-1] = replace(done[-1], pages=done[-1].pages[:-1])
    return done


def _leaves(drawings: Sequence[Drawing], frame: Frame, how: Imposition) -> list[Drawing]:
    """Return drawings with every other page as a back, each filled up to whole leaves of its own.

    Those that run on are not.
    """
    done = []
    at = 0
    for drawing in drawings:
        pages = [
            _back(page, frame) if place % 2 else page
            for place, page in enumerate(drawing.pages, start=at)
        ]
        at += len(pages)
        if at % 2 and not how.run_on:
            last = pages[-1]
            pages.append(Page(last.width, last.height, (), f"{drawing.title}, white back"))
            at += 1
        done.append(replace(drawing, pages=tuple(pages)))
    return done


def _back(page: Page, frame: Frame) -> Page:
    """Return a page moved to where it stands on the back of a leaf, its holes behind those there.

    The frame may be that of a smaller page, of which this is the enlarged one.
    """
    behind = turned_over(frame)
    across = (behind.left - frame.left) * frame.magnify
    down = (behind.top - frame.top) * frame.magnify
    true = _true(frame)
    holes = hole_marks(true)
    marks = moved(_without(page.marks, holes), across, down)
    if len(tuple(flat(marks))) < len(tuple(flat(page.marks))):
        marks = (*hole_marks(turned_over(true)), *marks)
    return replace(page, marks=marks)


def _without(marks: Sequence[Mark], holes: Sequence[Mark]) -> tuple[Mark, ...]:
    """Return marks without those of the holes, wherever among them they are."""
    kept: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Figure | Part):
            kept.append(replace(mark, marks=_without(mark.marks, holes)))
        elif not any(_alike(mark, hole) for hole in holes):
            kept.append(mark)
    return tuple(kept)


def _true(frame: Frame) -> Frame:
    """Return a frame at its true size on paper."""
    return to_enlarge(frame, 1 / frame.magnify)


def _alike(one: Mark, other: Mark) -> bool:
    """Whether two marks are the same but for what reckoning loses."""
    if type(one) is not type(other):
        return False
    return all(
        math.isclose(a, b, abs_tol=1e-6) if isinstance(a, float | int) else a == b
        for a, b in zip(astuple(one), astuple(other), strict=True)
    )


# Two pages on a side


@dataclass(frozen=True, slots=True)
class _Placed:
    """A page with what is said of it: its entries in the outline, and its name in a label."""

    page: Page
    entries: tuple[Entry, ...]
    label: str


def _placed(drawings: Sequence[Drawing]) -> Iterator[_Placed | None]:
    """Yield every page in reading order with its entries, None for a white back."""
    places = count()
    for drawing in drawings:
        several = sum(1 for page in drawing.pages if page.marks) > 1
        for number, page in enumerate(drawing.pages, start=1):
            if not page.marks:
                yield None
                continue
            entries = [Entry(drawing.title, 0, next(places))] if number == 1 else []
            if several:
                entries.append(Entry(page.name, 1, next(places)))
            label = f"{drawing.title} {number}" if several else drawing.title
            yield _Placed(page, tuple(entries), label)


def _half_sheets(drawings: Sequence[Drawing], frame: Frame, how: Imposition) -> Drawing:
    sides: list[Page] = []
    if not how.double:
        for two in _twos(list(_placed(drawings))):
            sides.append(_side(two, frame, stacked=how.stacked))
            sides[-1] = _with_cut(sides[-1], frame, stacked=how.stacked)
    else:
        pages = list(_placed(_leaves(drawings, frame, how)))
        pages += [None] * (len(pages) % 2)
        # Behind the first half lies the second one where the leaf is turned across the cut.
        crossed = how.stacked == (frame.binding in {"top", "bottom"})
        for fronts, backs in zip(_twos(pages[::2]), _twos(pages[1::2]), strict=True):
            side = _side(fronts, frame, stacked=how.stacked)
            sides.append(_with_cut(side, frame, stacked=how.stacked))
            behind = backs[::-1] if crossed else backs
            sides.append(_side(behind, frame, stacked=how.stacked))
        if not sides[-1].marks:
            sides.pop()
    return Drawing("Half sheets", "half-sheets", tuple(sides))


def _twos(pages: Sequence[_Placed | None]) -> list[tuple[_Placed | None, _Placed | None]]:
    return list(zip_longest(pages[::2], pages[1::2]))


def _booklet(drawings: Sequence[Drawing], signature: int | None) -> Drawing:
    """Return the sides of a booklet: front and back of every sheet, the outermost sheet first."""
    pages = [page for page in _placed(drawings) if page is not None]
    width, height = pages[0].page.width, pages[0].page.height
    filled: list[_Placed | None] = [*pages, *[None] * (-len(pages) % 4)]
    step = signature or len(filled)
    sides = []
    sheet = 0
    for start in range(0, len(filled), step):
        folded = filled[start : start + step]
        while folded:
            sheet += 1
            # The outermost sheet holds the first two pages and the last two.
            first, second, *inner, last_but_one, last = folded
            for name, two in (("front", (last, first)), ("back", (second, last_but_one))):
                side = _two_on_a_side(two, width, height, stacked=False)
                sides.append(replace(side, label=f"Sheet {sheet}, {name}"))
            folded = inner
    return Drawing("Booklet", "booklet", tuple(sides))


def _side(two: tuple[_Placed | None, _Placed | None], frame: Frame, *, stacked: bool) -> Page:
    true = _true(frame)
    return _two_on_a_side(two, true.width, true.height, stacked=stacked)


def _two_on_a_side(
    two: tuple[_Placed | None, _Placed | None], width: float, height: float, *, stacked: bool
) -> Page:
    """Return a side of a sheet with two pages of `width` by `height` mm, or their places."""
    across, down = (0.0, height) if stacked else (width, 0.0)
    first, second = two
    marks = first.page.marks if first else ()
    marks += moved(second.page.marks, across, down) if second else ()
    there = [each for each in two if each is not None]
    return Page(
        width + across,
        height + down,
        marks,
        " + ".join(each.page.name for each in there),
        tuple(entry for each in there for entry in each.entries),
        " + ".join(each.label for each in there) or "White",
    )


def _with_cut(page: Page, frame: Frame, *, stacked: bool) -> Page:
    """Return a sheet with the line along which it is cut in two, and a little mark at its ends."""
    length = page.width if stacked else page.height
    middle = page.height / 2 if stacked else page.width / 2

    def stroke(start: float, stop: float, dash: tuple[float, ...] = ()) -> Line:
        ends = (start, middle, stop, middle) if stacked else (middle, start, middle, stop)
        return Line(*ends, _CUT_WIDTH, BLACK if frame.grey else _CUT_GREY, dash)

    cut = (
        stroke(0.0, _CUT_TICK),
        stroke(_CUT_TICK, length - _CUT_TICK, _CUT_DASH),
        stroke(length - _CUT_TICK, length),
    )
    return replace(page, marks=(*page.marks, *cut))


def _sheet_size(frame: Frame, *, stacked: bool) -> tuple[float, float]:
    return (frame.width, 2 * frame.height) if stacked else (2 * frame.width, frame.height)


def _check_sizes(drawings: Sequence[Drawing], frame: Frame) -> None:
    true = _true(frame)
    for drawing in drawings:
        for page in drawing.pages:
            if not (
                math.isclose(page.width, true.width) and math.isclose(page.height, true.height)
            ):
                raise ValueError(f"{page.name} is not of the size of the half sheets")
