import numpy as np
import pytest

from cards.cloth.layers import layers
from cards.cloth.opened import layer_drawdown, open_out, underside
from cards.cloth.pieces import Piece, find_pieces
from cards.cloth.weft_path import follow, pick_layers, shuttle_plan
from tests.weft_by_hand import unfolded


def woven(ends, text, times, start="right", shuttles=None):
    threading = [1 + end % 4 for end in range(ends)]
    lifts = [frozenset(map(int, lift)) for lift in text.split("/")] * times
    cells = np.array([[shaft in lift for shaft in threading] for lift in lifts])
    found = layers(cells)
    path = follow(pick_layers(found), shuttle_plan(shuttles or [0] * len(lifts), start))
    return threading, lifts, cells, found, path


def checkered(shape, first):
    return (np.indices(shape).sum(axis=0) % 2 == 0) == first


# Plain weave opened out is a chequerboard: the definition of plain weave.
@pytest.mark.parametrize(
    ("ends", "text", "start", "columns"),
    [
        (8, "1/123/134/3", "right", [0, 2, 4, 6, 7, 5, 3, 1]),
        (8, "1/123/134/3", "left", [7, 5, 3, 1, 0, 2, 4, 6]),
    ],
)
def test_double_width_opens_into_plain_cloth(ends, text, start, columns):
    _, _, cells, found, path = woven(ends, text, 3, start)
    (piece,) = find_pieces(path)
    opened = open_out(cells, found, path, piece)
    assert opened.ends.tolist() == columns
    assert opened.woven.all()
    assert opened.picks.tolist() == [[0, 1], [3, 2], [4, 5], [7, 6], [8, 9], [11, 10]]
    assert np.array_equal(opened.cells, checkered((6, ends), first=opened.cells[0, 0]))


@pytest.mark.parametrize(("start", "text"), [("right", "1/134/3/123"), ("left", "1/123/3/134")])
def test_a_tube_is_cut_where_its_weft_starts(start, text):
    threading, lifts, cells, found, path = woven(11, text, 3, start)
    (piece,) = find_pieces(path)
    opened = open_out(cells, found, path, piece)
    assert opened.picks.tolist() == [[pick, pick + 1] for pick in range(0, 12, 2)]
    (cloth,) = unfolded(
        threading, lifts, [end % 2 for end in range(11)], [0, 1] * 6, [0] * 12, start
    ).values()
    # By hand the weft goes on for ever; once round is a row. Started at the left it runs the
    # other way along the row.
    rows = np.array([cloth[at, 0][1] for at in range(66)]).reshape(6, 11)
    ends = [cloth[at, 0][0] for at in range(11)]
    onward = slice(None) if start == "right" else slice(None, None, -1)
    assert np.array_equal(opened.cells[:, onward], rows)
    assert opened.ends[onward].tolist() == ends


def test_a_row_that_the_shuttle_begins_halfway():
    _, _, cells, found, path = woven(8, "1/3/134/123", 2)
    (piece,) = find_pieces(path)
    opened = open_out(cells, found, path, piece)
    assert opened.picks.tolist() == [[0, -1], [1, 2], [4, 3], [5, 6], [-1, 7]]
    assert opened.ends.tolist() == [7, 5, 3, 1, 0, 2, 4, 6]
    assert opened.woven[0].tolist() == [False] * 4 + [True] * 4
    board = checkered((5, 8), first=opened.cells[1, 1])
    assert np.array_equal(opened.cells[opened.woven], board[opened.woven])


def test_two_shuttles_weave_rows_of_one_cloth():
    # Two colours, pick and pick, in a cloth of double width.
    _, _, cells, found, path = woven(
        8, "1/123/3/134/3/134/1/123", 1, shuttles=[0, 0, 1, 1, 1, 1, 0, 0]
    )
    assert path.layers.tolist() == [0, 1, 0, 1, 0, 1, 0, 1]
    (piece,) = find_pieces(path)
    assert piece.kind == "tube"
    assert open_out(cells, found, path, piece).picks.tolist() == [[0, 1], [2, 3], [4, 5], [6, 7]]


def test_wefts_that_cross_cannot_be_opened_out():
    _, _, cells, found, path = woven(
        8, "1/3/123/134", 3, shuttles=[0, 1, 1, 0, 0, 1, 1, 0, 0, 1, 1, 0]
    )
    (piece,) = find_pieces(path)
    with pytest.raises(ValueError, match="two wefts cross"):
        open_out(cells, found, path, piece)


def test_an_odd_piece_cannot_be_opened_out():
    _, _, cells, found, path = woven(8, "1/123/3/134", 1)
    with pytest.raises(ValueError, match="cannot be opened out: a slit"):
        open_out(cells, found, path, Piece("odd", (0, 1), (), "a slit"))


def test_the_mirror_shows_the_other_face_without_changing_sides():
    cells = np.array([[1, 1, 0], [0, 1, 0]], dtype=bool)
    assert underside(cells).tolist() == [[False, False, True], [True, False, True]]


def test_a_layer_alone():
    _, _, cells, found, _ = woven(8, "1/123/3/134", 1)
    assert layer_drawdown(cells, found[1]).tolist() == [[True, False] * 2, [False, True] * 2]
