import random
from collections import defaultdict
from itertools import combinations

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.cloth.continuity import find_faults, fold_faults
from cards.cloth.layers import layers
from cards.cloth.weft_path import follow, pick_layers, shuttle_plan
from cards.draft.blemishes import GRAVE, blemishes
from cards.draft.drawdown import drawdown
from cards.draft.layer_weave import PLAIN, LayerWeave
from cards.draft.slip_kinds import EndSlip, LiftSlip, PickSwap, TieSlip, mended
from cards.draft.slips import find_slips
from cards.draft.thread_classes import classes_of
from cards.draft.written import Expected, WrittenDraft
from tests.one_cloth import DoubleWeaveError, Wanted, build

STRAIGHT, PAIRED = (1, 2, 3, 4), (1, 3, 2, 4)

# Multi-layer plain weave, first end at the right, shuttles from the right: the draw of the ends,
# lifts, shuttles, ends, and what is made. Verified by a simulation made before this program was
# written; the rule of the lifts is J. T. Taylor's, Cotton Weaving and Designing, 6th ed., 1909,
# page 200. A tube of plain weave needs an odd number of ends (weavingspace.co.uk, "Tubular double
# weave").
TABLES = {
    "two": (STRAIGHT, "1/123/3/134", (0, 1, 0, 1), 60, 2, "separate"),
    "tube": (STRAIGHT, "1/134/3/123", (0,) * 4, 59, 2, "tube"),
    "fold left": (STRAIGHT, "1/123/134/3", (0,) * 4, 60, 2, "folded"),
    "fold right": (STRAIGHT, "1/3/134/123", (0,) * 4, 60, 2, "folded"),
    "two, paired": (PAIRED, "1/123/2/124", (0, 1, 0, 1), 60, 2, "separate"),
    "tube, paired": (PAIRED, "1/124/2/123", (0,) * 4, 59, 2, "tube"),
    "fold left, paired": (PAIRED, "1/123/124/2", (0,) * 4, 60, 2, "folded"),
    "fold right, paired": (PAIRED, "1/2/124/123", (0,) * 4, 60, 2, "folded"),
    "triple": (range(1, 7), "1/124/12345/12456/145/4", (0,) * 6, 66, 3, "folded"),
    "quadruple": (
        range(1, 9),
        "1/125/12356/1234567/1235678/12567/156/5",
        (0,) * 8,
        80,
        4,
        "folded",
    ),
}
KINDS = ("end", "tie", "lift", "swap")


def dice(seed):
    return random.Random(seed)  # noqa: S311


def sheds(text):
    return tuple(frozenset(map(int, lift)) for lift in text.split("/"))


def with_lifts(threading, lifts, plan, shafts):
    return WrittenDraft(threading, plan, shafts, lifts=lifts)


def with_ties(threading, lifts, plan, shafts):
    """The same draft with a treadle for every lift."""
    known = list(dict.fromkeys(lifts))
    treadling = tuple(frozenset({known.index(lift) + 1}) for lift in lifts)
    ties = {treadle: tuple(sorted(lift)) for treadle, lift in enumerate(known, start=1)}
    return WrittenDraft(threading, plan, shafts, treadling=treadling, tie_up=ties)


def draft_of(name, written=1, woven=4, tied=False, ends=None):
    """A draft of the tables; its lifts `written` out so many times, and that woven again."""
    draw, lifts, shuttles, width, count, pieces = TABLES[name]
    width = ends or width
    lifts = sheds(lifts) * written
    threading = tuple((tuple(draw) * width)[:width])
    plan = shuttle_plan(shuttles * written * woven, "right")
    make = with_ties if tied else with_lifts
    draft = make(threading, lifts, plan, max(draw))
    return draft, Expected(count, pieces)


def slip_in(draft, kind, rng):
    """A slip at a random place, as the finder would have to name it once it has been made."""
    if kind == "end":
        end = rng.randrange(len(draft.threading))
        right = draft.threading[end]
        wrong = rng.choice([each for each in range(1, draft.shafts + 1) if each != right])
        return EndSlip(end, wrong, right)
    shaft = rng.randint(1, draft.shafts)
    if kind == "tie":
        treadle = rng.choice(sorted(draft.tie_up))
        return TieSlip(treadle, shaft, shaft not in draft.tie_up[treadle])
    if kind == "lift":
        pick = rng.randrange(draft.repeat)
        return LiftSlip((pick,), shaft, shaft not in draft.lifts[pick])
    while True:
        one, two = sorted(rng.sample(range(draft.repeat), 2))
        if draft.sheds[one] != draft.sheds[two]:
            return PickSwap(one, two)


