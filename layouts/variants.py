"""The variants of a print for who needs them: large print, left-handed, grey.

Large print is laid out on a page of half the size, flowing anew, and the finished drawing is
doubled: so every size of type is doubled and nothing is scaled to fit. Margins, holes and whatever
must be measured keep their true size on paper, since the smaller page has half of them.
"""

from __future__ import annotations

from dataclasses import replace

from cards.needs import Needs
from layouts.drawing import Drawing
from layouts.greys import in_black
from layouts.paper import Frame, to_enlarge
from layouts.transform import enlarged_drawing

LARGE = 2.0


def varied(frame: Frame, needs: Needs) -> Frame:
    """Return the page on which sheets are laid out for who has these needs."""
    frame = replace(frame, left_handed=needs.left_handed, grey=needs.grey)
    return to_enlarge(frame, LARGE) if needs.large_print else frame


def finished(drawing: Drawing, frame: Frame) -> Drawing:
    """Return a sheet that was laid out on a varied page as it is printed."""
    enlarged = enlarged_drawing(drawing, frame.magnify)
    return in_black(enlarged) if frame.grey else enlarged
