"""Dents laid out one by one, edges included, against what a person with a reed would do."""

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from cards.calculation.dents import PLAIN, Edge, doubled_edge, mean_of, opened_edge, shortest
from cards.calculation.first_dent import checks_of, empty_dents, first_dent
from cards.calculation.sley import pattern_for, sley

PATTERNS = st.lists(st.integers(0, 6), min_size=1, max_size=8).map(tuple).filter(any)
ENDS = st.integers(1, 3000)


def edges_of(pattern):
    doubled = st.integers(0, 12).map(lambda ends: doubled_edge(pattern, ends))
    opened = st.builds(lambda dents, whole: opened_edge(pattern, dents, whole), st.integers(0, 8),
                       st.integers(1, 3))  # fmt: skip
    return st.tuples(doubled | opened, doubled | opened)


def laid(pattern, ends, edges):
    return sley(Fraction(1), Fraction(1), ends, pattern=pattern, edges=edges)


@given(st.data(), PATTERNS, ENDS)
def test_every_end_lies_in_a_dent(data, pattern, ends):
    made = laid(pattern, ends, data.draw(edges_of(pattern)))
    per_dent = made.per_dent()
    assert len(per_dent) == made.dents
    assert sum(per_dent) == ends
    # The first end lies in the first dent and the last in the last.
    assert per_dent[0] > 0
    assert per_dent[-1] > 0
    assert [each for run in made.runs() for each in [run[0]] * run[1]] == list(per_dent)


@given(st.data(), PATTERNS, ENDS)
def test_the_body_follows_its_pattern_end_by_end(data, pattern, ends):
    """Draw ends through dent after dent as a weaver does, and stop when none is left."""
    made = laid(pattern, ends, data.draw(edges_of(pattern)))
    left = ends - made.first.ends - made.last.ends
    body, place = [], made.body.start
    while left:
        taken = min(left, pattern[place % len(pattern)])
        body.append(taken)
        left -= taken
        place += 1
    inner = made.per_dent()[len(made.first.dents) : made.dents - len(made.last.dents)]
    filled = inner[: len(inner) - made.body.empty]
    assert list(filled) == body
    assert set(inner[len(filled) :]) <= {0}
    # The dent that is short is told.
    short = bool(body) and body[-1] != pattern[(place - 1) % len(pattern)]
    assert made.remainder == (body[-1] if short else 0)


@given(st.floats(0.1, 20), st.floats(0.1, 4), st.integers(20, 2000), st.integers(1, 4))
def test_the_spread_is_even(sett, reed, ends, multiple):
    # Balanced words, from combinatorics on words: any two stretches of as many dents hold nearly
    # the same, here to one step.
    pattern = pattern_for(sett, reed, multiple)
    body = sley(sett, reed, ends, multiple).per_dent()[:-1]
    assert max(pattern) - min(pattern) in (0, multiple)
    for length in range(1, min(12, len(body))):
        sums = [sum(body[at : at + length]) for at in range(len(body) - length + 1)]
        assert max(sums) - min(sums) <= multiple


@given(st.data(), PATTERNS, st.integers(40, 900))
def test_both_edges_are_alike(data, pattern, ends):
    edge, _ = data.draw(edges_of(pattern))
    assume(edge.ends * 2 < ends)
    per_dent = laid(pattern, ends, (edge, edge)).per_dent()
    many = len(edge.dents)
    assert per_dent[:many] == edge.dents
    assert per_dent[len(per_dent) - many :][::-1] == edge.dents


# Four ends at each open edge at twice the density: common practice, no source.
@pytest.mark.parametrize(
    ("pattern", "dents"),
    [((1,), (2, 2)), ((2,), (4,)), ((0, 1), (1, 1, 1, 1)), ((1, 1, 2), (2, 2))],
)
def test_doubled_selvedges(pattern, dents):
    assert doubled_edge(pattern, 4).dents == dents


