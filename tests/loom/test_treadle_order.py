"""The order of treadles held against every order tried, and against published arrangements."""

from fractions import Fraction
from itertools import combinations, pairwise, permutations, product

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.loom.reach import EVERY_SET, least_walk, most_changes, walk
from cards.loom.treadle_order import STYLES, offered_orders, tabby_lifts, treadle_order

TWILL = [(1,), (2,), (3,), (4,)] * 6
# A pattern of which every second pick is tabby, on treadles 5 and 6 in turn.
WITH_TABBY = [(1,), (5,), (2,), (6,), (3,), (5,), (4,), (6,)] * 3

presses = st.lists(
    st.lists(st.integers(1, 6), min_size=1, max_size=2, unique=True).map(tuple), max_size=40
)


def weights(graph):
    return [[int(graph.has_edge(one, other)) for other in sorted(graph)] for one in sorted(graph)]


def random_weights(most):
    def symmetric(count):
        pairs = list(combinations(range(count), 2))
        return st.lists(st.integers(0, 9), min_size=len(pairs), max_size=len(pairs)).map(
            lambda values: filled(count, dict(zip(pairs, values, strict=True)))
        )

    return st.integers(1, most).flatmap(symmetric)


def filled(count, values):
    return [
        [values.get((min(one, other), max(one, other)), 0) for other in range(count)]
        for one in range(count)
    ]


def way(order, picks):
    """Mean way from pick to pick, walked pick by pick."""
    place = {treadle: n for n, treadle in enumerate(order)}
    steps = [
        Fraction(
            sum(abs(place[one] - place[other]) for one, other in product(before, after)),
            len(before) * len(after),
        )
        for before, after in pairwise(picks)
    ]
    return sum(steps, Fraction()) / max(len(steps), 1)


# Minimum linear arrangement, values from memory: path n - 1, cycle 2(n - 1), complete graph
# n(n^2 - 1)/6, star floor(n^2 / 4), hypercube 2^(d-1) (2^d - 1) (Harper, 1964).
@pytest.mark.parametrize(
    ("graph", "least"),
    [
        (nx.path_graph(12), 11),
        (nx.cycle_graph(12), 22),
        (nx.complete_graph(9), 120),
        (nx.star_graph(10), 30),
        (nx.convert_node_labels_to_integers(nx.hypercube_graph(3)), 28),
    ],
)
def test_least_walk_of_known_graphs(graph, least):
    order, sure = least_walk(weights(graph))
    assert sure
    assert sorted(order) == sorted(graph)
    assert walk(order, weights(graph)) == least


@settings(max_examples=40, deadline=None)
@given(random_weights(6))
def test_least_walk_by_trying_every_order(table):
    order, _ = least_walk(table)
    assert walk(order, table) == min(walk(p, table) for p in permutations(range(len(table))))


@settings(max_examples=60, deadline=None)
@given(random_weights(8))
def test_most_changes_by_trying_every_division(table):
    count = len(table)

    def between(left):
        return sum(table[a][b] for a in left for b in range(count) if b not in left)

    every = [set(c) for size in range(count + 1) for c in combinations(range(count), size)]
    left, sure = most_changes(table)
    most = max(map(between, every))
    assert (between(left), sure) == (most, True)
    uneven = min(abs(2 * len(each) - count) for each in every if each and between(each) == most)
    assert abs(2 * len(left) - count) == uneven


def test_more_treadles_than_are_looked_at_in_all_orders():
    ring = nx.cycle_graph(EVERY_SET + 4)
    order, sure = least_walk(weights(ring))
    assert not sure
    assert sorted(order) == sorted(ring)
    assert walk(order, weights(ring)) <= walk(range(len(order)), weights(ring))
    left, sure = most_changes(weights(ring))
    assert not sure
    # An even ring has two colours: every step can change foot.
    assert nx.cut_size(ring, left) == ring.number_of_edges()


def test_straight_twill():
    # Common practice, no source: for treadles 1 2 3 4 in turn the feet alternate from the outside
    # in when they are tied 1 3 4 2, from the middle out when tied 3 1 2 4.
    outside = treadle_order(TWILL, "alternating, outside in")
    middle = treadle_order(TWILL, "alternating, middle out")
    assert (outside.places, outside.left, outside.changes) == ((1, 3, 4, 2), 2, 1)
    assert (middle.places, middle.left, middle.changes) == ((3, 1, 2, 4), 2, 1)
    assert treadle_order(TWILL, "in order of use").changes == Fraction(11, 23)


def test_pattern_with_tabby():
    # Common practice, no source: tabby on one foot, pattern on the other; or tabby outermost.
    apart = treadle_order(WITH_TABBY, "alternating, outside in")
    assert {*apart.places[: apart.left]} in ({5, 6}, {1, 2, 3, 4})
    assert apart.changes == 1
    outside = treadle_order(WITH_TABBY, "tabby outside", tabby=(6, 5))
    assert outside.places == (5, 1, 2, 3, 4, 6)


def test_treadles_pressed_together_belong_to_different_feet():
    order = treadle_order([(1, 2), (3, 4), (1, 4), (2, 3)] * 4, "alternating, outside in")
    left = set(order.places[: order.left])
    assert left in ({1, 3}, {2, 4})
    assert order.changes is None


@settings(max_examples=60, deadline=None)
@given(presses, st.sampled_from(STYLES))
def test_every_style_has_every_treadle_once_and_tells_its_true_reach(picks, style):
    order = treadle_order(picks, style, treadles=(1, 6), tabby=(1, 6))
    assert sorted(order.places) == sorted({1, 6}.union(*picks))
    assert order.reach == way(order.places, picks)
    assert order == treadle_order(list(picks), style, treadles=(1, 6), tabby=(1, 6))
    assert order.right_to_left == order.places[::-1]
    shortest = treadle_order(picks, "shortest reach", treadles=(1, 6))
    assert shortest.best
    assert shortest.reach <= order.reach


@settings(max_examples=25, deadline=None)
@given(presses)
def test_no_order_has_a_shorter_reach(picks):
    picks = [tuple(min(treadle, 5) for treadle in press[:1]) for press in picks]
    order = treadle_order(picks, "shortest reach")
    assert order.reach == min(way(each, picks) for each in permutations(sorted(order.places)))


def test_styles_offered():
    assert [order.style for order in offered_orders(TWILL)] == [
        style for style in STYLES if style != "tabby outside"
    ]
    assert [order.style for order in offered_orders(WITH_TABBY, tabby=(5, 6))] == list(STYLES)
    with pytest.raises(ValueError, match="tabby outside needs"):
        treadle_order(TWILL, "tabby outside")
    with pytest.raises(ValueError, match="tabby outside needs"):
        treadle_order(TWILL, "tabby outside", tabby=(1, 9))


def test_plain_weave_of_a_threading():
    # Trade notes on looms: tabby of a straight draw on four shafts is 13 and 24.
    assert tabby_lifts([1, 2, 3, 4] * 3) == ({1, 3}, {2, 4})
    assert tabby_lifts([1, 2, 3, 2, 1]) == ({1, 3}, {2})
    assert tabby_lifts([1, 2, 3] * 2) is None
    assert tabby_lifts([1]) is None