def made(draft, slip):
    """The draft with a slip made in it: every slip but an end's is its own opposite."""
    if isinstance(slip, EndSlip):
        slip = EndSlip(slip.end, slip.should_be, slip.shaft)
    return mended(draft, slip)


def cells_of(draft):
    lifts = [draft.sheds[pick % draft.repeat] for pick in range(len(draft.plan.shuttles))]
    return drawdown(draft.threading, lifts)


# An oracle of its own: the whole drawdown, thread by thread, held against plain weave in layers.


def parted_by_hand(draft):
    """The layers of ends and picks, the top first, by the components of the whole drawdown."""
    cells = cells_of(draft)
    graph = nx.DiGraph()
    for pick, end in np.ndindex(cells.shape):
        pair = ("end", end), ("pick", pick)
        graph.add_edge(*(pair if cells[pick, end] else pair[::-1]))
    parts = nx.condensation(graph)
    return [parts.nodes[each]["members"] for each in nx.topological_sort(parts)]


def turns_by_hand(draft, of_pick):
    """Pick and next pick of every shuttle, their layers, and the side between them."""
    last = {}
    for pick, shuttle in enumerate(draft.plan.shuttles.tolist()):
        if shuttle in last:
            before = last[shuttle]
            side = "left" if draft.plan.from_right[before] else "right"
            yield before, pick, of_pick[before], of_pick[pick], side
        last[shuttle] = pick


def joined_by_hand(turns, count):
    """What the layers make: every turn at an edge must do the same."""
    beyond = defaultdict(set)
    for _, _, one, two, side in turns:
        beyond[one, side].add(two)
        beyond[two, side].add(one)
    if any(len(others) > 1 for others in beyond.values()):
        return "odd"
    joints = {
        (min(layer, other), max(layer, other), side)
        for (layer, side), others in beyond.items()
        for other in others
        if other != layer
    }
    for (a, b, here), (c, d, there) in combinations(sorted(joints), 2):
        if here == there and a < c < b < d:
            return "odd"
    graph = nx.Graph([(a, b) for a, b, _ in joints])
    graph.add_nodes_from(range(count))
    if not joints:
        return "separate"
    if not nx.is_connected(graph):
        return "several"
    return {count - 1: "folded", count: "tube"}[len(joints)]


def perfect(draft, expected):
    """Whether a draft is plain weave in layers, 1:1, joined as expected, without any fault."""
    found = parted_by_hand(draft)
    if len(found) != expected.layers or any(
        {kind for kind, _ in part} != {"end", "pick"} for part in found
    ):
        return False
    place = {thread: layer for layer, part in enumerate(found) for thread in part}
    of_end = [place["end", end] for end in range(len(draft.threading))]
    of_pick = [place["pick", pick] for pick in range(len(draft.plan.shuttles))]
    turns = list(turns_by_hand(draft, of_pick))
    if joined_by_hand(turns, expected.layers) != expected.pieces:
        return False
    if any(
        of_end[end] != of_end[end - expected.layers] for end in range(expected.layers, len(of_end))
    ):
        return False
    cells = cells_of(draft)
    for layer in range(expected.layers):
        own = cells[
            np.ix_(
                [pick for pick, each in enumerate(of_pick) if each == layer],
                [end for end, each in enumerate(of_end) if each == layer],
            )
        ]
        if (own[1:] == own[:-1]).all(axis=1).any() or (own[:, 1:] == own[:, :-1]).all(axis=0).any():
            return False
    # The cloth turns over at a fold, so the last end left and the first end entered must be alike.
    for before, after, one, two, side in turns:
        if one != two:
            edge = 0 if side == draft.plan.first_end else -1
            ends = [
                [end for end, each in enumerate(of_end) if each == layer][edge]
                for layer in (one, two)
            ]
            if cells[before, ends[0]] != cells[after, ends[1]]:
                return False
    return True


def single_changes(draft):
    """Every slip that there could be in a draft."""
    for end, drawn in enumerate(draft.threading):
        for shaft in range(1, draft.shafts + 1):
            if shaft != drawn:
                yield EndSlip(end, drawn, shaft)
    for shaft in range(1, draft.shafts + 1):
        for treadle in draft.tie_up:
            yield TieSlip(treadle, shaft, shaft in draft.tie_up[treadle])
        for lift in set(draft.lifts):
            picks = tuple(pick for pick, each in enumerate(draft.lifts) if each == lift)
            for some in {picks, *((pick,) for pick in picks)}:
                yield LiftSlip(some, shaft, shaft in lift)
    for one, two in combinations(range(draft.repeat), 2):
        if draft.sheds[one] != draft.sheds[two]:
            yield PickSwap(one, two)


