"""Margins for the binder, and holes by ISO 838."""

import math

import pytest

from cards.spec import parse_paper_size
from layouts.drawing import Disc, Line
from layouts.paper import Frame, PaperTooSmall, centre_mark, hole_marks
from layouts.paper import frame_for as frame_of_size


def frame_for(size, *choices, **more):
    return frame_of_size(parse_paper_size(size), *choices, **more)


def test_margins_are_wider_where_the_sheet_is_bound():
    assert frame_for("A4") == Frame(210, 297, 10, 10, 10, 10)
    assert frame_for("A4", binding="left") == Frame(210, 297, 22, 10, 10, 10, "left")
    assert frame_for("A4", binding="right") == Frame(210, 297, 10, 10, 22, 10, "right")
    assert frame_for("A4", binding="top") == Frame(210, 297, 10, 22, 10, 10, "top")


def test_content_is_what_the_margins_leave():
    assert frame_for("A4", binding="left").content == (22, 10, 178, 277)
    assert frame_for("A4", binding="top").content == (10, 22, 190, 265)


def test_landscape_lays_the_longer_side_across():
    frame = frame_for("A4", "landscape", binding="left")
    assert (frame.width, frame.height, frame.left) == (297, 210, 22)
    assert frame_for("250 x 200 mm", "landscape").width == 250


@pytest.mark.parametrize("binding", ["left", "right", "top"])
def test_holes_are_punched_as_in_iso_838(binding):
    """ISO 838 (from memory): 6 mm holes, 80 mm apart, 12 mm from the edge, about its middle."""
    frame = frame_for("A4", binding=binding, holes="iso-838")
    marks = hole_marks(frame)
    one, other = [mark for mark in marks if isinstance(mark, Disc)]
    assert one.radius == other.radius == 3
    assert one.fill is None
    assert math.dist((one.x, one.y), (other.x, other.y)) == pytest.approx(80)
    middle = ((one.x + other.x) / 2, (one.y + other.y) / 2)
    expected = {"left": (12, 148.5), "right": (198, 148.5), "top": (105, 12)}
    assert middle == pytest.approx(expected[binding])


@pytest.mark.parametrize(
    ("binding", "edge"), [("left", (0, 148.5)), ("right", (210, 148.5)), ("top", (105, 0))]
)
def test_a_tick_stands_at_the_middle_of_the_binding_edge(binding, edge):
    frame = frame_for("A4", binding=binding, holes="iso-838")
    (tick,) = [mark for mark in hole_marks(frame) if isinstance(mark, Line)]
    assert (tick.x1, tick.y1) == edge
    assert tick == centre_mark(frame)
    x, y, width, height = frame.content
    assert not (x < tick.x2 < x + width and y < tick.y2 < y + height)


def test_holes_lie_in_the_margin():
    for binding in ("left", "right", "top"):
        frame = frame_for("A5", binding=binding, holes="iso-838")
        x, y, width, height = frame.content
        for mark in hole_marks(frame)[:2]:
            dx = max(x - mark.x, mark.x - x - width, 0)
            dy = max(y - mark.y, mark.y - y - height, 0)
            assert math.hypot(dx, dy) >= mark.radius


def test_nothing_is_marked_unless_asked():
    assert hole_marks(frame_for("A4")) == ()
    assert hole_marks(frame_for("A4", binding="left")) == ()


@pytest.mark.parametrize(
    ("choice", "message"),
    [
        ({"orientation": "sideways"}, "orientation 'sideways': choose from portrait, landscape"),
        ({"binding": "bottom"}, "binding 'bottom': choose from none, left, right, top"),
        ({"holes": "three"}, "holes 'three': choose from none, iso-838"),
        ({"holes": "iso-838"}, "holes need a binding edge"),
        ({"size": "80 x 90 mm", "binding": "left", "holes": "iso-838"}, "holes need 94 mm"),
        ({"size": "80 x 200 mm", "binding": "top", "holes": "iso-838"}, "holes need 94 mm"),
    ],
)
def test_choices_that_cannot_be_are_refused(choice, message):
    with pytest.raises(ValueError, match=message):
        frame_for(**({"size": "A4"} | choice))


def test_an_edge_that_is_too_short_for_holes_is_paper_too_small():
    with pytest.raises(PaperTooSmall, match="the edge to be bound is 90 mm long"):
        frame_for("80 x 90 mm", binding="left", holes="iso-838")


def test_a_sheet_that_is_not_bound_has_no_middle_mark():
    with pytest.raises(ValueError, match="not bound"):
        centre_mark(frame_for("A4"))
