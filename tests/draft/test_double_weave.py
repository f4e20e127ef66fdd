from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cards.cloth.continuity import find_faults, fold_faults
from cards.cloth.layers import layers
from cards.cloth.opened import open_out
from cards.cloth.pieces import Piece, find_pieces
from cards.cloth.weft_path import follow, pick_layers, shuttle_plan
from cards.draft.drawdown import drawdown
from cards.draft.layer_weave import PLAIN, LayerWeave
from tests.one_cloth import DoubleWeaveError, Wanted, build
from tests.weaves import BASKET, POINT, THREE_END, TWILL, WEFT_TWILL, weave
from tests.weft_by_hand import alike, unfolded

SIDES = st.sampled_from(["left", "right"])
WEAVES = st.sampled_from([PLAIN, TWILL, WEFT_TWILL, THREE_END, BASKET, POINT])


def lifts_of(draft):
    return "/".join("".join(map(str, sorted(lift))) for lift in draft.lifts)


def analysed(draft, times=3, first_end="right"):
    """Everything that the analysis finds in a built draft, from its drawdown and shuttles alone."""
    cells = drawdown(draft.threading, draft.lifts * times)
    found = layers(cells)
    plan = shuttle_plan(draft.shuttles * times, draft.sides[0], first_end=first_end)
    path = follow(pick_layers(found), plan)
    return cells, found, path


def by_hand(draft, wanted, times=2):
    return unfolded(
        draft.threading,
        draft.lifts * times,
        draft.end_layers,
        draft.pick_layers * times,
        draft.shuttles * times,
        wanted.start,
        wanted.first_end,
    )


# Multi-layer plain weave, straight draw, first end at the right, layer 1 on top. The rule of the
# lifts: J. T. Taylor, Cotton Weaving and Designing, 6th ed., 1909, page 200. The tables themselves
# were found by a simulation made before this program was written.
@pytest.mark.parametrize(
    ("wanted", "lifts"),
    [
        (Wanted(40), "1/123/3/134"),
        (Wanted(39, join="tube"), "1/134/3/123"),
        (Wanted(39, join="tube", start="left"), "1/123/3/134"),
        (Wanted(40, join="left"), "1/123/134/3"),
        (Wanted(40, join="right", start="left"), "1/123/134/3"),
        (Wanted(40, join="right"), "1/3/134/123"),
        (Wanted(40, join="left", start="left"), "1/3/134/123"),
        (Wanted(42, 3, join="left"), "1/124/12345/12456/145/4"),
        (Wanted(42, 3, join="right", start="left"), "1/124/12345/12456/145/4"),
        (Wanted(48, 4, join="left"), "1/125/12356/1234567/1235678/12567/156/5"),
        (Wanted(48, 4, join="right", start="left"), "1/125/12356/1234567/1235678/12567/156/5"),
        # Layers on shafts 1, 2 and 3, 4: numbers 2 and 3 exchanged.
        (Wanted(40, arrangement="paired"), "1/123/2/124"),
        (Wanted(39, join="tube", arrangement="paired"), "1/124/2/123"),
        (Wanted(40, join="left", arrangement="paired"), "1/123/124/2"),
        (Wanted(40, join="right", arrangement="paired"), "1/2/124/123"),
        # One end dropped at the fold exchanges the sheds of the lower layer.
        (Wanted(39, join="left"), "1/134/123/3"),
    ],
)
def test_lift_tables(wanted, lifts):
    draft = build(wanted)
    assert lifts_of(draft) == lifts
    shafts = [1, 3, 2, 4] if wanted.arrangement == "paired" else range(1, 2 * wanted.layers + 1)
    assert draft.threading == tuple((list(shafts) * wanted.ends)[: wanted.ends])


def test_brooks_draws_and_lifts_his_double_cloth_so():
    # C. P. Brooks, Cotton Manufacturing, 3rd ed., 1892 (Gutenberg 57681), mirror page 69: ends on
    # 1, 3, 2, 4; lifts 1, 124, 2, 123. The lower layer begins at its other shed.
    draft = build(Wanted(40, arrangement="paired"))
    cells = drawdown(draft.threading, draft.lifts)
    brooks = drawdown(
        [1, 3, 2, 4] * 10, [frozenset(lift) for lift in ({1}, {1, 2, 4}, {2}, {1, 2, 3})]
    )
    assert np.array_equal(cells[[0, 3, 2, 1]], brooks)


