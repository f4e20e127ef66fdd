"""Checks of the paper that need nothing worked out: what can be bound, punched and folded."""

from __future__ import annotations

from cards.spec.paper import half_of
from cards.spec.paper_models import Paper
from cards.spec.parts import Parts, Path
from cards.spec.places import Step

# ISO 838: two holes of 6 mm, 80 mm apart; beside each a mark of 4 mm.
_SHORTEST_BOUND_EDGE = 94.0


def check_paper(parts: Parts) -> None:
    """Tell an edge that cannot be punched, and ways of printing that shut one another out."""
    if parts.paper is not None and parts.sound("paper"):
        check_one(parts, parts.paper, "paper")


def check_one(parts: Parts, paper: Paper, *path: Step) -> None:
    """Tell the same of a paper that is written at `path`."""
    _check_folding(parts, paper, path)
    if paper.holes == "none":
        return
    if paper.booklet:
        message = "a booklet is bound in its fold: no holes are marked on its pages"
        mend = "leave `holes` out, or print sheets for the binder without `booklet`"
        parts.tell("warning", "holes-in-a-booklet", message, mend, *path, "holes")
    elif paper.binding == "none":
        message, mend = "holes need an edge that is bound", "add `binding: left`"
        parts.tell("error", "holes-without-binding", message, mend, *path, "holes")
    else:
        _check_edge(parts, paper, path)


def _check_folding(parts: Parts, paper: Paper, path: Path) -> None:
    if paper.booklet and paper.half_sheet:
        message = "a sheet is folded into a booklet or cut into halves, not both"
        parts.tell("error", "cut-and-folded", message, "keep one of them", *path, "half_sheet")
    if paper.booklet and paper.orientation == "landscape":
        message = "a booklet folds along the left edge of its pages, which stand upright"
        mend = "leave `orientation` out, or leave `booklet` out"
        parts.tell("error", "booklet-across", message, mend, *path, "orientation")


def _check_edge(parts: Parts, paper: Paper, path: Path) -> None:
    if paper.size is None:
        return  # every paper that is taken without asking is long enough, halves too
    size = half_of(paper.size, paper.orientation) if paper.half_sheet else paper.size
    sides = (size.width, size.height)
    if paper.orientation == "landscape" and not paper.half_sheet:
        sides = (max(sides), min(sides))
    edge = sides[0] if paper.binding == "top" else sides[1]
    if edge < _SHORTEST_BOUND_EDGE:
        message = f"the bound edge is {edge:g} mm long, and holes need {_SHORTEST_BOUND_EDGE:g} mm"
        mend = "bind another edge, use larger paper, or leave the holes out"
        parts.tell("error", "no-room-for-holes", message, mend, *path, "holes")
