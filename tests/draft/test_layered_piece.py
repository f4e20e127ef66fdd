"""Built pieces judged pick by pick by hand: their layers, their joins, their folds, their sheds."""

import re
from dataclasses import replace
from itertools import groupby, pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cards.draft.course import CourseSection
from cards.draft.join_plan import closed_plan, plan_of, plan_of_pairs
from cards.draft.layer_weave import PLAIN
from cards.draft.layered_piece import build_piece
from cards.draft.piece_search import DoubleWeaveError, PieceWanted, SectionWanted
from tests.bench_by_hand import ACROSS, CLOSED, Stretch, named_pairs, some_pairs
from tests.piece_by_hand import (
    floats_over_folds,
    hangs_together,
    run_alike,
    sheds_by_layer,
    shuttle_sides,
    wrong_layers,
    wrong_turns,
)
from tests.weaves import BASKET, POINT, THREE_END, TWILL, WEFT_TWILL

SIDES = st.sampled_from(["left", "right"])
# The longest float of each weft; a name such as 1/3 twill says so.
WEFT_FLOATS = {PLAIN: 1, TWILL: 2, WEFT_TWILL: 3, THREE_END: 2, BASKET: 2, POINT: 3}


def section(stretch, place, *, grows=False):
    joins = (
        closed_plan(stretch.layers)
        if stretch.closed
        else plan_of_pairs(stretch.layers, stretch.pairs, stretch.stack)
    )
    course = CourseSection(
        stretch.picks, joins, stretch.wefts or ("sand",) * stretch.layers, ratio=stretch.ratio
    )
    return SectionWanted(f"part {place}", course, stretch.order_of_layers(), grows=grows)


def wanted_of(ends, *stretches, grows=(), **more):
    sections = tuple(
        section(each, place, grows=place in grows) for place, each in enumerate(stretches)
    )
    ratio = stretches[0].ratio
    return PieceWanted(ends, stretches[0].layers, sections, ratio=ratio, **more)


def two(picks, join, **more):
    return Stretch(picks, 2, named_pairs(join, 2), join == "closed", **more)


@st.composite
def stretches_of(draw, layers, ratio=()):
    kinds = ["none", "left", "right", "closed", "pairs"] + ["tube", "tube"] * (layers == 2)
    found = []
    for _ in range(draw(st.integers(1, 4))):
        kind = draw(st.sampled_from(kinds))
        stack = tuple(range(layers))
        if kind not in ACROSS or layers < 4:
            stack = draw(st.just(stack) | st.permutations(range(layers)).map(tuple))
        pairs = draw(some_pairs(layers, stack)) if kind == "pairs" else named_pairs(kind, layers)
        picks = draw(st.integers(1, 24))
        found.append(Stretch(picks, layers, pairs, kind == "closed", (), (), ratio, stack))
    return found


@st.composite
def pieces(draw, most_layers, weaves):
    layers = draw(st.integers(2, most_layers))
    ratio = draw(st.just(()) | st.tuples(*[st.integers(1, 3)] * layers))
    stretches = draw(stretches_of(layers, ratio))
    one = draw(st.tuples(*[weaves] * layers)) if draw(st.booleans()) else (draw(weaves),)
    assume(sum(each.shafts for each in one) * (layers if len(one) == 1 else 1) <= 40)
    # Wide enough for a repeat of the widest weave in every layer, also with a few ends less.
    widest = max(len(each.threading) for each in one)
    least = sum(ratio or (1,) * layers) * (widest + 2) + widest
    wanted = wanted_of(
        draw(st.integers(least, least + 30)),
        *stretches,
        grows=draw(st.sets(st.integers(0, 3))),
        start=draw(SIDES),
        first_end=draw(SIDES),
        arrangement=draw(st.sampled_from(["straight", "paired"])),
        weaves=one,
        keep_ends=draw(st.booleans()),
    )
    return wanted, stretches


