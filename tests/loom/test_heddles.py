"""Heddles counted from a threading, at each side of the middle, and where a loom has too few."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.loom.heddles import heddle_plan, heddles_needed


def test_heddles_of_a_straight_draw():
    # Source: A. Wolfensberger, Theory of Silk Weaving, 2nd ed., 1921, p. 71: 100 ends to the inch
    # straight on four shafts are 25 heddles to the inch on each.
    assert heddles_needed([1, 2, 3, 4] * 25, 4) == (25, 25, 25, 25)


def test_heddles_of_an_uneven_draft():
    # Source: C. P. Brooks, Cotton Manufacturing, 3rd ed., 1892, p. 93: a repeat of 12 ends uses
    # five shafts 1, 2, 3, 4 and 2 times; five repeats to the inch.
    repeat = [1, 2, 2, 3, 3, 3, 4, 4, 4, 4, 5, 5]
    inch = repeat * 5
    assert len(inch) == 60
    assert heddles_needed(inch, 5) == (5, 10, 15, 20, 10)
    # The same page: were four shafts as full as each, the set would be 20, 40, 60, 80, 40 ends.
    plan = heddle_plan(inch, 5, "right")
    assert tuple(4 * each.needed for each in plan.shafts) == (20, 40, 60, 80, 40)


threadings = st.lists(st.integers(1, 8), min_size=1, max_size=300)
sides = st.sampled_from(["left", "right"])


@given(threadings, sides)
def test_ends_at_each_side_of_the_middle(threading, first_end):
    """Ends stand where they are in the width: an independent count by place, in halves of an end."""
    plan = heddle_plan(threading, 8, first_end)
    places = 2 * np.arange(len(threading)) + 1 - len(threading)  # below nought before the middle
    if first_end == "right":
        places = -places
    shafts = np.array(threading)
    for each in plan.shafts:
        here = places[shafts == each.shaft]
        assert (each.left, each.middle, each.right) == (
            (here < 0).sum(), (here == 0).sum(), (here > 0).sum(),
        )  # fmt: skip
        assert each.left + each.middle + each.right == each.needed == threading.count(each.shaft)
        assert each.there is each.over is each.spare is each.edges is None
    assert sum(each.middle for each in plan.shafts) == len(threading) % 2
    assert not plan.known
    assert plan.there is None


@given(threadings, sides, st.lists(st.integers(0, 90), min_size=8, max_size=8))
@settings(deadline=None)
def test_spare_heddles_go_half_to_each_edge(threading, first_end, there):
    plan = heddle_plan(threading, 8, first_end, there)
    assert plan.there == tuple(there)
    for each in plan.shafts:
        left, right = each.edges
        assert left + right == each.spare == each.there + each.moved + each.added - each.needed
        assert each.spare >= 0
        assert abs(left - right) <= 1
        # The odd one makes the shaft hang more level, never less.
        assert abs(left + each.left - right - each.right) <= abs(each.left - each.right) + (
            each.left == each.right and each.spare % 2
        )
    assert sum(each.moved for each in plan.shafts) == 0
    assert plan.added == max(0, len(threading) - sum(there))


def test_one_number_stands_for_every_shaft():
    assert heddle_plan([1, 2], 3, "left", 7) == heddle_plan([1, 2], 3, "left", (7, 7, 7))
