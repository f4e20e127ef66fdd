"""Draws the title page of a pattern booklet: its names and the finished cloth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from cards.figures import Figures
from cards.finished_cloth import FinishedCloth
from cards.pattern_booklet import PatternBooklet
from layouts.drawing import Drawing, Mark, Page
from layouts.paper import Frame, hole_marks
from layouts.prose import Prose
from layouts.sheets.cloth_picture import cloth_picture, picture_scale
from layouts.sheets.finished_sizes import Scale, scale_bar
from layouts.sheets.parts import (
    SOFT,
    Block,
    leading,
    paragraph,
    part,
    rows_of,
    stack,
    yarn_patch,
)
from layouts.typeface import BODY, DISPLAY, LABEL, NOTE, TITLE, measure

SLUG: Final = "title"

_TOP: Final = 6.0
_GAP: Final = 5.0
# Lines of a title in the largest type, above which it is set smaller.
_MOST_LINES: Final = 3
# A picture lower than this says nothing; the summary gives way to it.
_LEAST_PICTURE: Final = 60.0
_MOST_SUMMARY: Final = 0.2  # of the page
_PATCH: Final = (6.5, 4.8)


def cloths_apart(booklet: PatternBooklet, frame: Frame) -> tuple[FinishedCloth, ...]:
    """Return the cloths that have no room on the title page."""
    return booklet.cloths[len(_page(booklet, frame).cloths) :]


def summary_fits(booklet: PatternBooklet, frame: Frame) -> bool:
    """Whether the summary is short enough for the title page."""
    _, _, width, height = frame.content
    words = Prose().block(booklet.summary, min(width, 145.0), LABEL)
    return words.height <= _MOST_SUMMARY * height


def title_drawing(booklet: PatternBooklet, frame: Frame) -> Drawing:
    """Return the title page."""
    x, top, width, height = frame.content
    made = _page(booklet, frame)
    figure = _figure(booklet, made, width)
    marks: list[Mark] = [*hole_marks(frame)]
    y = top + _TOP
    marks.extend(made.head.draw(x, y))
    y += made.head.height + _GAP
    marks.extend(figure.draw(x, y + max(0.0, (made.free - figure.height) * 0.35)))
    marks.extend(made.foot.draw(x, top + height - made.foot.height))
    page = Page(frame.width, frame.height, tuple(marks), "Title page")
    return Drawing("Title page", SLUG, (page,))


@dataclass(frozen=True, slots=True)
class _Title:
    """A title page: its head and foot, the height between them, and the cloths at their scale.

    There are no cloths where names leave no room for any.
    """

    head: Block
    foot: Block
    free: float
    cloths: tuple[FinishedCloth, ...]
    scale: Scale


def _page(booklet: PatternBooklet, frame: Frame) -> _Title:
    """Return what is on the title page: all cloths that have room, or the first, or none."""
    _, _, width, height = frame.content
    head = _head(booklet, width, summary=summary_fits(booklet, frame))
    foot = _foot(booklet, width)
    free = height - _TOP - head.height - foot.height - 2 * _GAP
    # The caption is as high whatever the scale.
    room = free - _under(booklet, booklet.cloths, Scale(100), width).height - _GAP
    for cloths in (booklet.cloths, booklet.cloths[:1]):
        scale = picture_scale(cloths, width, room, booklet.units)
        if scale is not None and room >= _LEAST_PICTURE:
            return _Title(head, foot, free, cloths, scale)
    return _Title(head, foot, free, (), Scale(1))


def _head(booklet: PatternBooklet, width: float, *, summary: bool) -> Block:
    prose = Prose()
    version = f"version {booklet.version}" if booklet.version else ""
    kicker = " · ".join(each for each in ("Weaving pattern", booklet.code, version) if each)
    size = DISPLAY
    if len(prose.lines(booklet.title, width, DISPLAY, "bold")) > _MOST_LINES:
        size = TITLE
    lines = prose.lines(booklet.title, width, size, "bold")
    parts = [
        paragraph(kicker, width, BODY, colour=SOFT),
        _space(2.0),
        part(stack([paragraph(each, width, size, "bold") for each in lines]), "title"),
    ]
    if summary and booklet.summary:
        parts += [_space(2.0), prose.block(booklet.summary, min(width, 145.0), LABEL)]
    return stack(parts)


def _space(height: float) -> Block:
    return Block(height, lambda x, y: ())


def _foot(booklet: PatternBooklet, width: float) -> Block:
    spec = f"spec {booklet.fingerprint}" if booklet.fingerprint else ""
    words = " · ".join(each for each in (booklet.maker, booklet.date, spec) if each)
    return stack([_space(2.0), paragraph(words, width, LABEL, "bold")]) if words else _space(0.0)


def _figure(booklet: PatternBooklet, page: _Title, width: float) -> Block:
    """Return the cloths with their key, their scale and their caption."""
    if not page.cloths:
        return _space(0.0)
    picture = cloth_picture(page.cloths, page.scale, width, booklet.units)
    return stack([picture, _space(_GAP), _under(booklet, page.cloths, page.scale, width)])


def _under(
    booklet: PatternBooklet, cloths: Sequence[FinishedCloth], scale: Scale, width: float
) -> Block:
    """Return what stands under the picture."""
    return stack(
        [
            _bar(scale, width, booklet.units),
            _key(booklet.cloths, width),
            _space(2.0),
            Prose().block(
                caption(cloths, scale), min(width, 145.0), NOTE, colour=SOFT, role="caption"
            ),
        ]
    )


def _bar(scale: Scale, width: float, figures: Figures) -> Block:
    return scale_bar(scale, min(width, 60.0), figures)


def caption(cloths: Sequence[FinishedCloth], scale: Scale, number: int = 1) -> str:
    """Return the caption of a picture of cloths."""
    name = cloths[0].name if len(cloths) == 1 else ""
    named = f" of {name}" if name else ""
    parts = [f"Figure {number}. The finished cloth{named}, drawn 1 : {scale.times}."]
    if any(cloth.hem for cloth in cloths):
        parts.append("Dashed outlines at the ends: the hems, before they are turned under.")
    if any(cloth.folds for cloth in cloths):
        parts.append("Dashed lines within: where it lay folded on the loom.")
    parts.append("What is woven first is at the bottom. Colours are the mean of warp and weft.")
    return " ".join(parts)


def _key(cloths: Sequence[FinishedCloth], width: float) -> Block:
    """Return the yarns of the picture with patch, letter and name."""
    yarns = list({yarn.key: yarn for cloth in cloths for yarn in cloth.yarns}.values())
    between = _PATCH[0] + 2.0
    names = [paragraph(yarn.name, width - between, NOTE) for yarn in yarns]
    widths = [between + min(measure(yarn.name, NOTE), width - between) for yarn in yarns]
    rows = rows_of(widths, width, least_gap=6.0)
    heights = [max(max(_PATCH[1], names[index].height) for index in row) + 1.4 for row in rows]

    def draw(x: float, y: float) -> Iterator[Mark]:
        for row, height in zip(rows, heights, strict=True):
            left = x
            for index in row:
                yield from yarn_patch(yarns[index], left, y, *_PATCH)
                lift = max(0.0, (_PATCH[1] - leading(NOTE)) / 2)
                yield from names[index].draw(left + between, y + lift)
                left += widths[index] + 6.0
            y += height

    return Block(sum(heights), draw)
