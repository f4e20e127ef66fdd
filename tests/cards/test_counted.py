"""Counted lists say the same as the sequence they are made from."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.counted import Counting, boxes_for, counted_list, each_run, in_groups
from cards.sequence import Repeat, Run, Sequence
from cards.threading_groups import place_words, threading_groups
from tests.test_sequence import sequences


def written_out(counted):
    """Return the values that someone who works through the list takes, in order."""

    def walk(first, last, depth):
        values, index = [], first
        while index <= last:
            inner = next(
                (b for b in counted.brackets if b.first == index and b.depth == depth), None
            )
            if inner is None:
                for run in counted.lines[index].runs:
                    values.extend([run.value] * run.count)
                index += 1
            else:
                values.extend(walk(inner.first, inner.last, depth + 1) * inner.times)
                index = inner.last + 1
        return values

    return walk(0, len(counted.lines) - 1, 1)


@given(sequences, st.sampled_from([each_run, in_groups(4), in_groups(8)]))
def test_working_through_the_list_gives_the_sequence(sequence, split):
    counted = counted_list(sequence, Counting(split))
    assert written_out(counted) == sequence.values()
    assert counted.total == sequence.length


@given(sequences)
def test_running_totals_are_the_ends_before(sequence):
    counted = counted_list(sequence, Counting(each_run))
    total = 0
    for first, last in counted.blocks():
        bracket = next((b for b in counted.brackets if b.depth == 1 and b.first == first), None)
        if bracket is None:
            assert first == last
            total += counted.lines[first].count
            assert counted.lines[first].so_far == total
        else:
            assert bracket.before == total
            total = bracket.after
    assert total == sequence.length


@given(st.integers(1, 20000), st.integers(1, 500), st.integers(1, 8))
def test_boxes_stand_for_every_repeat_once(times, once, least):
    boxes = boxes_for(times, once, least)
    assert (boxes.number - 1) * boxes.each + boxes.last == times
    assert 1 <= boxes.last <= boxes.each
    assert boxes.number <= 60
    assert boxes.number == 1 or boxes.each * once >= least


def test_brackets_stay_together():
    sequence = Sequence((Run("a", 2), Repeat((Run("b"), Repeat((Run("c"),), 3)), 4), Run("d")))
    counted = counted_list(sequence, Counting(each_run))
    assert counted.blocks() == [(0, 0), (1, 2), (3, 3)]
    assert [(b.first, b.last, b.times, b.depth) for b in counted.brackets] == [
        (1, 2, 4, 1),
        (2, 2, 3, 2),
    ]


def test_an_empty_sequence_has_no_lines():
    assert counted_list(Sequence(()), Counting(each_run)).lines == ()


@pytest.mark.parametrize("most", [1, 4, 8])
def test_groups_are_even(most):
    groups = in_groups(most)([Run(1, 9)])
    sizes = [len(group) for group in groups]
    assert sum(sizes) == 9
    assert max(sizes) <= most
    assert max(sizes) - min(sizes) <= 1


@given(st.integers(1, 6), st.integers(1, 40), st.integers(0, 9), st.integers(0, 5))
def test_the_place_of_an_end_is_where_counting_the_chart_finds_it(once, times, rest, selvedge):
    body = [Repeat(tuple(Run(shaft) for shaft in range(1, once + 1)), times)]
    items = [Run(1) for _ in range(selvedge)] + body + [Run(2) for _ in range(rest)]
    threading = Sequence(tuple(items))
    groups = threading_groups(threading, (selvedge, 0), "right")
    found = []
    for first, last in groups.blocks():
        lines = groups.lines[first : last + 1]
        bracket = next((each for each in groups.brackets if each.first == first), None)
        for repeat in range(bracket.times if bracket else 1):
            for line in lines:
                again = f", repeat {repeat + 1}" if bracket else ""
                found += [f"line {line.number}{again}, end {n + 1}" for n in range(line.count)]
    assert [place_words(groups, end) for end in range(threading.length)] == found