@pytest.mark.parametrize("tied", [False, True])
@pytest.mark.parametrize("written", [1, 7])
@pytest.mark.parametrize("name", TABLES)
def test_a_right_draft_is_left_alone(name, written, tied):
    draft, expected = draft_of(name, written, tied=tied)
    assert perfect(draft_of(name, tied=tied)[0], expected)
    assert blemishes(draft, expected) == ()
    assert find_slips(draft, expected) == ()


@pytest.mark.parametrize("written", [1, 6, 30])
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", TABLES)
def test_a_slip_is_named(name, kind, written):
    rng = dice(f"{name} {kind} {written}")
    right, expected = draft_of(name, written, tied=kind == "tie")
    for _ in range(4):
        slip = slip_in(right, kind, rng)
        wrong = made(right, slip)
        found = find_slips(wrong, expected)
        assert all(blemishes(mended(wrong, each), expected) == () for each in found)
        if blemishes(wrong, expected):
            assert slip in found
            continue
        # Exchanged picks may make another cloth that is as declared: nothing is to be said of it.
        assert kind == "swap"
        assert found == ()
        assert written < 30


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", [name for name in TABLES if name != "quadruple"])
def test_brute_force_knows_no_other_slip(name, kind):
    rng = dice(f"brute {name} {kind}")
    count, pieces = TABLES[name][4:]
    ends = 13 * count + (pieces == "tube")
    right, expected = draft_of(name, woven=2, tied=kind == "tie", ends=ends)
    for _ in range(2):
        slip = slip_in(right, kind, rng)
        wrong = made(right, slip)
        possible = [
            each for each in single_changes(wrong) if perfect(mended(wrong, each), expected)
        ]
        assert slip in possible
        if perfect(wrong, expected):
            assert find_slips(wrong, expected) == ()
        else:
            assert set(find_slips(wrong, expected, most=100)) == set(possible)


def test_brooks_double_cloth_with_a_peg_left_out():
    # C. P. Brooks, Cotton Manufacturing, 3rd ed., 1892 (Gutenberg 57681), mirror page 69: ends on
    # 1, 3, 2, 4; lifts 1, 124, 2, 123.
    plan = shuttle_plan((0, 1) * 8, "right")
    right = WrittenDraft(PAIRED * 10, plan, 4, lifts=sheds("1/124/2/123"))
    expected = Expected(2, "separate")
    assert blemishes(right, expected) == ()
    wrong = mended(right, LiftSlip((1,), 2, raised=True))
    assert [each.kind for each in blemishes(wrong, expected)] == ["layers"]
    assert [each.words for each in find_slips(wrong, expected)] == [
        "pick 2 does not raise shaft 2 and should"
    ]


def test_an_end_in_the_wrong_layer_leaves_the_layers_parted():
    # So the number of layers cannot tell, and the gap and the crowd must.
    right, expected = draft_of("two")
    wrong = made(right, EndSlip(20, 2, 1))
    assert len(layers(cells_of(wrong))) == 2
    kinds = {each.kind for each in blemishes(wrong, expected)}
    assert kinds == {"end order", "ends alike"}
    assert find_slips(wrong, expected) == (EndSlip(20, 2, 1),)


def test_slips_are_told_as_weavers_count():
    assert EndSlip(20, 2, 1).words == "end 21 is on shaft 2 and should be on 1"
    assert TieSlip(3, 2, tied=True).words == "treadle 3 raises shaft 2 and should not"
    assert TieSlip(3, 2, tied=False).words == "treadle 3 does not raise shaft 2 and should"
    assert LiftSlip((0, 4), 2, raised=True).words == "picks 1, 5 raise shaft 2 and should not"
    assert LiftSlip((1,), 2, raised=False).words == "pick 2 does not raise shaft 2 and should"
    assert PickSwap(3, 9).words == "picks 4 and 10 are exchanged"


@pytest.mark.parametrize(
    "threading",
    [
        # Same-layer neighbours on one shaft all over the warp: a design, whatever it is.
        (1, 2, 3, 4, 3, 2) * 12,
        (1, 2, 1, 2, 3, 4, 3, 4) * 8,
        # Doubled at both selvedges, as is common practice.
        (1, 2, *STRAIGHT * 15, 3, 4),
        # The order of the layers turns in the middle: an end of each is doubled, but none is wrong.
        (*STRAIGHT * 8, *STRAIGHT[::-1] * 8),
    ],
)
def test_a_design_is_not_explained_away(threading):
    plan = shuttle_plan((0, 1) * 8, "right")
    draft = WrittenDraft(threading, plan, 4, lifts=sheds("1/123/3/134"))
    assert find_slips(draft, Expected(2, "separate")) == ()


