"""The shuttles' course from section to section, against a bench on which they are moved by hand."""

from collections import Counter, defaultdict
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.draft.course import (
    ALL,
    CourseSection,
    follow_sections,
    joints,
    path_of,
    picks_of_repeat,
    round_of_picks,
)
from cards.draft.join_plan import closed_plan, plan_of, plan_of_pairs
from tests.bench_by_hand import ACROSS, CLOSED, Bench, Stretch, named_pairs, some_pairs

SIDES = st.sampled_from(["left", "right"])


def asked(stretch):
    """The same section, as the program wants it."""
    joins = (
        closed_plan(stretch.layers)
        if stretch.closed
        else plan_of_pairs(stretch.layers, stretch.pairs, stretch.stack)
    )
    return CourseSection(stretch.picks, joins, stretch.wefts, stretch.order, stretch.ratio)


def course_of(stretches, start="right"):
    return follow_sections([asked(each) for each in stretches], start)


def told(course):
    """Layers from 1, 0 for all; a shuttle that comes from the left stands in brackets."""
    picks = zip(course.layers.tolist(), course.shuttles.tolist(), course.from_right, strict=True)
    return " ".join(
        f"{'ABCD'[shuttle]}{layer + 1}" if right else f"({'ABCD'[shuttle]}{layer + 1})"
        for layer, shuttle, right in picks
    )


def two(picks, join, **more):
    closed = join == "closed"
    more = {"wefts": ("sand", "sand"), "pairs": named_pairs(join, 2)} | more
    return Stretch(picks, 2, closed=closed, **more)


# Written down by hand, with a shuttle moved on paper: it goes on where it lies.
@pytest.mark.parametrize(
    ("start", "stretches", "picks"),
    [
        # Fold at the left: right to left above, back below, there and back once more.
        ("right", [two(6, "left")], "A1 (A2) A2 (A1) A1 (A2)"),
        ("left", [two(4, "left")], "(A1) A1 (A2) A2"),
        ("right", [two(4, "tube")], "A1 (A2) A1 (A2)"),
        ("right", [two(4, "none")], "A1 B2 (A1) (B2)"),
        # Cut after the first pick the row is finished below in the next section.
        ("right", [two(1, "left"), two(3, "left")], "A1 (A2) A2 (A1)"),
        # The tube goes on from the side where its shuttle lies, round the same way.
        ("right", [two(3, "tube"), two(3, "tube")], "A1 (A2) A1 (A2) A1 (A2)"),
        # From a tube to two cloths: the shuttle stays with the cloth that it left last, a new one
        # comes to the other. Below it lies at the right, where it came out.
        ("right", [two(4, "tube"), two(4, "none")], "A1 (A2) A1 (A2) B1 A2 (B1) (A2)"),
        ("right", [two(3, "tube"), two(4, "none")], "A1 (A2) A1 (A1) B2 A1 (B2)"),
        # From two cloths to one: the upper cloth's shuttle goes on over the fold.
        ("right", [two(2, "none"), two(4, "left")], "A1 B2 (A2) A2 (A1) A1"),
        # A bag: base, tube, open above.
        (
            "right",
            [two(3, "closed"), two(4, "tube"), two(4, "none")],
            "A0 (A0) A0 (A1) A2 (A1) A2 B1 (A2) (B1) A2",
        ),
        # Two yarns by turns in whole rows of a double width: the other starts above, at its side.
        (
            "right",
            [two(8, "left", order=("sand",) * 4 + ("slate",) * 4)],
            "A1 (A2) A2 (A1) B1 (B2) B2 (B1)",
        ),
        # Layers of their own colours keep their shuttles when they change places.
        (
            "right",
            [
                two(2, "none", wefts=("sand", "slate")),
                two(2, "none", wefts=("sand", "slate"), stack=(1, 0)),
            ],
            "A1 B2 (B2) (A1)",
        ),
        # Also where an order is written: the nearest of the idle shuttles is taken up.
        (
            "right",
            [two(2, "none"), two(2, "none", stack=(1, 0), order=("sand", "sand"))],
            "A1 B2 (B2) (A1)",
        ),
        # Two picks above to one below.
        ("right", [two(6, "none", ratio=(2, 1))], "A1 (A1) B2 A1 (A1) (B2)"),
    ],
)
def test_by_hand(start, stretches, picks):
    assert told(course_of(stretches, start)) == picks