def test_doubled_selvedges_are_twice_as_close_where_dents_allow_it():
    for pattern in ((1,), (2,), (3,), (1, 2), (2, 3)):
        ends = 4 * sum(pattern) * len(pattern)
        edge = doubled_edge(pattern, ends)
        assert Fraction(ends, len(edge.dents)) == 2 * mean_of(pattern)


# One end fewer in the last four dents, or one dent skipped: from memory, no source.
@pytest.mark.parametrize(
    ("pattern", "whole", "dents"),
    [
        ((2,), 1, (1, 1, 1, 1)),
        ((3,), 3, (2, 2, 2, 2)),
        ((4,), 2, (2, 2, 2, 2)),
        ((2, 4), 2, (2, 2, 2, 2)),
        ((1, 2), 1, (1, 1, 1, 1)),
        ((1,), 1, (1, 0)),
        ((0, 1), 2, (1, 0)),
    ],
)
def test_dents_opened_at_a_fold(pattern, whole, dents):
    assert opened_edge(pattern, 4, whole).dents == dents


def test_no_edge_at_all():
    assert doubled_edge((2,), 0) == opened_edge((2,), 0) == PLAIN == Edge()


def test_a_warp_narrower_than_its_edges():
    edge = opened_edge((2,), 4)
    assert laid((2,), 3, (edge, edge)).per_dent() == (1, 1, 1)
    assert laid((2,), 1, (edge, edge)).per_dent() == (1,)


@given(PATTERNS, st.integers(1, 5))
def test_a_pattern_written_several_times_is_one(pattern, times):
    assert shortest(pattern * times) == shortest(pattern)


@given(st.integers(1, 400), st.integers(0, 200), st.fractions(Fraction(1, 100), 6))
def test_the_first_dent_by_counting_in_a_reed(dents, beside, reed):
    """Lay the warp into a reed of numbered dents, and count from its middle with a finger."""
    there = dents + 2 * beside
    held = list(range(beside, beside + dents))
    wires = [wire / reed for wire in range(there + 1)]
    found = first_dent(dents, reed)
    if there % 2 == 0:
        assert found.middle == "wire"
        counted = list(range(there // 2, held[-1] + 1))
    else:
        assert found.middle == "dent"
        counted = list(range(there // 2 + 1, held[-1] + 1))
    assert found.count == len(counted)
    outer = wires[held[-1] + 1]
    assert found.edge_mm == pytest.approx(float(outer - wires[-1] / 2))
    assert empty_dents(dents, reed, float(wires[-1])) == (beside, beside)


def test_dents_left_empty():
    assert empty_dents(10, Fraction(1), 15.0) == (2, 3)
    assert empty_dents(10, Fraction(1), 15.999) == (2, 3)
    assert empty_dents(10, Fraction(1), 9.9) is None
    # 90 cm of a reed of 40 in 10 cm are 360 dents, though 0.4 is no exact number.
    assert empty_dents(360, Fraction(2, 5), 900.0) == (0, 0)


@given(PATTERNS, ENDS)
def test_counts_to_be_checked(pattern, ends):
    made = laid(pattern, ends, (PLAIN, PLAIN))
    checks = checks_of(made)
    per_dent = made.per_dent()
    assert [check.share for check in checks] == [Fraction(n, 4) for n in (1, 2, 3, 4)]
    assert (checks[-1].dents, checks[-1].ends) == (made.dents, ends)
    for check in checks:
        assert check.ends == sum(per_dent[: check.dents])
        assert 0 <= check.dents - check.share * made.dents < 1


@given(st.data(), PATTERNS, st.integers(100, 900), st.fractions(Fraction(1, 10), 5))
def test_widths(data, pattern, ends, reed):
    edges = data.draw(edges_of(pattern))
    made = sley(Fraction(1), reed, ends, pattern=pattern, edges=edges)
    assert made.width_mm == pytest.approx(float(made.dents / reed))
    true = mean_of(pattern) * reed
    even = float(ends / true)
    if all(edge.kind != "doubled" for edge in (made.first, made.last)):
        # What is opened at a fold closes in the cloth.
        assert made.cloth_width_mm == pytest.approx(even)
    assert made.width_error == pytest.approx(made.width_mm / ends - 1)
