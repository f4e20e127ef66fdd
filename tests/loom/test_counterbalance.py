"""Which sheds hang unevenly on a counterbalance."""

from itertools import combinations
from math import comb

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.loom.counterbalance import REMEDIES, balance, uneven_sheds, usual_pairs


def lifts(*texts):
    return [frozenset(map(int, text)) for text in texts]


def test_every_shed_of_two_plain_layers_is_uneven():
    # Trade notes on looms: all four double-weave sheds are one against three or three against one.
    sheds = uneven_sheds(lifts("1", "123", "3", "134"), 4)
    assert [(len(shed.lift), len(shed.sunk)) for shed in sheds] == [(1, 3), (3, 1), (1, 3), (3, 1)]
    assert all(len(shed.same_way) == 1 for shed in sheds)


def test_plain_weave_and_even_twill_hang_evenly():
    # Trade notes on looms: paired shafts want equal numbers up and down; tabby lifts 13 and 24.
    assert uneven_sheds(lifts("13", "24", "12", "23", "34", "14"), 4) == ()
    assert balance({1, 3}, 4).same_way == ()
    assert balance({1, 2}, 4).same_way == ((1, 2), (3, 4))


@pytest.mark.parametrize("shafts", [2, 4, 6, 8])
def test_even_sheds_are_as_many_as_halves_of_the_shafts(shafts):
    # Binomial coefficient: the ways to raise half of the shafts.
    every = [
        frozenset(lift)
        for size in range(shafts + 1)
        for lift in combinations(range(1, shafts + 1), size)
    ]
    assert len(every) - len(uneven_sheds(every, shafts)) == comb(shafts, shafts // 2)


@given(st.frozensets(st.integers(1, 8)))
def test_a_shed_and_its_complement_hang_alike(lift):
    shed = balance(lift, 8)
    other = balance(shed.sunk, 8)
    assert (other.even, other.opens, other.same_way) == (shed.even, shed.opens, shed.same_way)
    # Common sense of pairs: if each pair parts, as many rise as sink.
    assert shed.even or shed.same_way


def test_remedies():
    # Common practice, no source.
    assert balance({1}, 4).remedies == REMEDIES
    assert "sink over two treadles" not in balance({1, 2, 3}, 4).remedies
    assert balance({1, 2}, 4).remedies == ()
    assert balance((), 4).remedies == ()
    assert not balance((), 4).opens


def test_a_shed_is_named_once_in_the_order_used():
    assert [shed.lift for shed in uneven_sheds(lifts("3", "1", "3", "13"), 4)] == lifts("3", "1")


def test_pairs():
    assert usual_pairs(5) == ((1, 2), (3, 4))
    assert balance({1, 4}, 4, [(1, 4), (2, 3)]).same_way == ((1, 4), (2, 3))
    with pytest.raises(ValueError, match="shaft 5"):
        balance({5}, 4)
    with pytest.raises(ValueError, match="shaft 6"):
        balance({1}, 4, [(1, 6)])
    with pytest.raises(ValueError, match="one pair"):
        balance({1}, 4, [(1, 2), (2, 3)])
