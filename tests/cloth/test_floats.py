from itertools import groupby

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.cloth import floats as module
from cards.cloth.floats import Float, Floats, longest_floats


@st.composite
def drawdowns(draw):
    picks, ends = draw(st.integers(1, 9)), draw(st.integers(1, 9))
    rows = st.lists(st.booleans(), min_size=ends, max_size=ends)
    return np.array(draw(st.lists(rows, min_size=picks, max_size=picks)), dtype=bool)


def by_hand(threads, state, *, repeats):
    """The longest stretch of `state`, thread by thread with the standard library's groupby."""
    best = 0, None, None
    for number, thread in enumerate(threads):
        values = list(thread)
        size = len(values)
        turn = 0
        if repeats and len(set(values)) > 1:  # begin where a stretch begins
            turn = next(at for at in range(size) if values[at] != values[at - 1])
        place = turn
        for value, group in groupby(values[turn:] + values[:turn]):
            length = len(list(group))
            start = place % size
            longer = length > best[0]
            earlier = length == best[0] and number == best[1] and start < best[2]
            if value == state and (longer or earlier):
                best = length, number, start
            place += length
    return best if best[0] else None


@pytest.mark.parametrize("at_once", [1, 1 << 21])
@given(drawdown=drawdowns(), repeats=st.booleans())
def test_against_groupby(at_once, drawdown, repeats):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "AT_ONCE", at_once)
        found = longest_floats(drawdown, repeats=repeats)
    for name, threads, state in (
        ("warp_face", drawdown.T.tolist(), True),
        ("warp_back", drawdown.T.tolist(), False),
        ("weft_face", drawdown.tolist(), False),
        ("weft_back", drawdown.tolist(), True),
    ):
        told = getattr(found, name)
        wanted = by_hand(threads, state, repeats=repeats)
        assert (told and (told.length, told.thread, told.start)) == wanted
        if told:
            assert told.endless == (repeats and told.length == len(threads[0]))


def test_a_float_over_the_edge_of_the_repeat():
    cloth = np.array([[1], [0], [0], [1], [1]], dtype=bool)
    assert longest_floats(cloth, repeats=True).warp_face == Float(3, 0, 3)
    assert longest_floats(cloth, repeats=False).warp_face == Float(2, 0, 3)


def test_the_longer_side_speaks_for_warp_and_weft():
    found = Floats(Float(1, 0, 0), Float(3, 1, 0), Float(2, 0, 0), Float(2, 5, 5))
    assert (found.warp, found.weft) == (Float(3, 1, 0), Float(2, 0, 0))
    assert Floats(None, None, None, Float(2, 5, 5)).weft == Float(2, 5, 5)


def test_no_threads_no_floats():
    assert longest_floats(np.zeros((0, 4), dtype=bool), repeats=True) == Floats(*[None] * 4)


def test_a_drawdown_has_two_dimensions():
    with pytest.raises(ValueError, match="not 3 dimensions"):
        longest_floats(np.zeros((2, 2, 2), dtype=bool), repeats=True)
