"""Whether marks read back from a file are those that were drawn, to a hundredth of a millimetre."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from layouts.drawing import Box, Cells, Disc, Figure, Line, Part, Path, Picture, Text


def assert_same(drawn, read):
    drawn, read = list(_plain(drawn)), list(_plain(read))
    assert [each[0] for each in read] == [each[0] for each in drawn]
    for (words, want), (_, got) in zip(drawn, read, strict=True):
        assert got == pytest.approx(want, abs=0.01), words


def _plain(marks):
    """What must be equal to the letter, and what within tolerance, of every mark in turn."""
    for mark in marks:
        if isinstance(mark, Figure):
            yield (Figure, ". ".join(filter(None, (mark.title, mark.description)))), []
            yield from _plain(mark.marks)
            yield (Figure, "end"), []
        elif isinstance(mark, Part):
            yield from _plain(mark.marks)
        else:
            yield _PLAIN[type(mark)](mark)


def _line(mark):
    numbers = [mark.x1, mark.y1, mark.x2, mark.y2, mark.width, *mark.dash]
    return (Line, mark.colour, len(mark.dash)), numbers


def _inked(mark, numbers, *words):
    width = [] if mark.stroke is None else [mark.line_width]
    return (type(mark), mark.fill, mark.stroke, *words), [*numbers, *width]


def _box(mark):
    return _inked(mark, [mark.x, mark.y, mark.width, mark.height])


def _disc(mark):
    return _inked(mark, [mark.x, mark.y, mark.radius])


def _path(mark):
    numbers = [
        number + mark.at[place % 2] for step in mark.steps for place, number in enumerate(step[1:])
    ]
    kinds = "".join(step[0] for step in mark.steps)
    if kinds == "ML" and mark.fill is None:  # in a PDF that is a line
        return _line(Line(*numbers, mark.line_width, mark.stroke, mark.dash))
    dash = mark.dash if mark.stroke else ()
    return _inked(mark, [*numbers, *dash], kinds, len(dash))


def _text(mark):
    numbers = [mark.left, mark.y, mark.size, mark.width]
    return (Text, mark.text, mark.weight, mark.colour), numbers


def _cells(mark):
    rows, columns = np.nonzero(mark.filled)
    inked = tuple(zip(rows.tolist(), columns.tolist(), strict=True))
    last = (columns.max() + 1, rows.max() + 1)
    far = [mark.x + last[0] * mark.cell_width, mark.y + last[1] * mark.cell_height]
    return (Cells, inked, mark.colour), [mark.x, mark.y, mark.cell_width, mark.cell_height, *far]


def _picture(mark):
    words = ". ".join(filter(None, (mark.title, mark.description)))
    seen = Image.open(BytesIO(mark.data)).convert("RGB")
    return (Picture, words, seen.size, seen.tobytes()), [mark.x, mark.y, mark.width, mark.height]


_PLAIN = {
    Line: _line,
    Box: _box,
    Disc: _disc,
    Path: _path,
    Text: _text,
    Cells: _cells,
    Picture: _picture,
}