def judge(piece, wanted, stretches):
    """Everything that must be so in a built piece; returns its sheds, layer by layer."""
    for stretch, picks, asked in zip(stretches, piece.picks, wanted.sections, strict=True):
        assert picks >= stretch.picks if asked.grows else picks == stretch.picks
    if wanted.keep_ends:
        assert len(piece.threading) == wanted.ends
    stretches = [replace(s, picks=picks) for s, picks in zip(stretches, piece.picks, strict=True)]
    shuttles = piece.course.shuttles.tolist()
    layers, wrong = wrong_layers(piece.threading, piece.end_layers, piece.lifts, stretches)
    assert wrong == []
    assert layers == piece.course.layers.tolist()
    sides = shuttle_sides(shuttles, wanted.start)
    assert wrong_turns(layers, shuttles, sides, stretches) == []
    weaves = wanted.weaves * (wanted.layers if len(wanted.weaves) == 1 else 1)
    for before, after, passed in floats_over_folds(
        piece.threading, piece.end_layers, piece.lifts, layers, shuttles, sides, wanted.first_end
    ):
        joined = weaves[layers[before]], weaves[layers[after]]
        assert passed <= max(WEFT_FLOATS[each] for each in joined)
        assert joined != (PLAIN, PLAIN)
    spells = sheds_by_layer(piece.threading, piece.end_layers, piece.lifts, layers)
    for spell in spells:
        for layer, sheds in spell.items():
            # A weave comes again after its sheds, also from section to section.
            cycle = 2 if layer == CLOSED else len(weaves[layer].lifts)
            assert sheds[cycle:] == sheds[:-cycle]
            if layer != CLOSED and len(sheds) >= cycle:
                assert len(set(sheds[:cycle])) == len(set(weaves[layer].lifts))
    if set(weaves) == {PLAIN}:
        assert run_alike(spells) == 0
    return spells


def applied(wanted, stretches, error):
    """What is wanted with the mend of an error done: that must then be woven without another."""
    picks = re.match(r"(\d+) picks would do", error.mend)
    ends = re.search(r"(?:^|with )(\d+) (?:ends|would do)", error.mend)
    if picks or ends:
        place = error.section
        if picks:
            stretches = list(stretches)
            stretches[place] = replace(stretches[place], picks=int(picks[1]))
        return (
            replace(
                wanted,
                ends=int(ends[1]) if ends else wanted.ends,
                sections=tuple(section(each, place) for place, each in enumerate(stretches)),
            ),
            stretches,
        )
    if error.mend.startswith("plain weave would do"):
        return replace(wanted, weaves=(PLAIN,)), stretches
    if error.mend.startswith("weave all layers together"):
        together = Stretch(4, wanted.layers, closed=True, ratio=wanted.ratio)
        parted = [each for stretch in stretches for each in (stretch, together)]
    else:
        assert error.mend == "weave the layers apart"
        parted = [replace(each, pairs=()) for each in stretches]
    return replace(wanted, sections=tuple(section(each, 0) for each in parted)), parted


def judge_built_or_mended(wanted, stretches):
    """Judge a piece; one that is refused after what the refusal says would do."""
    try:
        piece = build_piece(wanted)
    except DoubleWeaveError as error:
        wanted, stretches = applied(wanted, stretches, error)
        piece = build_piece(wanted)
    judge(piece, wanted, stretches)


@settings(deadline=None)
@given(pieces(8, st.just(PLAIN)))
def test_plain_pieces_are_those_asked_for_or_can_be_mended(asked):
    judge_built_or_mended(*asked)


@settings(deadline=None, max_examples=50)
@given(pieces(4, st.sampled_from([PLAIN, TWILL, WEFT_TWILL, THREE_END, BASKET, POINT])))
def test_other_weaves_are_as_asked_or_can_be_mended(asked):
    judge_built_or_mended(*asked)


