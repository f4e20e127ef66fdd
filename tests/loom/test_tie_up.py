"""Tie-ups held against every set of treadles tried out, and against an exact solver."""

import time
from itertools import combinations, permutations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from cards.loom.pressing import Treadle, press
from cards.loom.skeleton import _sharers
from cards.loom.tie_up import easiest, one_each, smallest

ACTIONS = ("rising", "sinking", "countermarch")
DOUBLE_WEAVE = [{1}, {1, 2, 3}, {3}, {1, 3, 4}]  # T B T' B', layers on 1 3 and 2 4


def lifts_of(*texts):
    return [frozenset(map(int, text)) for text in texts]


def every_lift(shafts, empty=False):
    sizes = range(0 if empty else 1, shafts + (1 if empty else 0))
    return [frozenset(c) for size in sizes for c in combinations(range(1, shafts + 1), size)]


def some_lifts(shafts, most, least=1):
    return st.lists(
        st.sampled_from(every_lift(shafts, empty=True)), min_size=least, max_size=most, unique=True
    )


def cells(lift, shafts, action):
    """What has to be tied for a lift, by the table of looms: complement of the lift that sinks."""
    rise = {(shaft, "up") for shaft in lift}
    sink = {(shaft, "down") for shaft in range(1, shafts + 1) if shaft not in lift}
    return frozenset({"rising": rise, "sinking": sink, "countermarch": rise | sink}[action])


def parts_of(shed):
    return [frozenset(c) for size in range(1, len(shed) + 1) for c in combinations(shed, size)]


def fewest_by_trying(lifts, shafts, action, feet):
    """Every set of treadles, smallest first: all ways to tie a treadle, not only promising ones."""
    sheds = [cells(lift, shafts, action) for lift in lifts]
    treadles = sorted({part for shed in sheds for part in parts_of(shed)}, key=sorted)
    for many in range(len(sheds) + 1):
        for tied in combinations(treadles, many):
            made = {frozenset()}
            for pressed in range(1, feet + 1):
                made |= {frozenset().union(*group) for group in combinations(tied, pressed)}
            if made.issuperset(sheds):
                return many
    raise AssertionError


def by_solver(uses, shafts, action, feet, treadles=None):
    """Fewest treadles, or least second presses on so many treadles; None when there is no way.

    Integer programme: one 0/1 variable for every treadle that could be tied, one for every group
    of treadles that makes a lift; a lift has one of its groups, a group its treadles.
    Oracle: scipy.optimize.milp (HiGHS).
    """
    sheds = {cells(lift, shafts, action): count for lift, count in uses.items()}
    sheds.pop(frozenset(), None)
    tied = sorted({part for shed in sheds for part in parts_of(shed)}, key=sorted)
    place = {part: n for n, part in enumerate(tied)}
    groups = [
        (shed, [place[part] for part in group])
        for shed in sheds
        for many in range(1, feet + 1)
        for group in combinations(parts_of(shed), many)
        if frozenset().union(*group) == shed
    ]
    width = len(tied) + len(groups)
    rows, low, high = [], [], []
    for shed in sheds:
        row = np.zeros(width)
        row[[len(tied) + n for n, (made, _) in enumerate(groups) if made == shed]] = 1
        rows.append(row)
        low.append(1)
        high.append(1)
        for part in parts_of(shed):
            row = np.zeros(width)
            row[place[part]] = 1
            with_it = [
                n for n, (made, group) in enumerate(groups) if made == shed and place[part] in group
            ]
            row[[len(tied) + n for n in with_it]] = -1
            rows.append(row)
            low.append(0)
            high.append(np.inf)
    cost = np.zeros(width)
    if treadles is None:
        cost[: len(tied)] = 1
    else:
        cost[len(tied) :] = [sheds[shed] * (len(group) - 1) for shed, group in groups]
        row = np.zeros(width)
        row[: len(tied)] = 1
        rows.append(row)
        low.append(0)
        high.append(treadles)
    constraint = LinearConstraint(np.array(rows), low, high)
    answer = milp(cost, constraints=constraint, integrality=np.ones(width), bounds=Bounds(0, 1))
    return None if answer.status == 2 else round(answer.fun)


def check(tie_up, lifts, shafts, action, feet):
    """Press what the tie-up says for every lift, and see the lift rise."""
    by_number = {treadle.number: treadle for treadle in tie_up.treadles}
    assert sorted(by_number) == list(range(1, len(by_number) + 1))
    assert list(tie_up.pressed) == list(lifts)
    assert {number for each in tie_up.pressed.values() for number in each} == set(by_number)
    for lift, numbers in tie_up.pressed.items():
        assert len(numbers) <= feet
        pressed = [by_number[number] for number in numbers]
        up = {shaft for treadle in pressed for shaft in treadle.rise}
        down = {shaft for treadle in pressed for shaft in treadle.sink}
        every = set(range(1, shafts + 1))
        if action == "rising":
            assert (up, down) == (lift, set())
        elif action == "sinking":
            assert (up, down) == (set(), every - lift)
        else:
            assert (up, down) == (lift, every - lift)
        made = press(pressed, range(1, shafts + 1), action)
        assert made.clean
        assert (made.raised, made.sunk) == (lift, every - lift)


