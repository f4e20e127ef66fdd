"""A page and its margins, the wider one that a binder needs, and where its holes go, in mm."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, get_args

from cards.spec import PaperSize
from layouts.drawing import BLACK, Disc, Line, Mark

Orientation = Literal["portrait", "landscape"]
Binding = Literal["none", "left", "right", "top"]
Edge = Literal["none", "left", "right", "top", "bottom"]
Holes = Literal["none", "iso-838"]

MARGIN = 10.0
BINDING_MARGIN = 22.0

# ISO 838: two holes of 6 mm, 80 mm apart, 12 mm from the edge, about the middle of the sheet.
HOLE_DIAMETER = 6.0
HOLE_DISTANCE = 80.0
HOLE_INSET = 12.0
_HAIRLINE = 0.15
_TICK = 4.0
_MARK_GREY = "#808080"


# The edge that lies behind each when a leaf is turned over.
BEHIND: dict[Edge, Edge] = {
    "none": "none",
    "left": "right",
    "right": "left",
    "top": "bottom",
    "bottom": "top",
}


class PaperTooSmall(ValueError):  # noqa: N818 -- it names what is wrong
    """Raised for paper on which a sheet cannot be read; nothing is ever shrunk to fit."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A page and its margins, all in mm, with the edge that is bound and how it is punched.

    A sheet for large print is laid out on a smaller page, whose frame says by how much its drawing
    will be enlarged, `magnify`: what must be of its true size on paper is drawn so much smaller.
    `left_handed` and `grey` say for whom it is drawn: boxes to tick clear of a left hand, nothing
    told or tinted by colour.
    """

    width: float
    height: float
    left: float = MARGIN
    top: float = MARGIN
    right: float = MARGIN
    bottom: float = MARGIN
    binding: Edge = "none"
    holes: Holes = "none"
    magnify: float = 1.0
    left_handed: bool = False
    grey: bool = False

    @property
    def content(self) -> tuple[float, float, float, float]:
        """x, y, width and height in mm of what lies within the margins."""
        across = self.width - self.left - self.right
        along = self.height - self.top - self.bottom
        return self.left, self.top, across, along


def turned_over(frame: Frame) -> Frame:
    """Return the back of a leaf: its margins, binding edge and holes lie behind those in front.

    A leaf bound at a side is turned like that of a book, one bound at the top is turned up.
    """
    if frame.binding in {"top", "bottom"}:
        frame = replace(frame, top=frame.bottom, bottom=frame.top)
    elif frame.binding != "none":
        frame = replace(frame, left=frame.right, right=frame.left)
    return replace(frame, binding=BEHIND[frame.binding])


def frame_for(
    size: PaperSize,
    orientation: Orientation = "portrait",
    binding: Edge = "none",
    holes: Holes = "none",
) -> Frame:
    """Return the page of a paper size: margins 10 mm, 22 mm on the edge that is bound.

    Landscape lays the longer side across; portrait leaves the size as it is defined. Raises
    ValueError for an unknown choice and for holes that have no edge, which no spec may ask for,
    and PaperTooSmall for an edge that has no room for them.
    """
    _choose("orientation", orientation, get_args(Orientation))
    _choose("binding", binding, get_args(Binding))
    _choose("holes", holes, get_args(Holes))
    width, height = size.width, size.height
    if orientation == "landscape":
        width, height = max(width, height), min(width, height)
    frame = Frame(width, height, binding=binding, holes=holes)
    if binding != "none":
        frame = replace(frame, **{binding: BINDING_MARGIN})  # type: ignore[arg-type]  # a margin
    if holes != "none":
        _check_holes(frame)
    return frame


def to_enlarge(frame: Frame, factor: float) -> Frame:
    """Return a page that will be enlarged `factor` times, and is then as large as `frame`."""
    return replace(
        frame,
        width=frame.width / factor,
        height=frame.height / factor,
        left=frame.left / factor,
        top=frame.top / factor,
        right=frame.right / factor,
        bottom=frame.bottom / factor,
        magnify=frame.magnify * factor,
    )


def _choose(what: str, choice: str, choices: tuple[str, ...]) -> None:
    if choice not in choices:
        raise ValueError(f"{what} {choice!r}: choose from {', '.join(choices)}")


def _check_holes(frame: Frame) -> None:
    if frame.binding == "none":
        raise ValueError("holes need a binding edge: left, right or top")
    edge = frame.width if frame.binding == "top" else frame.height
    needed = HOLE_DISTANCE + HOLE_DIAMETER + 2 * _TICK
    if edge < needed:
        raise PaperTooSmall(
            f"the edge to be bound is {edge:g} mm long, and its holes need {needed:g} mm"
        )


def _from_edge(frame: Frame, inset: float, along: float) -> tuple[float, float]:
    """Find the point `inset` mm in from the binding edge, `along` mm past its middle, on paper."""
    inset, along = inset / frame.magnify, along / frame.magnify
    if frame.binding in {"top", "bottom"}:
        y = inset if frame.binding == "top" else frame.height - inset
        return frame.width / 2 + along, y
    x = inset if frame.binding == "left" else frame.width - inset
    return x, frame.height / 2 + along


def hole_marks(frame: Frame) -> tuple[Mark, ...]:
    """Mark both holes and the middle between them on the binding edge; none unless asked for."""
    if frame.holes == "none" or frame.binding == "none":
        return ()
    centres = [_from_edge(frame, HOLE_INSET, side * HOLE_DISTANCE / 2) for side in (-1, 1)]
    thin = _HAIRLINE / frame.magnify
    rings = [
        Disc(x, y, HOLE_DIAMETER / 2 / frame.magnify, stroke=_ink(frame), line_width=thin)
        for x, y in centres
    ]
    return (*rings, centre_mark(frame))


def _ink(frame: Frame) -> str:
    return BLACK if frame.grey else _MARK_GREY


def centre_mark(frame: Frame) -> Line:
    """Tick the middle of the binding edge, to set a punch by. Raises ValueError without one."""
    if frame.binding == "none":
        raise ValueError("a sheet that is not bound has no edge to mark")
    start, end = _from_edge(frame, 0, 0), _from_edge(frame, _TICK, 0)
    return Line(*start, *end, width=_HAIRLINE / frame.magnify, colour=_ink(frame))