@settings(deadline=None)
@given(
    st.integers(8, 40),
    SIDES,
    SIDES,
    st.sampled_from(["straight", "paired"]),
    st.tuples(*[st.integers(4, 20)] * 3),
)
def test_a_bag(ends, start, first_end, arrangement, picks):
    # Closed base, tube, two open cloths above it.
    stretches = [two(picks[0], "closed"), two(picks[1], "tube"), two(picks[2], "none")]
    wanted = wanted_of(ends, *stretches, start=start, first_end=first_end, arrangement=arrangement)
    piece = build_piece(wanted)
    spells = judge(piece, wanted, stretches)
    # weavingspace.co.uk, "Tubular double weave": a plain tube needs an odd number of ends.
    assert len(piece.threading) == ends - (ends % 2 == 0)
    # The base hangs together whole, and is plain weave: each end over one, under one.
    base = piece.lifts[: picks[0]]
    assert len(hangs_together(piece.threading, base)) == 1
    for shed, after in pairwise(spells[0][CLOSED]):
        assert all(one != two for one, two in pairwise(shed))
        assert all(one != two for one, two in zip(shed, after, strict=True))
    # Above it there are two layers and nothing loose, all ends of a layer together.
    layers = hangs_together(piece.threading, piece.lifts[picks[0] : picks[0] + picks[1]])
    assert sorted(sorted(end for kind, end in each if kind == "end") for each in layers) == [
        list(range(0, len(piece.threading), 2)),
        list(range(1, len(piece.threading), 2)),
    ]


@settings(deadline=None)
@given(
    st.integers(2, 5),
    st.sampled_from([PLAIN, TWILL, THREE_END, BASKET]),
    st.sampled_from(["straight", "paired"]),
    st.integers(0, 12),
    st.data(),
)
def test_layers_woven_together_are_one_cloth_without_long_floats(
    layers, one, arrangement, more, data
):
    ratio = data.draw(st.just(()) | st.tuples(*[st.integers(1, 3)] * layers))
    ends = sum(ratio or (1,) * layers) * (len(one.threading) + 2) + more
    stretch = Stretch(4, layers, closed=True, ratio=ratio)
    wanted = wanted_of(ends, stretch, weaves=(one,), arrangement=arrangement)
    piece = build_piece(wanted)
    assert len(hangs_together(piece.threading, piece.lifts)) == 1
    raised = [[shaft in lift for shaft in piece.threading] for lift in piece.lifts]
    assert raised[0] == [not each for each in raised[1]] == raised[2]
    longest = max(len(list(run)) for _, run in groupby(raised[0]))
    # Raising the ends of one layer and then those of all others always does. Common practice, no
    # source.
    every = ratio or (1,) * layers
    assert longest <= min(max(one, sum(every) - one) for one in every)
    if not set(piece.threading[::2]) & set(piece.threading[1::2]):
        assert longest == 1


@settings(deadline=None)
@given(
    st.sampled_from(["none", "left", "right", "tube"]),
    st.sampled_from(["none", "left", "right", "tube"]),
    st.integers(1, 9),
    st.integers(1, 9),
    st.integers(8, 20),
)
def test_layers_change_places(one, other, first, second, ends):
    # The same cloths lie the other way about: the lower one's shed is raised above all of the upper.
    stretches = [two(first, one), two(second, other, stack=(1, 0)), two(first, one)]
    wanted = wanted_of(ends, *stretches, grows={0, 1})
    try:
        piece = build_piece(wanted)
    except DoubleWeaveError as error:
        wanted, stretches = applied(wanted, stretches, error)
        piece = build_piece(wanted)
    judge(piece, wanted, stretches)


def lifts_of(piece):
    return "/".join("".join(map(str, sorted(lift))) for lift in piece.lifts)


# Worked by hand: lifts 1, 3 and 123, 134 of two layers on a straight draw (trade tables; rule by
# Taylor, 1909, page 200), exchanged 2, 4 and 124, 234; both layers together 13 and 24.
@pytest.mark.parametrize(
    ("stretches", "ends", "lifts"),
    [
        ([two(4, "none"), two(4, "none", stack=(1, 0))], 8, "1/123/3/134/2/124/4/234"),
        ([two(3, "closed"), two(4, "none")], 8, "13/24/13/1/123/3/134"),
        ([two(1, "closed"), two(2, "closed")], 8, "13/24/13"),
        # Tube, then two cloths: the sheds of each layer go on.
        ([two(4, "tube"), two(4, "none")], 9, "1/134/3/123/1/134/3/123"),
        ([two(2, "left"), two(2, "left")], 8, "1/123/134/3"),
    ],
)
def test_lifts_by_hand(stretches, ends, lifts):
    assert lifts_of(build_piece(wanted_of(ends, *stretches))) == lifts