def test_folds_fall_left_and_right_by_turns():
    # Starting right: left, right, left. Common practice, no source.
    assert build(Wanted(48, 4, join="left")).pieces == (
        Piece("flat", (0, 1, 2, 3), ("left", "right", "left")),
    )


def test_separate_cloths_have_a_shuttle_each():
    draft = build(Wanted(42, 3))
    assert draft.shuttles == draft.pick_layers == (0, 1, 2) * 2
    assert draft.sides == ("right",) * 3 + ("left",) * 3
    assert draft.pieces == tuple(Piece("flat", (layer,)) for layer in range(3))


def test_an_even_tube_drops_an_end_and_says_why():
    # weavingspace.co.uk, "Tubular double weave": a seamless plain tube needs an odd number of ends;
    # the remedy is to leave one out.
    draft = build(Wanted(40, join="tube"))
    assert len(draft.threading) == 39
    assert draft.chosen[0] == (
        "1 end dropped at the left, which makes 39, "
        "because a tube of plain weave needs an odd number"
    )
    with pytest.raises(DoubleWeaveError, match="40 ends") as refused:
        build(Wanted(40, join="tube", keep_ends=True))
    assert refused.value.mend == "39 would do: 1 end dropped at the left"


@given(st.integers(4, 60), SIDES, SIDES)
def test_a_tube_fits_exactly_when_its_ends_are_odd(ends, start, first_end):
    # Same source.
    wanted = Wanted(ends, join="tube", start=start, first_end=first_end, keep_ends=True)
    try:
        build(wanted)
    except DoubleWeaveError:
        assert ends % 2 == 0
    else:
        assert ends % 2 == 1


@st.composite
def plain_cloths(draw):
    count = draw(st.integers(2, 8))
    joins = ["none", "left", "right"] + ["tube"] * (count == 2)
    ratio = draw(
        st.just(()) | st.lists(st.integers(1, 3), min_size=count, max_size=count).map(tuple)
    )
    return Wanted(
        ends=draw(st.integers(2 * count * max(ratio, default=1) + count, 60)),
        layers=count,
        join=draw(st.sampled_from(joins)),
        start=draw(SIDES),
        first_end=draw(SIDES),
        arrangement=draw(st.sampled_from(["straight", "paired"])),
        ratio=ratio,
        keep_ends=draw(st.booleans()),
    )


def asked_pieces(wanted):
    every = tuple(range(wanted.layers))
    if wanted.join == "none":
        return tuple(Piece("flat", (layer,)) for layer in every)
    other = {"left": "right", "right": "left"}
    if wanted.join == "tube":
        return (Piece("tube", every, (other[wanted.start], wanted.start)),)
    folds = tuple(wanted.join if fold % 2 == 0 else other[wanted.join] for fold in every[:-1])
    return (Piece("flat", every, folds),)


def assert_as_asked(wanted, draft):
    cells, found, path = analysed(draft, first_end=wanted.first_end)
    assert len(found) == wanted.layers
    assert [layer.ends for layer in found] == [
        tuple(end for end, each in enumerate(draft.end_layers) if each == layer)
        for layer in range(wanted.layers)
    ]
    assert tuple(pick_layers(found)) == draft.pick_layers * 3
    assert find_pieces(path) == draft.pieces == asked_pieces(wanted)
    faults = find_faults(cells, found, path)
    assert fold_faults(faults) == ()
    return faults


@settings(deadline=None)
@given(plain_cloths())
def test_plain_cloths_are_those_asked_for_and_run_on(wanted):
    # Only a tube with an even number of ends has no answer.
    if wanted.join == "tube" and wanted.keep_ends and wanted.ends % 2 == 0:
        with pytest.raises(DoubleWeaveError, match="would do"):
            build(wanted)
        return
    draft = build(wanted)
    # In plain weave the shuttle always catches the edge end where it turns back.
    assert assert_as_asked(wanted, draft) == ()
    for cloth in by_hand(draft, wanted).values():
        assert alike(cloth, (1, 0)) == []
        along = (len(draft.threading), 0) if wanted.join == "tube" else (0, 1)
        assert alike(cloth, along) == []


