"""The page of a binder: a binding edge with holes, and at the other edge the tabs of the projects.

Every project has its tab one place further down; where there are more projects than places, they
begin again at the top. A tab reaches to the edge of the paper, so that the cut edge shows it, and
its number stands where any printer still prints.
"""

from __future__ import annotations

from dataclasses import replace

from cards.spec import PaperSize
from layouts.drawing import Box, Drawing, Mark, Page, Part
from layouts.folio import LEAST_HEIGHT, LEAST_WIDTH
from layouts.numbering import numbered_frame
from layouts.paper import Frame, PaperTooSmall, frame_for
from layouts.typeface import LABEL, cap_height, label, measure

# Of the tab before a title in the contents.
TAB_PATCH = 10.0

# In mm: printers leave up to 5 mm of the edge white, and the number stands clear of that.
TAB_WIDTH = 13.0
TAB_MARGIN = 15.5
_TAB_HEIGHT = 14.0
_UNPRINTED = 5.0
_INK = "#222222"
_ON_INK = "#ffffff"
_ISO_EDGES = (210.0, 297.0, 148.0, 420.0)


def binder_frame(size: PaperSize) -> Frame:
    """Return the page on which everything in a binder is laid out, upright and bound at the left.

    Paper of the ISO sizes has the holes of ISO 838. Raises PaperTooSmall for paper that leaves too
    little between tabs and binding edge.
    """
    of_iso = size.width in _ISO_EDGES and size.height in _ISO_EDGES
    frame = frame_for(size, "portrait", "left", "iso-838" if of_iso else "none")
    frame = numbered_frame(replace(frame, right=TAB_MARGIN))
    _, _, width, height = frame.content
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        raise PaperTooSmall(
            f"bound, the paper leaves {width:.0f} × {height:.0f} mm, and a sheet needs "
            f"{LEAST_WIDTH:.0f} × {LEAST_HEIGHT:.0f} mm"
        )
    return frame


def tab_marks(frame: Frame, place: int) -> tuple[Mark, ...]:
    """Return the tab of the project at that place in the binder, from 0."""
    places = int((frame.height - frame.top - frame.bottom) // _TAB_HEIGHT)
    top = frame.top + place % places * _TAB_HEIGHT
    left = frame.width - TAB_WIDTH
    number = str(place + 1)
    middle = left + (TAB_WIDTH - _UNPRINTED + 1.5) / 2
    at = top + (_TAB_HEIGHT - 1.0 + cap_height(LABEL)) / 2
    box = Box(left, top, TAB_WIDTH, _TAB_HEIGHT - 1.0, fill=_INK, stroke=None)
    words = label(middle, at, number, LABEL, "bold", "middle", _ON_INK)
    return (Part((box, words), "page foot"),)  # nobody hears it again on every page


def tab_patch(x: float, y: float, place: int) -> tuple[Mark, ...]:
    """Return a small tab with the number of a project, to stand before its title; 6 mm high."""
    number = str(place + 1)
    width = max(TAB_PATCH, measure(number, LABEL, "bold") + 2.0)
    at = y + 3.0 + cap_height(LABEL) / 2
    box = Box(x, y, width, 6.0, fill=_INK, stroke=None)
    return (box, label(x + width / 2, at, number, LABEL, "bold", "middle", _ON_INK))


def stamps(frame: Frame, places: list[int]) -> Drawing:
    """Return a page for each page of the projects with nothing on it but the tab of its project.

    `places` says for every page at which place its project stands.
    """
    pages = [Page(frame.width, frame.height, tab_marks(frame, place), "") for place in places]
    return Drawing("", "", tuple(pages))