def test_pairs_all_over_are_no_blemish():
    plan = shuttle_plan((0, 1) * 8, "right")
    draft = WrittenDraft((1, 2, 3, 4, 3, 2) * 12, plan, 4, lifts=sheds("1/123/3/134"))
    assert blemishes(draft, Expected(2, "separate")) == ()
    doubled = WrittenDraft((1, 2, 1, 2, 3, 4, 3, 4) * 8, plan, 4, lifts=sheds("1/123/3/134"))
    assert blemishes(doubled, Expected(2, "separate")) == ()


def test_a_change_that_makes_a_blemish_common_is_no_mend():
    # The draw turns once: two ends of the upper layer lie side by side on shaft 3. A third and a
    # fourth such pair would be no rarity any more, in a warp so narrow.
    plan = shuttle_plan((0, 1) * 8, "right")
    draw = (1, 2, 3, 4) * 4 + (3, 2, 1, 4) * 4
    draft = WrittenDraft(draw, plan, 4, lifts=sheds("1/123/3/134"))
    expected = Expected(2, "separate")
    assert [(each.kind, each.ends) for each in blemishes(draft, expected)] == [
        ("ends alike", (14, 16))
    ]
    assert find_slips(draft, expected) == ()


def test_picks_exchanged_far_apart_in_one_layer():
    # Each of the two is like its neighbours on both sides: four pairs in 25.
    right, expected = draft_of("two", written=13, woven=1)
    wrong = made(right, PickSwap(8, 30))
    assert len(blemishes(wrong, expected)) == 4
    assert find_slips(wrong, expected) == (PickSwap(8, 30),)


@pytest.mark.parametrize("name", TABLES)
def test_the_stretch_kept_has_every_turn(name):
    draft, _ = draft_of(name, woven=9)
    threads = classes_of(draft)
    kept = {
        (draft.lifts[before % draft.repeat], draft.lifts[after % draft.repeat], right)
        for before, after, right in zip(
            threads.before.tolist(), threads.after.tolist(), threads.at_right.tolist(), strict=True
        )
    }
    lifts = [draft.lifts[pick % draft.repeat] for pick in range(len(draft.plan.shuttles))]
    turns = turns_by_hand(draft, lifts)
    assert kept == {(one, two, side == "right") for _, _, one, two, side in turns}
    assert len(threads.kind_of) < len(lifts)


def test_two_wrong_ends_are_no_single_slip():
    right, expected = draft_of("two")
    assert find_slips(made(right, EndSlip(20, 3, 1)), expected) == (EndSlip(20, 3, 1),)
    two = made(made(right, EndSlip(20, 3, 1)), EndSlip(41, 4, 2))
    assert blemishes(two, expected)
    assert find_slips(two, expected) == ()


@pytest.mark.parametrize("name", ["two", "tube", "triple"])
def test_a_wrong_tie_is_named_though_an_end_is_wrong_too(name):
    right, expected = draft_of(name, tied=True)
    end = EndSlip(20, right.threading[22], right.threading[20])
    tie = TieSlip(2, 1, tied=False)
    wrong = made(made(right, end), tie)
    assert find_slips(wrong, expected) == (tie,)
    rest = mended(wrong, tie)
    assert not GRAVE & {each.kind for each in blemishes(rest, expected)}
    assert find_slips(rest, expected) == (end,)


@pytest.mark.parametrize("cloth", ["1/2", "12/23/34/14", "13/24"])
def test_a_single_cloth_is_no_slip_in_a_double_one(cloth):
    lifts = sheds(cloth)
    plan = shuttle_plan((0,) * 24, "right")
    draft = WrittenDraft(STRAIGHT * 15, plan, 4, lifts=lifts)
    assert [each.kind for each in blemishes(draft, Expected(2))][-1] == "layers"
    assert find_slips(draft, Expected(2)) == ()


TWILL = LayerWeave(
    "2/2 twill", (1, 2, 3, 4), tuple(map(frozenset, ({1, 2}, {2, 3}, {3, 4}, {4, 1})))
)
THREE_END = LayerWeave("1/2 twill", (1, 2, 3), tuple(map(frozenset, ({1}, {2}, {3}))))
BASKET = LayerWeave("basket", (1, 1, 2, 2), tuple(map(frozenset, ({1}, {1}, {2}, {2}))))
POINT = LayerWeave("point twill", (1, 2, 3, 4, 3, 2), TWILL.lifts)
MADE = {"none": "separate", "tube": "tube"}


