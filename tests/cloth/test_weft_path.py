import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.cloth.layers import Layer
from cards.cloth.weft_path import (
    Passage,
    ShuttlePlan,
    end_layers,
    follow,
    pick_layers,
    shuttle_plan,
)


def test_a_shuttle_goes_down_at_the_fold_and_back():
    # Double width, fold at the left, started at the right: T B B' T' (common practice, no source).
    path = follow([0, 1, 1, 0] * 2, shuttle_plan([0] * 8, "right"))
    assert path.passages() == (
        Passage(0, 1, "left", 0, 1),
        Passage(2, 3, "left", 1, 0),
        Passage(4, 5, "left", 0, 1),
        Passage(6, 7, "left", 1, 0),
    )
    assert path.passing.tolist() == [True, False, True, False, True, False, True]


def walked(picks, start):
    """Shuttle by shuttle, as a weaver would tell it."""
    lies, last, passages, turns = dict(start), {}, [], 0
    for pick, (layer, shuttle) in enumerate(picks):
        if shuttle in last:
            turns += 1
            before, left = last[shuttle]
            if left != layer:
                passages.append(Passage(before, pick, lies[shuttle], left, layer))
        last[shuttle] = pick, layer
        lies[shuttle] = {"left": "right", "right": "left"}[lies[shuttle]]
    return sorted(passages, key=lambda each: each.pick), turns


@given(
    st.lists(st.tuples(st.integers(0, 3), st.integers(0, 2)), max_size=30),
    st.fixed_dictionaries({shuttle: st.sampled_from(["left", "right"]) for shuttle in range(3)}),
)
def test_every_shuttle_is_followed(picks, start):
    layers, shuttles = [layer for layer, _ in picks], [shuttle for _, shuttle in picks]
    path = follow(layers, shuttle_plan(shuttles, start))
    passages, turns = walked(picks, start)
    assert list(path.passages()) == passages
    assert len(path.before) == turns


def test_layers_of_threads():
    found = (Layer((0, 3), (1,)), Layer((1, 2), (0, 2)))
    assert pick_layers(found).tolist() == [1, 0, 1]
    assert end_layers(found).tolist() == [0, 1, 1, 0]


def test_a_shuttle_that_lies_at_the_other_side_is_named():
    plan = ShuttlePlan(np.array([0, 1, 0]), np.array([True, True, True]))
    with pytest.raises(ValueError, match=r"pick 3 is woven from the right.*\(0\) lies at the left"):
        follow([0, 0, 0], plan)


def test_every_pick_has_a_shuttle():
    with pytest.raises(ValueError, match="2 picks, but the shuttles weave 1"):
        follow([0, 1], shuttle_plan([0], "left"))
