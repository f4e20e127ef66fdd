"""Plans of joins: what every pair or name comes to, and what makes no cloth."""

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.draft.join_plan import Group, JoinError, closed_plan, plan_of, plan_of_pairs
from tests.bench_by_hand import ACROSS, named_pairs, some_pairs


@pytest.mark.parametrize(
    ("layers", "join", "groups"),
    [
        (2, "none", [Group((0,)), Group((1,))]),
        (2, "left", [Group((0, 1), ("left",))]),
        (2, "right", [Group((0, 1), ("right",))]),
        # From the left the shuttle of a tube would go down at the right: a ring has no beginning.
        (2, "tube", [Group((0, 1), ("left", "right"))]),
        (4, "right", [Group((0, 1, 2, 3), ("right", "left", "right"))]),
        (3, "none", [Group((0,)), Group((1,)), Group((2,))]),
    ],
)
def test_names(layers, join, groups):
    assert list(plan_of(layers, join).groups) == groups


@pytest.mark.parametrize(
    ("pairs", "stack", "groups"),
    [
        # A tube above a flat cloth of two widths.
        (
            [(0, 1, "left"), (0, 1, "right"), (2, 3, "right")],
            None,
            [Group((0, 1), ("left", "right")), Group((2, 3), ("right",))],
        ),
        # A tube round a flat cloth: its joins lie above and below those of the cloth within.
        (
            [(0, 3, "left"), (0, 3, "right"), (1, 2, "left")],
            None,
            [Group((0, 3), ("left", "right")), Group((1, 2), ("left",))],
        ),
        # A tube of four layers, folded flat twice.
        (
            [(0, 1, "left"), (1, 2, "right"), (2, 3, "left"), (3, 0, "right")],
            None,
            [Group((0, 1, 2, 3), ("left", "right", "left", "right"))],
        ),
        # Joined in the middle, the row is walked from the upper of its open edges.
        (
            [(1, 0, "right"), (1, 2, "left")],
            None,
            [Group((0, 1, 2), ("right", "left"))],
        ),
        # Layer 3 on top: the row begins with it, and the cloth of the top layer comes first.
        (
            [(0, 1, "left"), (1, 2, "right")],
            (2, 1, 0),
            [Group((2, 1, 0), ("right", "left"))],
        ),
        ([(0, 1, "left")], (2, 0, 1), [Group((2,)), Group((0, 1), ("left",))]),
        # One join written twice is one join.
        ([(0, 1, "left"), (1, 0, "left")], None, [Group((0, 1), ("left",))]),
    ],
)
def test_pairs(pairs, stack, groups):
    layers = 1 + max(max(one, two) for one, two, _ in pairs)
    assert list(plan_of_pairs(max(layers, len(stack or ())), pairs, stack).groups) == groups


@pytest.mark.parametrize(
    ("layers", "pairs", "why"),
    [
        (
            3,
            [(0, 1, "left"), (0, 2, "left")],
            "the left edge of layer 1 is joined to layers 2 and 3",
        ),
        (
            3,
            [(0, 1, "left"), (1, 2, "right"), (2, 0, "left")],
            "the left edge of layer 1 is joined to layers 2 and 3",
        ),
        (2, [(1, 1, "right")], "layer 2 is joined to itself"),
        (2, [(0, 2, "right")], "there is no layer 3"),
        (2, [(-1, 0, "right")], "there is no layer 0"),
        (
            4,
            [(0, 2, "left"), (1, 3, "left")],
            (
                "the folds of layers 1 and 3 and of layers 2 and 4 cross at the left, "
                "so their wefts would lock"
            ),
        ),
    ],
)
def test_what_makes_no_cloth(layers, pairs, why):
    with pytest.raises(JoinError) as refused:
        plan_of_pairs(layers, pairs)
    assert refused.value.why == why
    assert refused.value.mend


def test_folds_cross_by_the_place_of_the_layers_not_by_their_number():
    pairs = [(0, 1, "left"), (2, 3, "left")]
    assert len(plan_of_pairs(4, pairs).groups) == 2
    with pytest.raises(JoinError, match="cross at the left"):
        plan_of_pairs(4, pairs, (0, 2, 1, 3))
    # At different sides nothing crosses.
    assert len(plan_of_pairs(4, [(0, 2, "left"), (1, 3, "right")]).groups) == 2


def test_a_tube_of_three_is_refused():
    with pytest.raises(JoinError, match="a tube of 3 layers"):
        plan_of(3, "tube")


@given(st.data(), st.integers(2, 8))
def test_groups_are_the_connected_layers_and_their_folds_the_pairs(data, layers):
    # networkx finds what is joined; the folds of all groups are the pairs, each once.
    stack = data.draw(st.permutations(range(layers)).map(tuple))
    pairs = data.draw(some_pairs(layers, stack))
    plan = plan_of_pairs(layers, pairs, stack)
    graph = nx.Graph([(one, two) for one, two, _ in pairs])
    graph.add_nodes_from(range(layers))
    assert {frozenset(group.layers) for group in plan.groups} == {
        frozenset(each) for each in nx.connected_components(graph)
    }
    folds = []
    for group in plan.groups:
        around = group.layers[1:] + group.layers[:1]
        for one, two, side in zip(group.layers, around, group.folds, strict=False):
            folds.append((*sorted((one, two)), side))
        for one, two in zip(group.folds, group.folds[1:], strict=False):
            assert two == ACROSS[one]
        assert group.ring == (len(group.folds) == len(group.layers))
        assert len(group.folds) - len(group.layers) in {0, -1}
    assert sorted(folds) == sorted((*sorted((one, two)), side) for one, two, side in pairs)
    tops = [min(map(stack.index, group.layers)) for group in plan.groups]
    assert tops == sorted(tops)
    assert plan.joined == bool(pairs)


@given(st.integers(2, 8), st.sampled_from(["none", "left", "right"]))
def test_a_name_is_its_pairs(layers, join):
    assert plan_of(layers, join) == plan_of_pairs(layers, named_pairs(join, layers))


def test_only_one_tube_is_a_tube():
    two = [(0, 1, "left"), (0, 1, "right"), (2, 3, "left"), (2, 3, "right")]
    assert plan_of(2, "tube").tube
    assert not plan_of_pairs(4, two).tube
    assert not plan_of(2, "left").tube
    assert plan_of(5, "left").turned == {1, 3}
    assert closed_plan(3).closed
    assert not closed_plan(3).joined
