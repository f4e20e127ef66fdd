"""One numbering through sheets that are bound together, below what each says of its own pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from layouts.drawing import Drawing, Page, Part
from layouts.paper import Frame
from layouts.sheets.parts import INK, SOFT, baseline, leading
from layouts.typeface import BODY, label

# What the number takes from the height of every sheet, in mm.
STRIP = leading(BODY) + 1.5


def numbered_frame(frame: Frame) -> Frame:
    """Return a page that leaves room for the number at its foot."""
    return replace(frame, bottom=frame.bottom + STRIP)


def numbered(
    drawings: Sequence[Drawing], frame: Frame, first: int = 1, words: str = ""
) -> list[Drawing]:
    """Return sheets drawn on a `numbered_frame` with a number on every page, from `first`.

    It is the page's label in a PDF too.

    The number stands at the right margin of the strip, `words` that name the whole at the left.
    """
    number = first
    done: list[Drawing] = []
    for drawing in drawings:
        pages = []
        for page in drawing.pages:
            pages.append(_numbered(page, frame, number, words))
            number += 1
        done.append(replace(drawing, pages=tuple(pages)))
    return done


def _numbered(page: Page, frame: Frame, number: int, words: str) -> Page:
    x, _, width, _ = frame.content
    at = page.height - frame.bottom + STRIP - leading(BODY) + baseline(BODY)
    marks = [label(x + width, at, str(number), BODY, "bold", "end", INK)]
    if words:
        marks.append(label(x, at, words, BODY, colour=SOFT))
    foot = Part(tuple(marks), "page foot")
    return replace(page, marks=(*page.marks, foot), label=str(number))