def second_presses(tie_up, uses):
    return sum(uses[lift] * max(len(each) - 1, 0) for lift, each in tie_up.pressed.items())


@pytest.mark.parametrize("action", ACTIONS)
def test_a_treadle_for_each_lift(action):
    # Source: trade notes on looms: a sinking-shed loom ties the complement of the lift, a
    # countermarch every shaft.
    lifts = [frozenset(lift) for lift in DOUBLE_WEAVE]
    tie_up = one_each(lifts, 4, action)
    check(tie_up, lifts, 4, action, 1)
    assert len(tie_up.treadles) == 4
    assert tie_up.cords == {"rising": 8, "sinking": 8, "countermarch": 16}[action]


def test_sinking_double_weave_ties_the_complement():
    # Complement by hand of the four sheds of two plain layers.
    tie_up = one_each([frozenset(lift) for lift in DOUBLE_WEAVE], 4, "sinking")
    assert [treadle.sink for treadle in tie_up.treadles] == [(2, 3, 4), (4,), (1, 2, 4), (2,)]


def test_all_lifts_of_four_shafts():
    # By hand: 6 treadles, shafts 1, 2, 12 and 3, 4, 34, two pressed at once, make all 14 lifts;
    # 4 have 4 + 6 = 10 presses and cannot, and with 5 treadles all 15 presses but one must be
    # lifts, though four are shafts alone. Three feet need the four shafts alone, and they do.
    lifts = every_lift(4)
    two, three = smallest(lifts, 4, "rising"), smallest(lifts, 4, "rising", feet=3)
    assert (len(two.tie_up.treadles), two.proved) == (6, "smallest")
    assert (len(three.tie_up.treadles), three.proved) == (4, "smallest")
    assert {treadle.rise for treadle in three.tie_up.treadles} == {(1,), (2,), (3,), (4,)}


def test_all_lifts_of_four_shafts_on_a_countermarch():
    # By hand: eight treadles move shafts 1 2 each way and shafts 3 4 each way: 4 x 4 = 16 lifts.
    answer = smallest(every_lift(4), 4, "countermarch")
    check(answer.tie_up, every_lift(4), 4, "countermarch", 2)
    assert (len(answer.tie_up.treadles), answer.proved) == (8, "smallest")


@pytest.mark.parametrize("action", ACTIONS)
@settings(max_examples=40, deadline=None)
@given(lifts=some_lifts(3, 5))
def test_fewest_treadles_by_trying_all(action, lifts):
    answer = smallest(lifts, 3, action)
    check(answer.tie_up, lifts, 3, action, 2)
    assert answer.proved == "smallest"
    assume(action != "countermarch" or len(lifts) <= 4)  # trying all takes too long
    assert len(answer.tie_up.treadles) == fewest_by_trying(lifts, 3, action, 2)


@settings(max_examples=10, deadline=None)
@given(some_lifts(4, 6, least=4))
def test_fewest_treadles_of_four_shafts_by_trying_all(lifts):
    assert len(smallest(lifts, 4, "rising").tie_up.treadles) == fewest_by_trying(
        lifts, 4, "rising", 2
    )


@pytest.mark.parametrize(("action", "shafts"), [("rising", 4), ("sinking", 5), ("countermarch", 4)])
@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_fewest_treadles_by_an_exact_solver(action, shafts, data):
    lifts = data.draw(some_lifts(shafts, 12, least=3))
    answer = smallest(lifts, shafts, action)
    check(answer.tie_up, lifts, shafts, action, 2)
    assert answer.proved == "smallest"
    assert len(answer.tie_up.treadles) == by_solver(dict.fromkeys(lifts, 1), shafts, action, 2)


@settings(max_examples=12, deadline=None)
@given(some_lifts(3, 7, least=3), st.sampled_from(ACTIONS))
def test_three_feet_by_an_exact_solver(lifts, action):
    answer = smallest(lifts, 3, action, feet=3)
    check(answer.tie_up, lifts, 3, action, 3)
    assert answer.proved == "smallest"
    assert len(answer.tie_up.treadles) == by_solver(dict.fromkeys(lifts, 1), 3, action, 3)


@pytest.mark.parametrize("action", ACTIONS)
@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_fewest_second_presses_by_an_exact_solver(action, data):
    lifts = data.draw(some_lifts(4, 9, least=4))
    uses = {lift: data.draw(st.integers(1, 30)) for lift in lifts}
    treadles = data.draw(st.integers(3, 7))
    answer = easiest(uses, 4, action, treadles)
    best = by_solver(uses, 4, action, 2, treadles)
    assert answer.proved == ("impossible" if best is None else "easiest")
    if answer.tie_up:
        check(answer.tie_up, lifts, 4, action, 2)
        assert len(answer.tie_up.treadles) <= treadles
        assert second_presses(answer.tie_up, uses) == best