def built(wanted, times=3, *, tied=False):
    draft = build(wanted)
    starts = {shuttle: draft.sides[draft.shuttles.index(shuttle)] for shuttle in draft.shuttles}
    plan = shuttle_plan(draft.shuttles * times, starts, first_end=wanted.first_end)
    make = with_ties if tied else with_lifts
    written = make(draft.threading, draft.lifts, plan, max(draft.threading))
    return written, Expected(wanted.layers, MADE.get(wanted.join, "folded"))


SIDES = st.sampled_from(["left", "right"])


@settings(max_examples=150, deadline=None)
@given(
    st.integers(2, 4).flatmap(
        lambda count: st.builds(
            Wanted,
            ends=st.integers(13, 40).map(lambda each: each * count),
            layers=st.just(count),
            join=st.sampled_from(["none", "left", "right"] + ["tube"] * (count == 2)),
            start=SIDES,
            first_end=SIDES,
            arrangement=st.sampled_from(["straight", "paired"]),
            weaves=st.sampled_from([(PLAIN,), (TWILL,), (THREE_END,), (BASKET,), (POINT,)]),
        )
    )
)
def test_what_the_builder_builds_is_left_alone(wanted):
    try:
        draft, expected = built(wanted)
    except DoubleWeaveError:
        return
    assert blemishes(draft, expected) == ()


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_the_kinds_tell_what_the_whole_cloth_tells(data):
    """Layers, pieces and folds from the kinds of threads, against those of the whole drawdown."""
    name = data.draw(st.sampled_from(sorted(TABLES)))
    kind = data.draw(st.sampled_from(KINDS))
    right, expected = draft_of(name, data.draw(st.sampled_from([1, 3])), tied=kind == "tie")
    wrong = made(right, slip_in(right, kind, dice(data.draw(st.integers(0, 10**6)))))
    found = {each.kind for each in blemishes(wrong, expected)}
    cells = cells_of(wrong)
    parts = layers(cells)
    lone = any(not part.ends or not part.picks for part in parts)
    assert lone == ("lone" in found)
    if found & {"lone", "layers"}:
        assert lone or len(parts) != expected.layers
        return
    assert len(parts) == expected.layers
    path = follow(pick_layers(parts), wrong.plan)
    turns = list(turns_by_hand(wrong, path.layers.tolist()))
    joined = joined_by_hand(turns, expected.layers)
    assert (joined != expected.pieces) == ("pieces" in found)
    if "pieces" not in found:
        faults = fold_faults(find_faults(cells, parts, path))
        assert bool(faults) == ("fold" in found)


@pytest.mark.parametrize("seed", range(12))
def test_a_wrong_tie_in_a_twill_layer_is_named(seed):
    # No layer parts and none is stitched: one shed and one shaft of the twill are uneven.
    rng = dice(seed)
    right, expected = built(Wanted(80, 2, weaves=(TWILL,)), tied=True)
    slip = slip_in(right, "tie", rng)
    while blemishes(made(right, slip), expected)[0].kind in GRAVE:
        slip = slip_in(right, "tie", rng)
    wrong = made(right, slip)
    assert [each.kind for each in blemishes(wrong, expected)] == ["uneven"]
    assert find_slips(wrong, expected)[0] == slip


@pytest.mark.parametrize("kind", KINDS)
def test_a_wide_and_long_cloth_written_out_whole(kind):
    count = 4
    right, expected = built(Wanted(4000, count, join="left"), times=20_000 // 8)
    make = with_ties if kind == "tie" else with_lifts
    right = make(right.threading, right.lifts * 2500, right.plan, right.shafts)
    assert (len(right.threading), right.repeat) == (4000, 20_000)
    slip = slip_in(right, kind, dice(kind))
    assert slip in find_slips(made(right, slip), expected)


def test_drafts_that_cannot_be():
    plan = shuttle_plan((0, 1), "right")
    lifts = sheds("1/2")
    with pytest.raises(ValueError, match="either lifts or a treadling"):
        WrittenDraft((1, 2), plan, 2)
    with pytest.raises(ValueError, match="either lifts or a treadling"):
        WrittenDraft((1, 2), plan, 2, lifts=lifts, treadling=lifts, tie_up={1: (1,), 2: (2,)})
    with pytest.raises(ValueError, match="4 picks in the repeat, and 2 in the plan"):
        WrittenDraft((1, 2), plan, 2, lifts=lifts * 2)
    with pytest.raises(ValueError, match="shaft 3"):
        WrittenDraft((1, 3), plan, 2, lifts=lifts)
    with pytest.raises(ValueError, match="has ends"):
        WrittenDraft((), plan, 2, lifts=lifts)
