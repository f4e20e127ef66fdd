"""Draws the title page of a pattern booklet: its names and the finished cloth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from cards.figures import Figures
from cards.finished_cloth import FinishedCloth
from cards.pattern_booklet import PatternBooklet
from layouts.drawing import Drawing, Mark, Page
from layouts.paper import Frame, PaperTooSmall, hole_marks
from layouts.prose import Prose
from layouts.sheets.cloth_picture import cloth_picture, picture_scale
from layouts.sheets.finished_sizes import Scale, scale_bar
from layouts.sheets.parts import (
    SOFT,
    Block,
    leading,
    paragraph,
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


def summary_fits(booklet: PatternBooklet, frame: Frame) -> bool:
    """Whether the summary is short enough for the title page."""
    _, _, width, height = frame.content
    words = Prose().block(booklet.summary, min(width, 150.0), LABEL)
    return words.height <= _MOST_SUMMARY * height


def title_drawing(booklet: PatternBooklet, frame: Frame) -> Drawing:
    """Return the title page. Raises PaperTooSmall where the cloth has no room on it."""
    x, top, width, height = frame.content
    head = _head(booklet, width, summary=summary_fits(booklet, frame))
    foot = _foot(booklet, width)
    free = height - _TOP - head.height - foot.height - 2 * _GAP
    figure = _figure(booklet, width, free)
    marks: list[Mark] = [*hole_marks(frame)]
    y = top + _TOP
    marks.extend(head.draw(x, y))
    y += head.height + _GAP
    marks.extend(figure.draw(x, y + max(0.0, (free - figure.height) * 0.35)))
    marks.extend(foot.draw(x, top + height - foot.height))
    page = Page(frame.width, frame.height, tuple(marks), "Title page")
    return Drawing("Title page", SLUG, (page,))


def _head(booklet: PatternBooklet, width: float, *, summary: bool) -> Block:
    prose = Prose()
    version = f"version {booklet.version}" if booklet.version else ""
    kicker = " · ".join(each for each in ("Weaving pattern", booklet.code, version) if each)
    size = DISPLAY
    if len(prose.lines(booklet.title, width, DISPLAY, "bold")) > _MOST_LINES:
        size = TITLE
    parts = [
        paragraph(kicker, width, BODY, colour=SOFT),
        _space(2.0),
        stack(
            [paragraph(line, width, size, "bold") for line in _lines(booklet.title, width, size)]
        ),
    ]
    if summary and booklet.summary:
        parts += [_space(2.0), prose.block(booklet.summary, min(width, 150.0), LABEL)]
    return stack(parts)


def _lines(title: str, width: float, size: float) -> list[str]:
    return Prose().lines(title, width, size, "bold")


def _space(height: float) -> Block:
    return Block(height, lambda x, y: ())


def _foot(booklet: PatternBooklet, width: float) -> Block:
    words = " · ".join(each for each in (booklet.maker, booklet.date) if each)
    return stack([_space(2.0), paragraph(words, width, LABEL, "bold")]) if words else _space(0.0)


def _figure(booklet: PatternBooklet, width: float, free: float) -> Block:
    """Return the cloth with its key, its scale and its caption, in the room that there is."""
    figures, cloths = booklet.units, booklet.cloths
    key = _key(cloths, width)
    # The caption is as high whatever the scale.
    around = (
        key.height
        + _caption(booklet, Scale(100), width).height
        + _bar(Scale(100), width, figures).height
    )
    room = free - around - 2 * _GAP
    if room < _LEAST_PICTURE:
        lacking = _LEAST_PICTURE - room
        raise PaperTooSmall(f"the finished cloth needs {lacking:.0f} mm more between the margins")
    scale = picture_scale(cloths, width, room, figures)
    picture = cloth_picture(cloths, scale, width, figures)
    return stack(
        [
            picture,
            _space(_GAP),
            _bar(scale, width, figures),
            key,
            _space(2.0),
            _caption(booklet, scale, width),
        ]
    )


def _bar(scale: Scale, width: float, figures: Figures) -> Block:
    return scale_bar(scale, min(width, 60.0), figures)


def _caption(booklet: PatternBooklet, scale: Scale, width: float) -> Block:
    cloths = booklet.cloths
    parts = [f"Figure 1. The finished cloth, drawn 1 : {scale.times}."]
    if any(cloth.hem for cloth in cloths):
        parts.append("Dashed outlines at the ends: the hems, before they are turned under.")
    if any(cloth.folds for cloth in cloths):
        parts.append("Dashed lines within: where it lay folded on the loom.")
    parts.append("What is woven first is at the bottom. Colours are the mean of warp and weft.")
    return Prose().block(" ".join(parts), min(width, 150.0), NOTE, colour=SOFT)


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
