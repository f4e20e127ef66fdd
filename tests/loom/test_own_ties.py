"""The author's treadles on every loom, against a walk through all cords and presses."""

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from cards.loom.own_ties import own_ties
from cards.loom.pressing import press

TIE_UPS = st.dictionaries(
    st.integers(1, 8), st.sets(st.integers(1, 6)).map(lambda each: tuple(sorted(each))), min_size=1
)


def lift_of(tie_up, pressed):
    return frozenset(shaft for treadle in pressed for shaft in tie_up[treadle])


@given(TIE_UPS, st.sampled_from(["rising", "sinking", "countermarch"]))
def test_treadles_pressed_alone_make_their_lift_on_every_loom(tie_up, action):
    # What sinks is the complement of what rises: common practice, no source.
    treadles, clashes = own_ties(
        tie_up, [frozenset({each}) for each in tie_up], range(1, 7), action
    )
    assert not clashes
    assert [each.number for each in treadles] == sorted(tie_up)
    for each in treadles:
        made = press((each,), range(1, 7), action)
        assert made.clean
        assert made.raised == set(tie_up[each.number])
        moved = each.moved(frozenset(range(1, 7)), action)
        assert {*moved.rise} == made.raised
        assert {*moved.sink} == made.sunk


@given(
    TIE_UPS,
    st.lists(st.sets(st.integers(1, 8), min_size=1, max_size=3), min_size=1, max_size=6),
    st.sampled_from(["rising", "sinking", "countermarch"]),
)
def test_treadles_pressed_together_make_the_lift_or_are_told(tie_up, wanted, action):
    presses = [frozenset(each & tie_up.keys()) for each in wanted]
    presses = [each for each in presses if each]
    treadles, clashes = own_ties(tie_up, presses, range(1, 7), action)
    known = {each.number: each for each in treadles}
    if clashes:
        assert action != "rising"
        assert not treadles
        for clash in clashes:
            for shaft in clash.shafts:
                tied = [shaft in tie_up[each] for each in clash.pressed]
                assert any(tied)
                assert not all(tied)
        return
    for pressed in presses:
        made = press([known[each] for each in pressed], range(1, 7), action)
        assert made.clean
        assert made.raised == lift_of(tie_up, pressed)


def can_be_sunk(tie_up, presses, shafts):
    """Whether some choice of sinking cords makes every lift: all choices are tried."""
    numbers = sorted(tie_up)
    for shaft in range(1, shafts + 1):
        tried = (
            {number for number, tied in zip(numbers, choice, strict=True) if tied}
            for choice in product((False, True), repeat=len(numbers))
        )
        if not any(
            all(bool(tied & each) == (shaft not in lift_of(tie_up, each)) for each in presses)
            for tied in tried
        ):
            return False
    return True


@given(
    st.dictionaries(
        st.integers(1, 4), st.sets(st.integers(1, 3)).map(lambda each: tuple(sorted(each)))
    ),
    st.lists(st.sets(st.integers(1, 4), min_size=1, max_size=3), min_size=1, max_size=4),
)
def test_nothing_that_can_be_tied_is_refused(tie_up, wanted):
    presses = [each for each in (frozenset(some & tie_up.keys()) for some in wanted) if each]
    for action in ("sinking", "countermarch"):
        _, clashes = own_ties(tie_up, presses, range(1, 4), action)
        assert (not clashes) == can_be_sunk(tie_up, presses, 3)
