"""Type and lines stand out from what they lie on, as WCAG 2.2 asks, on every sheet.

1.4.3 asks 4.5 to 1 of text, 3 to 1 of large text (18 points, or 14 in bold); 1.4.11 asks 3 to 1 of
lines without which a picture is not understood.
"""

import pytest

from layouts.drawing import WHITE, Box, Cells, Disc, Line, Path, Picture, Text, flat
from layouts.folio import frame_of
from layouts.patch import contrast
from layouts.sheet_list import sheets_of
from layouts.typeface import cap_height
from tests.sheets.looks import mark_box
from tests.worked_specs import SPECS, worked_out

LARGE, LARGE_BOLD = 18.0, 14.0
PLAY = 0.05


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        # W3C, WCAG 2.2, definition of contrast ratio: from 1 to 21.
        ("#000000", "#ffffff", 21.0),
        ("#ffffff", "#ffffff", 1.0),
        # W3C, Understanding SC 1.4.3: #777777 has 4.48 to 1 on white and fails (from memory).
        ("#777777", "#ffffff", 4.48),
        ("#767676", "#ffffff", 4.54),
    ],
)
def test_contrast_is_that_of_wcag(one, other, ratio):
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)
    assert contrast(other, one) == contrast(one, other)


def test_contrast_agrees_with_another_library():
    """Oracle: coloraide's contrast of WCAG 2.1, whose definition is that of 2.2."""
    from coloraide import Color

    for number in range(0, 0xFFFFFF, 77_777):
        one, other = f"#{number:06x}", f"#{0xFFFFFF - number * 3 % 0xFFFFFF:06x}"
        want = Color(one).contrast(other, method="wcag21")
        assert contrast(one, other) == pytest.approx(want, rel=0.002)


def ground_at(below, x, y):
    """Return the colour on which a point lies: that of the last shape drawn there, or white."""
    colour = WHITE
    for mark in below:
        if isinstance(mark, Box | Disc | Path) and mark.fill is not None:
            left, top, right, bottom = mark_box(mark)
            within = left - PLAY <= x <= right + PLAY and top - PLAY <= y <= bottom + PLAY
            if within and (not isinstance(mark, Path) or inside(mark, x, y)):
                colour = mark.fill
    return colour


def inside(path, x, y):
    """Return whether a point lies in a path, its curves taken as straight: even or odd crossings."""
    crossings, start, here = 0, (0.0, 0.0), (0.0, 0.0)
    for kind, *numbers in path.steps:
        there = start if kind == "Z" else (numbers[-2] + path.at[0], numbers[-1] + path.at[1])
        if kind == "M":
            start = there
        elif (here[1] > y) != (there[1] > y):
            share = (y - here[1]) / (there[1] - here[1])
            crossings += x < here[0] + share * (there[0] - here[0])
        here = there
    return crossings % 2 == 1


def edged(below, mark):
    """Return whether a stroke has an edge that stands out: a wider line along the same way."""
    return any(
        isinstance(mark, Path)
        and isinstance(each, Path)
        and (each.steps, each.at) == (mark.steps, mark.at)
        and each.line_width > mark.line_width
        and contrast(each.stroke, WHITE) >= 3.0
        for each in below[-1:]
    )


# Tints behind something that is told by lines and words as well.
TINTS = {"#e4e4e4", "#dedede", "#ececec"}


def pale_fills(page, yarns):
    """Return the colours of shapes without an outline that are hard to see on white."""
    shapes = [mark for mark in flat(page.marks) if isinstance(mark, Box | Disc | Path)]
    fills = {mark.fill for mark in shapes if mark.fill and mark.stroke is None}
    return {fill for fill in fills - {WHITE} - yarns if contrast(fill, WHITE) < 3.0}


def pale(page):
    """Return texts and lines of a page that do not stand out enough, in words."""
    drawn = []
    for mark in flat(page.marks):
        if isinstance(mark, Text):
            y = mark.y - cap_height(mark.size) / 2
            ground = ground_at(drawn, mark.left + mark.width / 2, y)
            large = mark.size >= (LARGE_BOLD if mark.weight == "bold" else LARGE)
            if contrast(mark.colour, ground) < (3.0 if large else 4.5):
                yield f"{mark.text!r} in {mark.colour} on {ground}"
        elif isinstance(mark, Line):
            ground = ground_at(drawn, (mark.x1 + mark.x2) / 2, (mark.y1 + mark.y2) / 2)
            if mark.colour != WHITE and contrast(mark.colour, ground) < 3.0:
                yield f"a line in {mark.colour} on {ground}"
        elif isinstance(mark, Box | Disc | Path):
            # A white outline keeps a line clear of what it crosses.
            stroke = mark.stroke
            if stroke in {None, WHITE} or edged(drawn, mark):
                pass
            elif contrast(stroke, WHITE) < 3.0:
                yield f"an outline in {mark.stroke}"
        else:
            assert isinstance(mark, Cells | Picture)
        if not isinstance(mark, Text):
            drawn.append(mark)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_type_and_lines_stand_out_on_every_sheet(path):
    project = worked_out(path).project
    frame = frame_of(project)
    for name, draw in sheets_of(project).items():
        for page in draw(project, frame).pages:
            assert sorted(set(pale(page))) == [], name
            assert pale_fills(page, {yarn.colour for yarn in project.yarns}) <= TINTS, name