@settings(max_examples=25, deadline=None)
@given(some_lifts(6, 12, least=2), st.sampled_from(ACTIONS), st.integers(2, 3))
def test_no_cord_can_be_spared(lifts, action, feet):
    tie_up = smallest(lifts, 6, action, feet, patience=300).tie_up
    check(tie_up, lifts, 6, action, feet)
    for treadle in tie_up.treadles:
        for way in ("rise", "sink"):
            for shaft in getattr(treadle, way):
                users = [lift for lift, each in tie_up.pressed.items() if treadle.number in each]
                twice = [
                    any(
                        shaft in getattr(other, way)
                        for other in tie_up.treadles
                        if other.number in tie_up.pressed[lift] and other is not treadle
                    )
                    for lift in users
                ]
                assert not all(twice)


@settings(max_examples=20, deadline=None)
@given(some_lifts(8, 16, least=10), st.integers(1, 400), st.integers(6, 12))
def test_a_stopped_search_is_still_a_tie_up_and_says_so(lifts, patience, treadles):
    answer = smallest(lifts, 8, "rising", patience=patience)
    check(answer.tie_up, lifts, 8, "rising", 2)
    longer = smallest(lifts, 8, "rising", patience=2000)
    if answer.proved == "smallest":
        assert len(answer.tie_up.treadles) == len(longer.tie_up.treadles)
    uses = dict.fromkeys(lifts, 1)
    quick, slow = (easiest(uses, 8, "rising", treadles, patience=n) for n in (patience, 2000))
    if quick.proved == "impossible":
        assert slow.proved == "impossible"
    if quick.tie_up:
        check(quick.tie_up, lifts, 8, "rising", 2)
        assert slow.tie_up


def test_the_order_of_shafts_does_not_matter():
    lifts = lifts_of("12", "23", "34", "14", "13", "24", "1", "234")
    sizes = set()
    for order in permutations(range(1, 5)):
        moved = [frozenset(order[shaft - 1] for shaft in lift) for lift in lifts]
        sizes.add(len(smallest(moved, 4, "countermarch").tie_up.treadles))
    assert len(sizes) == 1


def test_a_lift_that_ties_nothing_presses_nothing():
    answer = smallest([frozenset(), frozenset({1})], 2, "rising")
    assert answer.tie_up.pressed == {frozenset(): (), frozenset({1}): (1,)}
    answer = smallest([frozenset({1, 2})], 2, "sinking")
    assert answer.tie_up.treadles == ()


@pytest.mark.parametrize("number", [28, 100, 500])
@pytest.mark.parametrize("feet", [2, 3])
def test_many_lifts_of_many_shafts_are_not_searched_for_ever(number, feet):
    # A second or two; a search that counted places and not steps took twenty for 28 lifts.
    raised = np.random.default_rng(number).random((number, 40)) < 0.5
    lifts = {frozenset((np.flatnonzero(lift) + 1).tolist()) for lift in raised}
    began = time.process_time()
    smallest(tuple(lifts), 40, "countermarch", feet)
    assert time.process_time() - began < 10


GIVING = st.lists(st.sets(st.integers(0, 6), max_size=4), max_size=7)


@given(st.sets(st.integers(0, 6), min_size=1), GIVING, st.integers(1, 3))
def test_sheds_that_could_share_are_those_of_every_group_that_gives_what_is_lacking(
    lacking, giving, new
):
    def bits(cells):
        return sum(1 << cell for cell in cells)

    def gives(group):
        return lacking <= set().union(*(giving[each] for each in group))

    common = [(1 << place, bits(cells)) for place, cells in enumerate(giving)]
    places = range(len(giving))
    expected = {each for group in combinations(places, new) if gives(group) for each in group}
    if any(gives(group) for size in range(1, new) for group in combinations(places, size)):
        expected = set(places)  # the last treadle may be shared with any
    assert _sharers(bits(lacking), common, new) == bits(expected)


def test_what_cannot_be_asked():
    with pytest.raises(ValueError, match="shaft 5"):
        one_each(lifts_of("15"), 4, "rising")
    with pytest.raises(ValueError, match="given twice"):
        smallest(lifts_of("1", "1"), 4, "rising")
    with pytest.raises(ValueError, match="one foot"):
        smallest(lifts_of("1"), 4, "rising", feet=0)
    with pytest.raises(ValueError, match="one pick"):
        easiest({frozenset({1}): 0}, 4, "rising", 4)


def test_a_countermarch_press_that_tears_and_one_that_leaves_a_shaft_still():
    # By hand, after a builder's notes: every shaft is moved, none both ways.
    made = press([Treadle(1, (1, 2), (3,)), Treadle(2, (3,), (1,))], range(1, 5), "countermarch")
    assert (made.torn, made.still, made.clean) == ({1, 3}, {4}, False)
    assert (made.raised, made.sunk) == ({2}, frozenset())
    assert press([Treadle(1, (1,), ()), Treadle(2, (1, 2), ())], range(1, 4), "rising").clean