def test_layers_woven_together_twice_in_a_row_take_the_other_shed():
    # Two picks of one shed lie as one: the second section goes on where the first left off.
    piece = build_piece(wanted_of(8, two(3, "closed"), two(3, "closed"), two(2, "none")))
    assert lifts_of(piece).startswith("13/24/13/24/13/24/1/")
    assert set(piece.course.shuttles[:6].tolist()) == {0}


def test_a_section_that_grows_tells_so():
    # Fold, then an odd pick of the upper cloth alone, then the fold again: the upper layer has one
    # shed too many, and one more pick below puts it right.
    stretches = [two(4, "left"), two(3, "none"), two(4, "left")]
    piece = build_piece(wanted_of(8, *stretches, grows={0, 1, 2}, keep_ends=True))
    assert piece.picks == (4, 4, 4)
    assert piece.chosen[-1] == (
        "1 pick added to 'part 1', so that the sheds run on in what follows"
    )
    with pytest.raises(DoubleWeaveError) as refused:
        build_piece(wanted_of(8, *stretches, keep_ends=True))
    assert refused.value.section == 1
    assert refused.value.why == (
        "after the 3 picks of 'part 1' a shuttle lies at the wrong side, so that plain weave "
        "cannot run on over the folds"
    )
    assert refused.value.mend == "4 picks would do"


def test_other_ends_and_more_picks_together():
    # Neither alone does: a tube of an even number of ends, and an odd pick between two tubes.
    stretches = [two(15, "tube"), two(14, "none"), two(7, "tube")]
    wanted = wanted_of(38, *stretches, first_end="left", keep_ends=True)
    with pytest.raises(DoubleWeaveError) as refused:
        build_piece(wanted)
    assert re.fullmatch(
        r"\d+ picks would do, with 37 ends: 1 end dropped at the \w+", refused.value.mend
    )


def test_what_nothing_mends_is_woven_together_between_or_apart():
    # Three layers folded left, right, then right, left, then back again: every layer would need
    # another parity of its sheds at each change.
    four = [
        Stretch(picks, 4, named_pairs(join, 4))
        for picks, join in ((19, "left"), (14, "right"), (10, "left"))
    ]
    with pytest.raises(DoubleWeaveError) as refused:
        build_piece(wanted_of(44, *four, start="left", first_end="left", keep_ends=True))
    assert refused.value.mend == (
        "weave all layers together for a few picks between the sections, or weave the layers apart"
    )


def test_plain_weave_is_offered_only_where_it_would_do():
    # A basket's edge falls on the second of two like ends when its ends do not come out; a tube of
    # even ends is no help to plain weave either.
    free = wanted_of(33, two(8, "tube"), weaves=(BASKET,), keep_ends=True)
    for ends in range(20, 40):
        try:
            build_piece(replace(free, ends=ends))
        except DoubleWeaveError as error:
            plain = replace(free, ends=ends, weaves=(PLAIN,))
            if "plain weave would do" in error.mend:
                build_piece(plain)


def test_a_tube_may_follow_a_tube_of_a_named_plan():
    # By name and by its pairs a tube is the same piece.
    named = CourseSection(8, plan_of(2, "tube"), ("sand", "sand"))
    wanted = wanted_of(19, two(8, "tube"))
    by_name = replace(wanted, sections=(SectionWanted("part 0", named, (0, 1)),))
    assert build_piece(by_name).lifts == build_piece(wanted).lifts


def test_yarns_that_cut_a_row_are_told_as_such():
    # A row of three layers there and back is six picks; five of one yarn leave the next in mid-row.
    def folded(*yarns):
        order = tuple(yarn for yarn, picks in yarns for _ in range(picks)) * 4
        joins = plan_of(3, "left")
        course = CourseSection(len(order), joins, ("sand",) * 3, order)
        return PieceWanted(60, 3, (SectionWanted("cloth", course, (0, 1, 2)),))

    with pytest.raises(DoubleWeaveError) as refused:
        build_piece(folded(("sand", 5), ("slate", 8)))
    assert refused.value.of == "order"
    assert refused.value.mend == "let each yarn weave whole rows: 6 picks, or a multiple of that"
    build_piece(folded(("sand", 6), ("slate", 12)))