@settings(deadline=None)
@given(plain_cloths().filter(lambda wanted: wanted.layers <= 5), st.data())
def test_other_weaves_are_as_asked_or_refused(wanted, data):
    weaves = data.draw(st.lists(WEAVES, min_size=wanted.layers, max_size=wanted.layers))
    same = data.draw(st.booleans())
    wanted = replace(wanted, weaves=tuple(weaves[:1] if same else weaves))
    try:
        draft = build(wanted)
    except DoubleWeaveError as error:
        refused = error
    else:
        assert_as_asked(wanted, draft)
        assert abs(len(draft.threading) - wanted.ends) <= (0 if wanted.keep_ends else 5)
        return
    assert refused.mend
    # What the search lets through, the analysis must not find faulty.
    assert "faults at its folds" not in refused.why


@settings(deadline=None)
@given(
    st.sampled_from([TWILL, WEFT_TWILL, THREE_END]),
    st.integers(2, 5),
    SIDES,
    SIDES,
    st.integers(0, 9),
)
def test_twills_run_on_unbroken_over_every_fold(twill, count, join, start, more):
    wanted = Wanted(count * 6 + more, count, join=join, start=start, weaves=(twill,))
    draft = build(wanted)
    (cloth,) = by_hand(draft, wanted).values()
    steps = set()
    # A regular twill moves one end a pick, everywhere in the same direction.
    for step in (1, -1):
        if all(
            cloth[column, row][1] == cloth[column + step, row + 1][1]
            for column, row in cloth
            if (column + step, row + 1) in cloth
        ):
            steps.add(step)
    assert len(steps) == 1


@settings(deadline=None)
@given(st.sampled_from([TWILL, WEFT_TWILL, THREE_END]), SIDES, st.integers(16, 40))
def test_twills_run_on_unbroken_round_a_tube(twill, start, ends):
    wanted = Wanted(ends, join="tube", start=start, weaves=(twill,))
    draft = build(wanted)
    (cloth,) = by_hand(draft, wanted, times=4).values()
    period = len(twill.threading)
    assert all(
        over == cloth[column + period, row][1]
        for (column, row), (_, over) in cloth.items()
        if (column + period, row) in cloth
    )


@pytest.mark.parametrize("weaves", [(PLAIN, WEFT_TWILL), (WEFT_TWILL, PLAIN)])
@pytest.mark.parametrize("join", ["left", "right"])
@pytest.mark.parametrize("ends", [24, 25, 26, 27])
def test_different_weaves_float_over_the_fold_no_further_than_the_longer(weaves, join, ends):
    # A float of a 1/3 twill passes three ends (the name of the weave says so), on one face only.
    wanted = Wanted(ends, join=join, weaves=weaves, keep_ends=True)
    draft = build(wanted)
    assert_as_asked(wanted, draft)
    (cloth,) = by_hand(draft, wanted).values()
    longest = {False: 0, True: 0}
    for column, row in cloth:
        length = 1
        while cloth.get((column + length, row), (0, None))[1] == cloth[column, row][1]:
            length += 1
        longest[cloth[column, row][1]] = max(longest[cloth[column, row][1]], length)
    # Over the ends of the upper layer, or under those of the lower one, which is turned over.
    long_face = weaves[0] == PLAIN
    assert longest == {long_face: 3, not long_face: 1}


