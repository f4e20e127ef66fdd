import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from cards.draft.repetitions import Repetition, repetitions


def smallest_period(values):
    return next(
        period
        for period in range(1, len(values) + 1)
        if all(values[at] == values[at - period] for at in range(period, len(values)))
    )


def by_definition(values):
    """Every maximal repetition, straight from its definition."""
    found = set()
    for start in range(len(values)):
        for stop in range(start + 2, len(values) + 1):
            period = smallest_period(values[start:stop])
            if stop - start < 2 * period:
                continue
            longer_left = start > 0 and values[start - 1] == values[start - 1 + period]
            longer_right = stop < len(values) and values[stop] == values[stop - period]
            if not (longer_left or longer_right):
                found.add(Repetition(start, stop, period))
    return found


@given(st.lists(st.integers(0, 2), max_size=24))
def test_found_as_defined(values):
    found = repetitions(np.array(values, dtype=np.uint8))
    assert set(found) == by_definition(values)
    assert len(found) == len(set(found))
    assert [each.period for each in found] == sorted(each.period for each in found)


def test_fibonacci_word_has_the_published_number():
    # R. Kolpakov, G. Kucherov, On maximal repetitions in words, J. Discrete Algorithms 1 (2000)
    # 159-186: the n-th Fibonacci word (of length F(n)) has 2 F(n - 2) - 3 of them. From memory.
    lengths, words = [1, 2], [[0], [0, 1]]
    while len(words) < 16:
        words.append(words[-1] + words[-2])
        lengths.append(lengths[-1] + lengths[-2])
    for n in range(5, 16):
        assert len(repetitions(np.array(words[n], dtype=np.uint8))) == 2 * lengths[n - 2] - 3
