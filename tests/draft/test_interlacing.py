"""Intersections of a weave, counted on the crossings themselves and against old textbooks."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.draft.drawdown import drawdown
from cards.draft.interlacing import interlacings

TWILLS = {
    "2/2": "1100", "1/3": "1000", "2/1": "110", "5/2/1/2": "1111100100", "plain": "10",
}  # fmt: skip


def twill(name, step=1):
    """The draft of a twill or satin: every pick is the one before, moved by `step` ends."""
    pattern = TWILLS.get(name, name)
    ends = len(pattern)
    shafts = list(range(1, ends + 1))
    lifts = [
        frozenset(end + 1 for end in range(ends) if pattern[(end - step * pick) % ends] == "1")
        for pick in range(ends)
    ]
    return shafts, lifts


def counted(cells):
    """Changes per gap between neighbours along the rows of the crossings."""
    return (cells[:, 1:] != cells[:, :-1]).mean()


@pytest.mark.parametrize(
    ("name", "step", "threads", "intersections"),
    [
        # E and I per repeat, by counting the weave out by hand.
        ("plain", 1, 2, 2),
        ("2/1", 1, 3, 2),
        ("2/2", 1, 4, 2),
        ("1/3", 1, 4, 2),
        ("10000", 2, 5, 2),  # five-end satin
        ("5/2/1/2", 1, 10, 4),
    ],
)
def test_common_weaves(name, step, threads, intersections):
    shafts, lifts = twill(name, step)
    for found in interlacings(shafts * 3, lifts * 2):
        assert (found.threads, found.intersections, found.whole) == (threads, intersections, True)


def test_intersections_in_forty_ends():
    # J. T. Taylor, Cotton Weaving and Designing, 6th ed., 1909 (Gutenberg 57031), mirror page 464:
    # 20 in a 2/2 twill, 16 in a twill of 5 up, 2 down, 1 up, 2 down.
    for name, intersections in (("2/2", 20), ("5/2/1/2", 16)):
        found, _ = interlacings(*(each * 4 for each in twill(name)))
        assert 40 * found.share == pytest.approx(intersections, rel=1e-12)


@given(
    st.lists(st.integers(1, 6), min_size=2, max_size=8),
    st.lists(st.frozensets(st.integers(1, 6)), min_size=2, max_size=8),
    st.integers(2, 3),
)
def test_a_repeat_is_counted_round_its_edge(threading, lifts, times):
    cells = drawdown(threading, lifts)
    round_ends = np.concatenate((cells, cells[:, :1]), axis=1)
    round_picks = np.concatenate((cells, cells[:1]), axis=0)
    ends, picks = interlacings(threading * times, lifts * times)
    assert ends.share == pytest.approx(counted(round_ends))
    assert picks.share == pytest.approx(counted(round_picks.T))


@given(
    st.lists(st.integers(1, 6), min_size=2, max_size=30),
    st.lists(st.frozensets(st.integers(1, 6)), min_size=2, max_size=30),
)
def test_any_draft_agrees_with_its_crossings(threading, lifts):
    cells = drawdown(threading, lifts)
    ends, picks = interlacings(threading, lifts)
    assert 0 <= ends.share <= 1
    assert 0 <= picks.share <= 1
    if not ends.whole and not picks.whole:
        assert ends.share == pytest.approx(counted(cells))
        assert picks.share == pytest.approx(counted(cells.T))


def test_a_repeat_cut_off_does_not_blur_the_count():
    # A point threading that ends where it began: 25 ends of a repeat of six.
    threading = [1, 2, 3, 4, 3, 2] * 4 + [1]
    _, lifts = twill("2/2")
    ends, _ = interlacings(threading, lifts * 5)
    assert (ends.threads, ends.intersections) == (6, 3)


def test_a_layer_counts_only_its_own_ends():
    # Both cloths of a double weave are plain, though every lift raises shafts of both.
    lifts = [frozenset(each) for each in ({1}, {1, 2, 3}, {3}, {1, 3, 4})] * 3
    for shafts, rows in (((1, 3), slice(0, None, 2)), ((2, 4), slice(1, None, 2))):
        found = interlacings(list(shafts) * 4, lifts[rows])
        assert [each.intersections for each in found] == [Fraction(2), Fraction(2)]


def test_less_than_two_threads_have_no_intersections():
    assert interlacings([1], [frozenset({1})] * 3) is None
    assert interlacings([1, 2], [frozenset({1})]) is None
