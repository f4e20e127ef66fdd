"""Merged rectangles cover the filled cells, all of them, once, and are few where they can be."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from layouts.cells import path_text, rectangles

grids = arrays(np.bool_, st.tuples(st.integers(0, 9), st.integers(0, 9)))


def covered(merged, shape):
    count = np.zeros(shape, dtype=int)
    for row, column, rows, columns in merged:
        assert rows > 0
        assert columns > 0
        count[row : row + rows, column : column + columns] += 1
    return count


@given(grids)
def test_every_filled_cell_is_covered_once(filled):
    assert (covered(rectangles(filled), filled.shape) == filled).all()


@given(grids)
def test_rectangles_are_in_reading_order(filled):
    corners = rectangles(filled)[:, :2].tolist()
    assert corners == sorted(corners)


@given(grids, st.sampled_from([np.fliplr, np.flipud, np.transpose]))
def test_turning_the_grid_leaves_as_many(filled, turn):
    assert len(rectangles(turn(filled))) == len(rectangles(filled))


def test_whole_blocks_and_stripes_become_one_rectangle_each():
    block = np.ones((7, 11), dtype=bool)
    assert rectangles(block).tolist() == [[0, 0, 7, 11]]
    stripes = block.copy()
    stripes[1::2] = False
    assert rectangles(stripes).tolist() == [[row, 0, 1, 11] for row in (0, 2, 4, 6)]
    assert len(rectangles(stripes.T)) == 4


def test_the_better_direction_is_taken():
    comb = np.array([[1, 1, 1, 1, 1], [1, 0, 1, 0, 1], [1, 0, 1, 0, 1]], dtype=bool)
    assert len(rectangles(comb)) == 4  # the back and three teeth; down the columns it would be 5
    assert len(rectangles(comb.T)) == 4


@pytest.mark.parametrize("shape", [(0, 0), (0, 5), (5, 0), (3, 4)])
def test_nothing_filled_gives_nothing(shape):
    assert rectangles(np.zeros(shape, dtype=bool)).shape == (0, 4)
    assert path_text(rectangles(np.zeros(shape, dtype=bool)), "{x}{y}{w}{h}") == ""


@given(grids)
def test_the_text_has_every_rectangle_in_order(filled):
    merged = rectangles(filled)
    text = path_text(merged, "{x} {y} {w} {h} re\n")
    assert re.findall(r"(\d+) (\d+) (\d+) (\d+) re\n", text) == [
        (str(column), str(row), str(columns), str(rows)) for row, column, rows, columns in merged
    ]
    repeated = path_text(merged, "M{x} {y}h{w}v{h}h-{w}z")
    assert repeated.count("z") == len(merged)