@st.composite
def any_stretches(draw, yarns=("sand", "slate", "moss"), orders=True):
    layers = draw(st.integers(2, 5))
    ratio = draw(st.just(()) | st.tuples(*[st.integers(1, 3)] * layers))
    yarn = st.sampled_from(yarns)
    stretches = []
    for _ in range(draw(st.integers(1, 5))):
        picks = draw(st.integers(1, 20))
        stack = draw(st.permutations(range(layers)).map(tuple))
        kinds = ["none", "left", "right", "closed", "pairs"] + ["tube"] * (layers == 2)
        kind = draw(st.sampled_from(kinds))
        # Folds by name may cross in another stack.
        if kind in ACROSS and layers > 3:
            stack = tuple(range(layers))
        pairs = draw(some_pairs(layers, stack)) if kind == "pairs" else named_pairs(kind, layers)
        order = ()
        if orders and draw(st.booleans()):
            order = draw(st.tuples(*[yarn] * picks))
        wefts = draw(st.tuples(*[yarn] * layers))
        stretches.append(
            Stretch(picks, layers, pairs, kind == "closed", wefts, order, ratio, stack)
        )
    return stretches


@given(any_stretches(), SIDES)
def test_the_course_is_that_of_shuttles_moved_by_hand(stretches, start):
    course = course_of(stretches, start)
    bench = Bench(start)
    for stretch in stretches:
        bench.weave(stretch)
    assert CLOSED == ALL
    assert bench.picks == [
        (layer, shuttle, "right" if right else "left")
        for layer, shuttle, right in zip(
            course.layers.tolist(), course.shuttles.tolist(), course.from_right, strict=True
        )
    ]
    assert course.yarns == tuple(each.yarn for each in bench.shuttles)
    assert set(course.starts) == {start}


@given(any_stretches(), SIDES)
def test_shuttles_go_to_and_fro_and_carry_the_yarn_asked_for(stretches, start):
    course = course_of(stretches, start)
    lies = dict.fromkeys(range(len(course.yarns)), start)
    pick = 0
    for stretch in stretches:
        for place in range(stretch.picks):
            shuttle = int(course.shuttles[pick])
            assert lies[shuttle] == ("right" if course.from_right[pick] else "left")
            lies[shuttle] = ACROSS[lies[shuttle]]
            if stretch.order:
                assert course.yarns[shuttle] == stretch.order[place]
            elif not stretch.pairs and not stretch.closed:
                assert course.yarns[shuttle] == stretch.wefts[course.layers[pick]]
            assert (course.layers[pick] == ALL) == stretch.closed
            pick += 1
    assert len(course.layers) == pick


@given(any_stretches(), SIDES)
def test_visits_count_the_picks_of_a_layer_since_layers_were_woven_together(stretches, start):
    course = course_of(stretches, start)
    spell, pick, seen = 0, 0, Counter()
    for number, stretch in enumerate(stretches):
        for _ in range(stretch.picks):
            layer = int(course.layers[pick])
            assert int(course.visits[pick]) == seen[layer]
            assert int(course.spells[pick]) == spell
            seen[layer] += 1
            pick += 1
        follows = stretches[number + 1] if number + 1 < len(stretches) else None
        # Sections woven together one after another are one cloth.
        if stretch.closed and (follows is None or not follows.closed):
            spell += 1
            seen.clear()


@given(any_stretches(yarns=("sand",), orders=False), SIDES, st.data())
def test_a_section_cut_in_two_is_woven_as_if_it_were_one(stretches, start, data):
    # Shuttle, side and place in the walk carry over. With a pick for each layer in a round (or
    # joined layers) no cut can be seen; the order of the picks of separate cloths begins anew.
    place = data.draw(st.integers(0, len(stretches) - 1))
    one = stretches[place]
    groups = len(one.cloths())
    if not one.closed and groups > 1:
        return
    cut = data.draw(st.integers(0, one.picks))
    fields = one.__dict__
    halves = [Stretch(**(fields | {"picks": part})) for part in (cut, one.picks - cut) if part]
    parted = [*stretches[:place], *halves, *stretches[place + 1 :]]
    whole, cut_up = course_of(stretches, start), course_of(parted, start)
    for name in ("layers", "shuttles", "from_right", "visits", "spells"):
        assert getattr(whole, name).tolist() == getattr(cut_up, name).tolist()


