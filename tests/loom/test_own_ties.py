"""The author's treadles on every loom, against a walk through all cords and presses."""

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from cards.loom.own_ties import Clash, own_ties
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
            assert all(in_the_way(tie_up, presses, clash.pressed, each) for each in clash.shafts)
        return
    for pressed in presses:
        made = press([known[each] for each in pressed], range(1, 7), action)
        assert made.clean
        assert made.raised == lift_of(tie_up, pressed)


def in_the_way(tie_up, presses, pressed, shaft):
    """Whether `pressed` raises a shaft that one of its treadles must sink, as no other may."""
    if shaft not in lift_of(tie_up, pressed):
        return False
    raising = [each for each in presses if shaft in lift_of(tie_up, each)]
    sinking = [each for each in presses if each not in raising and each & pressed]
    return any(all(any({one} & up for up in raising) for one in each) for each in sinking)


def test_a_shaft_without_ends_is_tied_nowhere():
    """On no loom: it hangs free, so a cord to it would only be tied in vain."""
    tie_up = {1: (1, 3), 2: (2, 4), 3: (3,)}
    for action in ("rising", "sinking", "countermarch"):
        treadles, _ = own_ties(tie_up, [frozenset({1}), frozenset({2})], {1, 2, 4}, action)
        assert [each.number for each in treadles] == [1, 2, 3]
        assert all(3 not in (*each.rise, *each.sink) for each in treadles)


def test_treadles_that_go_well_together_are_not_blamed():
    tie_up = {1: (1,), 2: (2,), 3: (3,), 4: (4,)}
    presses = [frozenset({3, 4}), frozenset({1, 2}), frozenset({2})]
    for action in ("sinking", "countermarch"):
        _, clashes = own_ties(tie_up, presses, range(1, 5), action)
        assert clashes == (Clash(frozenset({1, 2}), (1,)),)


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
