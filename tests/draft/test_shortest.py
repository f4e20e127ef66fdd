from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.draft import shortest as module
from cards.draft.shortest import shortest
from cards.sequence import Repeat, Run


def text(items):
    """The tree in the notation of `Sequence`'s own docstring, counts before values."""
    return ", ".join(
        f"({text(item.items)}) x {item.times}"
        if isinstance(item, Repeat)
        else f"{item.count} {item.value}"
        if item.count > 1
        else str(item.value)
        for item in items
    )


def written(items):
    return sum(1 if isinstance(item, Run) else written(item.items) for item in items)


# How weavers group such orders: common practice, no source.
@pytest.mark.parametrize(
    ("values", "wanted"),
    [
        ([], ""),
        (["a"], "a"),
        (["a"] * 5, "5 a"),
        ([1, 2, 3, 4] * 30, "(1, 2, 3, 4) x 30"),
        ([1, 2, 3, 4, 3, 2] * 20 + [1], "(1, 2, 3, 4, 3, 2) x 20, 1"),
        ([1, 2, 3, 4, 3, 2] * 20 + [1, 2, 3], "(1, 2, 3, 4, 3, 2) x 20, 1, 2, 3"),
        ([9] + [1, 2, 3, 4] * 5, "9, (1, 2, 3, 4) x 5"),
        ((["slate"] * 8 + ["sand"] * 2) * 30, "(8 slate, 2 sand) x 30"),
        (
            ["w"] * 24 + ["s", "s", "w", "w"] * 10 + ["w"] * 24,
            "24 w, (2 s, 2 w) x 10, 24 w",
        ),
        (
            (([1, 2] * 4 + [3, 4] * 2) * 5 + [9] * 4) * 7 + [1],
            "(((1, 2) x 4, (3, 4) x 2) x 5, 4 9) x 7, 1",
        ),
        (
            [1, 2] * 30 + ([3, 4] + [1, 2] * 8) * 20 + [1, 2] * 30,
            "(1, 2) x 30, (3, 4, (1, 2) x 8) x 20, (1, 2) x 30",
        ),
        ([1, 2, 1] * 3, "(1, 2, 1) x 3"),
        ([1, 2, 3, 4, 5], "1, 2, 3, 4, 5"),
    ],
)
def test_groups_as_a_weaver_would(values, wanted):
    assert text(shortest(values).items) == wanted


def lists_with_repeats():
    flat = st.lists(st.integers(0, 5), max_size=8)
    return st.recursive(
        flat,
        lambda inner: st.lists(st.tuples(inner, st.integers(1, 5)), max_size=4).map(
            lambda parts: [value for part, times in parts for value in part * times]
        ),
        max_leaves=12,
    ).filter(lambda values: len(values) <= 3000)


@given(lists_with_repeats())
def test_the_values_are_exactly_those_given(values):
    sequence = shortest(values)
    assert sequence.values() == values
    assert written(sequence.items) <= len(values)


@given(st.lists(st.frozensets(st.integers(1, 4)), max_size=40))
def test_any_hashable_value_will_do(values):
    assert shortest(values).values() == values


@given(lists_with_repeats())
def test_no_group_stands_once_or_empty(values):
    def check(items):
        for item in items:
            if isinstance(item, Repeat):
                assert item.times is not None
                assert item.times >= 2
                assert item.items
                check(item.items)
            else:
                assert item.count >= 1

    check(shortest(values).items)


@cache
def fewest(values):
    """The fewest written values, by trying every split and every repeat."""
    if len(set(values)) <= 1:
        return min(len(values), 1)
    splits = (fewest(values[:at]) + fewest(values[at:]) for at in range(1, len(values)))
    units = (
        fewest(values[:period])
        for period in range(1, len(values) // 2 + 1)
        if len(values) % period == 0 and values[:period] * (len(values) // period) == values
    )
    return min((*splits, *units))


def repetitive(rng):
    """A list of at most 24 values, with repeats within repeats and a ragged beginning."""
    values, alphabet = [], rng.integers(2, 5)
    while len(values) < 24:
        unit = [int(rng.integers(alphabet)) for _ in range(rng.integers(1, 6))]
        if rng.random() < 0.5:
            tail = [int(rng.integers(alphabet)) for _ in range(rng.integers(3))]
            unit = unit * rng.integers(1, 4) + tail
        values += unit * rng.integers(1, 4)
    return tuple(values[rng.integers(3) :][:24])


def test_short_lists_are_written_as_short_as_can_be():
    # Against exhaustive search. Measured on 6,000 such lists: every one as short as can be.
    rng = np.random.default_rng(20)
    for _ in range(150):
        values = repetitive(rng)
        assert written(shortest(values).items) == fewest(values), values
        fewest.cache_clear()


def test_telling_places_alone_come_near(monkeypatch):
    # The rule for long groups, forced upon short ones. Measured on 6,000 such lists: 440 longer
    # than need be, the worst by a third.
    monkeypatch.setattr(module, "EVERY_START", 0)
    rng = np.random.default_rng(21)
    ratios = []
    for _ in range(150):
        values = repetitive(rng)
        ratios.append(written(shortest(values).items) / fewest(values))
        fewest.cache_clear()
    assert max(ratios) <= 1.34
    assert sum(ratios) / len(ratios) <= 1.02


def test_an_entangled_list_is_given_up_on_in_time(monkeypatch):
    # A Fibonacci word is about as full of repetitions as a list can be.
    short, values = [0], [0, 1]
    while len(values) < 1500:
        short, values = values, values + short
    patient = shortest(values)
    monkeypatch.setattr(module, "PATIENCE", 500)
    hasty = shortest(values)
    assert hasty.values() == patient.values() == values
    assert written(patient.items) < written(hasty.items) < 300