@given(any_stretches(yarns=("sand",), orders=False), SIDES)
def test_within_a_section_the_weft_passes_only_where_layers_are_joined(stretches, start):
    course = course_of(stretches, start)
    first = 0
    for stretch in stretches:
        beyond = stretch.beyond()
        last = {}
        passed = set()
        for pick in range(first, first + stretch.picks):
            shuttle, layer = int(course.shuttles[pick]), int(course.layers[pick])
            if shuttle in last and not stretch.closed:
                before, side = last[shuttle]
                assert beyond.get((before, side), before) == layer
                passed.add((*sorted((before, layer)), side))
            last[shuttle] = layer, "left" if course.from_right[pick] else "right"
        first += stretch.picks
        once = 2 * stretch.layers * max(2, *(stretch.ratio or (1,)))
        if stretch.picks > 2 * once:
            assert {(*sorted((a, b)), side) for a, b, side in stretch.pairs} <= passed


@given(any_stretches(yarns=("sand",), orders=False), SIDES)
def test_joined_layers_are_woven_equally_often(stretches, start):
    for stretch in stretches:
        if not stretch.pairs:
            continue
        picks = round_of_picks(asked(stretch).joins, stretch.ratio)
        counts = Counter(picks)
        assert len(set(counts.values())) == 1
        assert set(counts) == set(range(stretch.layers))
        many = Stretch(**(stretch.__dict__ | {"picks": 3 * len(picks)}))
        course = course_of([many], start)
        assert course.layers.tolist() == course.layers[: len(picks)].tolist() * 3


@given(any_stretches(yarns=("sand",), orders=False), SIDES, st.lists(st.integers(1, 6), min_size=5))
def test_all_comes_again_after_the_repeat_and_not_sooner(stretches, start, cycles):
    stretch = stretches[0]
    cycles = cycles[: stretch.layers]
    joins = asked(stretch).joins
    ratio = stretch.ratio or (1,) * stretch.layers
    repeat = picks_of_repeat(joins, ratio, cycles)
    once = len(round_of_picks(joins, ratio))
    course = course_of([Stretch(**(stretch.__dict__ | {"picks": 3 * repeat}))], start)

    def state(pick):
        layer = int(course.layers[pick])
        shed = 0 if layer == ALL else int(course.visits[pick]) % cycles[layer]
        return layer, shed, int(course.shuttles[pick]), bool(course.from_right[pick])

    states = [state(pick) for pick in range(3 * repeat)]
    assert states[:repeat] * 3 == states
    for shorter in range(once, repeat, once):
        if repeat % shorter == 0:
            assert states[:shorter] * (3 * repeat // shorter) != states


@given(any_stretches(), SIDES)
def test_joints_are_the_turns_between_layers(stretches, start):
    course = course_of(stretches, start)
    found = defaultdict(set)
    by_shuttle = defaultdict(list)
    for pick, shuttle in enumerate(course.shuttles.tolist()):
        by_shuttle[shuttle].append(pick)
    for picks in by_shuttle.values():
        for one, after in pairwise(picks):
            layers = course.layers[[one, after]].tolist()
            if (
                ALL in layers
                or layers[0] == layers[1]
                or course.spells[one] != course.spells[after]
            ):
                continue
            side = "left" if course.from_right[one] else "right"
            visits = sorted(zip(layers, course.visits[[one, after]].tolist(), strict=True))
            (upper, first), (lower, second) = visits
            found[int(course.spells[one]), upper, lower, side].add((first % 4, second % 4))
    got = {}
    for spell in range(int(course.spells[-1]) + 1):
        for joint in joints(course, spell, [4] * stretches[0].layers):
            got[spell, joint.upper, joint.lower, joint.side] = set(joint.visits)
    assert got == dict(found)
    assert path_of(course, "right").passing.sum() >= len(found)


def test_a_name_may_stand_for_the_pairs():
    by_name = CourseSection(4, plan_of(2, "left"), ("sand", "sand"))
    assert follow_sections([by_name], "right").layers.tolist() == [0, 1, 1, 0]
