"""The tree of nested repeats: lengths, filling, cutting and cycling agree with the values."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.sequence import Repeat, Run, Sequence

runs = st.builds(Run, st.integers(1, 4), st.integers(1, 5))
trees = st.recursive(
    runs,
    lambda inner: st.builds(
        Repeat, st.lists(inner, min_size=1, max_size=3).map(tuple), st.integers(1, 4)
    ),
    max_leaves=6,
)
sequences = st.lists(trees, min_size=1, max_size=4).map(lambda items: Sequence(tuple(items)))


@given(sequences)
def test_length_is_the_number_of_values(sequence):
    assert sequence.length == len(sequence.values())


@given(sequences, st.integers(0, 200))
def test_take_cuts_the_values(sequence, total):
    assert sequence.take(total).values() == sequence.values()[:total]


@given(sequences, st.integers(1, 300))
def test_cycled_begins_again_until_the_total(sequence, total):
    values = sequence.values()
    expected = (values * (total // len(values) + 1))[:total]
    assert sequence.cycled(total).values() == expected


@given(sequences, sequences, st.lists(runs, min_size=1, max_size=3), st.integers(1, 2000))
def test_reach_is_the_smallest_length_that_fits(before, after, group, least):
    filling = Sequence((*before.items, Repeat(tuple(group), None), *after.items))
    reached = filling.reach(least)
    assert filling.fits(reached)
    assert reached >= min(least, reached)
    once = filling.fill.once
    assert reached >= least or reached == filling.length + once
    assert not (filling.fits(reached - once) and reached - once >= least)
    values = filling.filled(reached).values()
    assert len(values) == reached
    assert values[: before.length] == before.values()


def test_a_length_that_does_not_come_out_is_refused():
    filling = Sequence((Repeat((Run(1), Run(2)), None), Run(1)))
    with pytest.raises(ValueError, match="does not come out on 4"):
        filling.filled(4)
    assert filling.filled(5).values() == [1, 2, 1, 2, 1]


def test_a_group_that_is_cycled_stays_one_group():
    four = Sequence((Repeat((Run(1), Run(2)), 4),))
    assert four.cycled(100) == Sequence((Repeat((Run(1), Run(2)), 50),))


def test_map_keeps_the_grouping_and_the_places():
    sequence = Sequence((Repeat((Run(1, 2, 5),), 3, 4),))
    assert sequence.map(str) == Sequence((Repeat((Run("1", 2, 5),), 3, 4),))
