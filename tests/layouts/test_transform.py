"""Marks moved and enlarged are drawn elsewhere, and are otherwise what they were."""

from typing import get_args

import numpy as np
import pytest

from layouts.drawing import Box, Cells, Disc, Figure, Line, Mark, Part, Path, Picture, Text
from layouts.pdf import WRITERS
from layouts.transform import ENLARGERS, MOVERS, enlarged, moved

MARKS: list[Mark] = [
    Line(1.0, 2.0, 3.0, 5.0, 0.3, dash=(1.0, 2.0)),
    Box(1.0, 2.0, 3.0, 4.0),
    Disc(1.0, 2.0, 3.0),
    Path((("M", 1.0, 2.0), ("C", 1.0, 2.0, 3.0, 4.0, 5.0, 6.0), ("Z",)), at=(1.0, 1.0)),
    Text(1.0, 2.0, "sett", 9.0, 7.0),
    Cells(1.0, 2.0, 3.0, 4.0, np.eye(2, dtype=bool)),
    Figure((Disc(1.0, 2.0, 3.0),), "a disc"),
    Picture(1.0, 2.0, 3.0, 4.0, b"", "a sample"),
    Part((Disc(1.0, 2.0, 3.0),), "tick box"),
]


def test_no_kind_of_mark_is_forgotten():
    kinds = set(get_args(Mark))
    assert kinds == set(WRITERS) == set(MOVERS) == set(ENLARGERS) == {type(each) for each in MARKS}


@pytest.mark.parametrize("mark", MARKS, ids=lambda mark: type(mark).__name__)
def test_moved_there_and_back_is_what_it_was(mark):
    there = moved([mark], 4.0, -8.0)
    assert there != (mark,)
    back = moved(there, -4.0, 8.0)[0]
    if isinstance(mark, Cells):
        assert (back.x, back.y) == (mark.x, mark.y)
    else:
        assert back == mark


@pytest.mark.parametrize("mark", MARKS, ids=lambda mark: type(mark).__name__)
def test_enlarged_and_reduced_is_what_it_was(mark):
    large = enlarged([mark], 2.0)
    back = enlarged(large, 0.5)[0]
    if isinstance(mark, Cells):
        assert (back.x, back.y, back.cell_width) == (mark.x, mark.y, mark.cell_width)
        assert large[0].cell_height == 8.0
    else:
        assert large != (mark,)
        assert back == mark


def test_a_point_goes_where_the_move_and_then_the_enlargement_take_it():
    (line,) = enlarged(moved([Line(1.0, 2.0, 3.0, 5.0)], 10.0, 20.0), 2.0)
    assert (line.x1, line.y1, line.x2, line.y2) == (22.0, 44.0, 26.0, 50.0)
