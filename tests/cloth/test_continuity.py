from itertools import groupby

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.cloth import continuity as module
from cards.cloth.continuity import (
    Fault,
    edge_floats,
    find_faults,
    fold_faults,
    regular_floats,
)
from cards.cloth.layers import Layer, layers
from cards.cloth.weft_path import follow, pick_layers, shuttle_plan
from tests.weft_by_hand import alike, unfolded


def lifts(text):
    return [frozenset(map(int, lift)) for lift in text.split("/")]


def woven(threading, sheds, times, start="right", order=(0, 1, 0, 1), shuttles=(0, 0, 0, 0)):
    """A double weave on four shafts, without the program's own drawdown."""
    cells = np.array([[shaft in lift for shaft in threading] for lift in sheds * times])
    found = layers(cells)
    assert tuple(pick_layers(found)) == tuple(order) * times
    path = follow(pick_layers(found), shuttle_plan(list(shuttles) * times, start))
    return cells, find_faults(cells, found, path)


@pytest.mark.parametrize("ends", range(20, 28, 2))
@pytest.mark.parametrize("start", ["right", "left"])
def test_an_even_tube_doubles_one_end_where_the_shuttle_starts(ends, start):
    # weavingspace.co.uk, "Tubular double weave": with an even number one end is doubled per turn
    # of the weft, at the edge from which the shuttle starts. Top, bottom, top, bottom.
    threading = [1 + end % 4 for end in range(ends)]
    times = 5
    _, faults = woven(threading, lifts("1/123/3/134"), times, start)
    assert {fault.side for fault in faults} == {start}
    # Every turn but the last, whose edge is not reached any more.
    assert len(faults) == 2 * times - 1
    assert {(fault.kind, fault.threads) for fault in faults} == {("doubled", 2)}
    assert [fault.pick for fault in faults] == list(range(1, 4 * times - 1, 2))


@pytest.mark.parametrize(
    ("text", "start", "edges"),
    [
        # Ends odd, straight draw with the left end left out; the wrong pairing doubles both edges.
        # Counted by hand on paper from the draft; the walk below finds the same.
        ("1/134/3/123", "right", set()),
        ("1/123/3/134", "right", {"left", "right"}),
        ("1/123/3/134", "left", set()),
        ("1/134/3/123", "left", {"left", "right"}),
    ],
)
def test_odd_is_not_enough(text, start, edges):
    threading = [1 + end % 4 for end in range(39)]
    _, faults = woven(threading, lifts(text), 4, start)
    assert {fault.side for fault in faults} == edges
    cloth = unfolded(
        threading, lifts(text) * 4, [end % 2 for end in range(39)], [0, 1] * 8, [0] * 16, start
    )
    assert len(alike(cloth[0], (1, 0))) == len(faults)


@pytest.mark.parametrize("text", ["1/134/3/123", "1/123/3/134"])
@pytest.mark.parametrize("start", ["right", "left"])
def test_without_the_right_end_the_pairings_change_places(text, start):
    left_out = woven([1 + end % 4 for end in range(39)], lifts(text), 4, start)[1]
    right_out = woven([1 + end % 4 for end in range(1, 40)], lifts(text), 4, start)[1]
    assert bool(left_out) != bool(right_out)


def test_an_error_in_the_threading_does_not_hide_the_faults_of_the_fold():
    threading = [1 + end % 4 for end in range(80)]
    sheds = lifts("1/123/3/134")
    whole = fold_faults(woven(threading, sheds, 5)[1])
    threading[40] = 3 if threading[40] == 1 else 1
    assert fold_faults(woven(threading, sheds, 5)[1]) == whole


def test_a_twill_may_float_over_the_fold_as_far_as_elsewhere():
    # Two layers of 2/2 twill, of four and more ends each, seen from the edge inward; by hand.
    def faults_of(upper, lower):
        cells = np.zeros((2 * len(upper), 16), dtype=bool)
        cells[::2, :8], cells[1::2, :8] = upper, True
        cells[1::2, 8:] = lower
        found = (Layer(tuple(range(8)), tuple(range(0, len(cells), 2))),)
        found += (Layer(tuple(range(8, 16)), tuple(range(1, len(cells), 2))),)
        path = follow([0, 1] * len(upper), shuttle_plan([0] * len(cells), "left"))
        return find_faults(cells, found, path)

    twill = np.array([[(end - pick) % 4 < 2 for end in range(8)] for pick in range(8)])
    (fault, *_) = [each for each in faults_of(twill, ~twill) if each.side == "right"]
    # End 1 of each layer: pick 1 leaves over two ends and enters under two, turned over: a float.
    assert fault == Fault(0, "right", "long float", (0, 1), 4)
    # Raised in both: the weft goes from one face to the other, no float at all.
    assert [each for each in faults_of(twill, twill) if each.side == "right"] == []


def test_a_selvedge_that_the_weft_misses():
    # 2/2 twill: edge ends lie over two picks and under two, so every second turn catches nothing at
    # one edge (common practice, no source).
    cells = np.array([[(end - pick) % 4 < 2 for end in range(8)] for pick in range(8)])
    found = layers(cells)
    path = follow(pick_layers(found), shuttle_plan([0] * 8, "right"))
    faults = find_faults(cells, found, path)
    assert {fault.kind for fault in faults} == {"edge missed"}
    assert fold_faults(faults) == ()
    # By hand: end 0 (right) is over picks 0, 3, 4, 7; turns at the right lie after picks 1, 3, 5.
    # End 7 (left) is over picks 2, 3, 6, 7 less one; turns at the left after picks 0, 2, 4, 6.
    right = [pick for pick in (1, 3, 5) if cells[pick, 0] == cells[pick + 1, 0]]
    left = [pick for pick in (0, 2, 4, 6) if cells[pick, 7] == cells[pick + 1, 7]]
    assert [fault.pick for fault in faults if fault.side == "right"] == right == [1, 3, 5]
    assert [fault.pick for fault in faults if fault.side == "left"] == left == [0, 2, 4, 6]


@st.composite
def blocks(draw):
    picks, ends = draw(st.integers(1, 12)), draw(st.integers(1, 12))
    rows = st.lists(st.booleans(), min_size=ends, max_size=ends)
    few = draw(st.lists(rows, min_size=1, max_size=3))
    return np.array([draw(st.sampled_from(few)) for _ in range(picks)], dtype=bool)


@pytest.mark.parametrize("at_once", [1, 1 << 22])
@settings(deadline=None)
@given(cells=blocks())
def test_regular_floats_against_groupby(at_once, cells):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "AT_ONCE", at_once)
        found = regular_floats(cells)
    for face in (False, True):
        lengths = sorted(
            len(list(group))
            for row in cells.tolist()
            for state, group in groupby(row)
            if state == face
        )
        # At most one in twenty is longer.
        wanted = next(
            size for size in range(20) if sum(each > size for each in lengths) * 20 <= len(lengths)
        )
        assert found[face] == wanted


@given(blocks(), st.booleans())
def test_edge_floats_against_groupby(cells, backward):
    picks = np.arange(len(cells))
    inward = np.arange(cells.shape[1])[:: -1 if backward else 1]
    state, length = edge_floats(cells, picks, inward)
    for pick in picks:
        first, group = next(groupby(cells[pick, inward].tolist()))
        assert (state[pick], length[pick]) == (first, len(list(group)))