@given(
    st.integers(10, 40),
    SIDES,
    st.sampled_from(["left", "right", "tube"]),
    st.booleans(),
    st.booleans(),
)
def test_doubled_ends_are_counted_as_the_walk_finds_them(ends, start, join, swap, drop):
    # Also where the sheds are wrong: the oracle is the walk by hand.
    draft = build(Wanted(ends | 1, join=join, start=start))
    lifts = list(draft.lifts)
    if swap:
        low = [pick for pick, layer in enumerate(draft.pick_layers) if layer]
        lifts[low[0]], lifts[low[1]] = lifts[low[1]], lifts[low[0]]
    skip = slice(1, None) if drop else slice(None)
    draft = replace(
        draft,
        threading=draft.threading[skip],
        end_layers=draft.end_layers[skip],
        lifts=tuple(lifts),
    )
    cells, found, path = analysed(draft)
    assume(len(found) == 2)
    faults = fold_faults(find_faults(cells, found, path))
    (cloth,) = by_hand(draft, Wanted(ends, start=start), times=3).values()
    assert len(faults) == len(alike(cloth, (1, 0)))
    assert {fault.kind for fault in faults} <= {"doubled"}


@settings(deadline=None)
@given(plain_cloths(), WEAVES)
def test_the_opened_cloth_is_the_walk_by_hand(wanted, one):
    wanted = replace(wanted, weaves=(one,), keep_ends=False, ratio=(), ends=wanted.ends + 40)
    assume(wanted.join in {"left", "right"} and wanted.layers * one.shafts <= 40)
    draft = build(wanted)
    cells, found, path = analysed(draft, 2, wanted.first_end)
    opened = open_out(cells, found, path, draft.pieces[0])
    (cloth,) = by_hand(draft, wanted).values()
    columns = sorted({column for column, _ in cloth})
    rows = max(row for _, row in cloth) + 1
    assert opened.cells.shape == (rows, len(columns))
    # The map begins where the shuttle does, and it heads for higher columns; the opened cloth
    # begins at the side of the first end.
    onward = wanted.start == wanted.first_end
    for (column, row), (end, over) in cloth.items():
        place = column - columns[0]
        place = place if onward else len(columns) - 1 - place
        assert opened.ends[place] == end
        assert opened.cells[row, place] == over
        assert opened.woven[row, place]
    assert opened.woven.sum() == len(cloth)


@pytest.mark.parametrize(
    ("wanted", "message"),
    [
        (Wanted(40, 1), "1 layers (2 to 8 layers can be woven)"),
        (Wanted(90, 9), "9 layers (2 to 8 layers can be woven)"),
        (
            Wanted(40, 3, shafts=4),
            "3 layers of plain weave need 6 shafts, and there are 4 (2 layers fit)",
        ),
        (
            Wanted(40, weaves=(TWILL,), shafts=4),
            (
                "2 layers of 2/2 twill need 8 shafts, and there are 4 "
                "(two layers need a smaller weave, or more shafts)"
            ),
        ),
        (
            Wanted(40, 3, join="tube"),
            "a tube of 3 layers (a tube has 2; more layers fold left and right by turns)",
        ),
        (
            Wanted(40, 3, weaves=(PLAIN, TWILL)),
            "2 weaves for 3 layers (give one weave for all, or one each)",
        ),
        (
            Wanted(40, ratio=(2, 0)),
            (
                "the ratio 2:0 for 2 layers "
                "(give the ends of each layer in a round, one or more of each)"
            ),
        ),
        (
            Wanted(3),
            "layer 2 has 1 of 3 ends (one repeat of plain weave takes 2 ends of that layer)",
        ),
        (
            Wanted(40, weaves=(weave("floats", (1, 2), {1}, {1}),)),
            (
                "floats does not hang together in every layer "
                "(each layer needs a weave that binds all its ends and picks)"
            ),
        ),
    ],
)
def test_what_cannot_be_woven_is_refused_with_a_way_out(wanted, message):
    with pytest.raises(DoubleWeaveError) as refused:
        build(wanted)
    assert str(refused.value) == message


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: LayerWeave("empty", (), ()), "needs a threading and lifts"),
        (lambda: weave("gap", (1, 3), {1}), "must use shafts 1 to 3"),
        (lambda: weave("beyond", (1, 2), {3}), "raises shaft 3, which has no end"),
    ],
)
def test_a_weave_must_be_whole(make, message):
    with pytest.raises(ValueError, match=message):
        make()


def test_two_ends_of_one_layer_to_one_of_the_other():
    draft = build(Wanted(30, ratio=(2, 1)))
    assert draft.threading[:6] == (1, 3, 2, 1, 3, 4)
    assert draft.pick_layers[:3] == (0, 0, 1)
