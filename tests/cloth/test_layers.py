import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.cloth.layers import Layer, layers


def over_and_under(drawdown):
    """The tournament as a graph: an arrow from the upper thread to the lower."""
    graph = nx.DiGraph()
    picks, ends = drawdown.shape
    graph.add_nodes_from(("end", end) for end in range(ends))
    graph.add_nodes_from(("pick", pick) for pick in range(picks))
    for pick in range(picks):
        for end in range(ends):
            pair = ("end", end), ("pick", pick)
            graph.add_edge(*(pair if drawdown[pick, end] else pair[::-1]))
    return graph


def threads(layer):
    return {("end", end) for end in layer.ends} | {("pick", pick) for pick in layer.picks}


def assert_as_networkx_says(drawdown):
    found = layers(drawdown)
    graph = over_and_under(drawdown)
    wanted = {frozenset(part) for part in nx.strongly_connected_components(graph)}
    assert len(found) == len(wanted)
    assert {frozenset(threads(layer)) for layer in found} == wanted
    height = {thread: place for place, layer in enumerate(found) for thread in threads(layer)}
    assert all(height[upper] <= height[lower] for upper, lower in graph.edges)


def test_random_drawdowns_against_networkx():
    rng = np.random.default_rng(7)
    for _ in range(1500):
        shape = rng.integers(1, 9, size=2)
        assert_as_networkx_says(rng.random(shape) < rng.choice([0.1, 0.3, 0.5, 0.7, 0.95]))


def stacked(rng, cloths):
    """Cloths one above another, their ends and picks shuffled among each other."""
    picks, ends = (sum(each.shape[axis] for each in cloths) for axis in (0, 1))
    whole = np.zeros((picks, ends), dtype=bool)
    pick = end = 0
    for cloth in cloths:
        below, beside = pick + cloth.shape[0], end + cloth.shape[1]
        whole[pick:below, end:beside] = cloth
        whole[below:, end:beside] = True  # its ends lie over every pick further down
        pick, end = below, beside
    return whole[rng.permutation(picks)][:, rng.permutation(ends)]


def test_stacks_of_cloths_against_networkx():
    rng = np.random.default_rng(8)
    for _ in range(1500):
        cloths = [rng.random(rng.integers(1, 5, size=2)) < 0.5 for _ in range(rng.integers(1, 5))]
        assert_as_networkx_says(stacked(rng, cloths))


@given(st.integers(1, 6), st.integers(2, 6), st.integers(0, 2**32 - 1))
def test_plain_cloths_one_above_another_are_found(count, size, seed):
    plain = np.indices((size, size)).sum(axis=0) % 2 == 0
    found = layers(stacked(np.random.default_rng(seed), [plain] * count))
    assert [(len(each.ends), len(each.picks)) for each in found] == [(size, size)] * count


def test_threads_that_never_interlace_stand_alone_in_their_order():
    # Pick 1 lies under everything, ends 0 and 2 float over everything.
    assert layers(np.array([[1, 0, 1], [1, 1, 1]], dtype=bool)) == (
        Layer((0,), ()),
        Layer((2,), ()),
        Layer((), (0,)),
        Layer((1,), ()),
        Layer((), (1,)),
    )


@pytest.mark.parametrize(("shape", "count"), [((0, 0), 0), ((0, 3), 3), ((2, 0), 2)])
def test_threads_without_any_crossing_stand_alone(shape, count):
    assert len(layers(np.zeros(shape, dtype=bool))) == count


def test_a_drawdown_has_two_dimensions():
    with pytest.raises(ValueError, match="not 1 dimensions"):
        layers(np.zeros(4, dtype=bool))
