import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.draft.drawdown import drawdown, lifts_of

SHAFTS = st.integers(1, 40)
LIFTS = st.frozensets(SHAFTS, max_size=40)


@given(st.lists(SHAFTS, max_size=30), st.lists(LIFTS, max_size=30))
def test_an_end_is_up_where_its_shaft_is_raised(threading, lifts):
    made = drawdown(threading, lifts)
    assert made.shape == (len(lifts), len(threading))
    assert made.dtype == np.bool_
    assert made.tolist() == [[shaft in lift for shaft in threading] for lift in lifts]


@given(
    st.lists(SHAFTS, min_size=1, max_size=20),
    st.lists(st.frozensets(st.integers(1, 6), max_size=3), min_size=1, max_size=20),
    st.fixed_dictionaries(
        {treadle: st.lists(SHAFTS, max_size=4, unique=True).map(tuple) for treadle in range(1, 7)}
    ),
)
def test_treadles_multiply_as_matrices_do(threading, treadling, tie_up):
    # The matrix form, checked by numpy's Boolean product: treadling x tie-up x threading.
    pressed = np.array([[each in pick for each in range(1, 7)] for pick in treadling])
    tied = np.array([[shaft in tie_up[each] for shaft in range(1, 41)] for each in range(1, 7)])
    threaded = np.array([[end == shaft for end in threading] for shaft in range(1, 41)])
    made = drawdown(threading, lifts_of(treadling, tie_up))
    assert np.array_equal(made, pressed @ tied @ threaded)


def test_two_treadles_at_once_raise_both_their_shafts():
    lifts = lifts_of([frozenset({1, 2}), frozenset()], {1: (1, 3), 2: (2, 3)})
    assert lifts == [frozenset({1, 2, 3}), frozenset()]


def test_a_loose_treadle_is_named_with_its_pick():
    with pytest.raises(ValueError, match="pick 2 presses treadle 7, which is not tied"):
        lifts_of([frozenset({1}), frozenset({1, 7})], {1: (1,)})


def test_shafts_count_from_one():
    with pytest.raises(ValueError, match="end 2 is on shaft 0"):
        drawdown([1, 0], [frozenset({1})])
    with pytest.raises(ValueError, match="raises shaft 0"):
        drawdown([1, 2], [frozenset({1, 0})])
