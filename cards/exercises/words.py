"""Words that exercises share."""

from __future__ import annotations

from collections.abc import Iterable

from cards.exercises.exercise import CannotExercise
from cards.spec.words import in_words


def listed(numbers: Iterable[int]) -> str:
    """Return numbers as a sentence has them, those that follow one another as a span.

    >>> listed([1, 2, 3, 5, 7])
    '1 to 3, 5 and 7'
    """
    spans: list[list[int]] = []
    for number in numbers:
        if spans and spans[-1][1] == number - 1:
            spans[-1][1] = number
        else:
            spans.append([number, number])
    words: list[str] = []
    for first, last in spans:
        if last - first > 1:
            words.append(f"{first} to {last}")
        else:
            words += [str(first), str(last)][: last - first + 1]
    return in_words(words, "and")


def either(numbers: Iterable[int]) -> str:
    """Return what is right where several are: `1 or 3`."""
    return in_words((str(number) for number in numbers), "or")


def nothing_to_ask(why: str) -> CannotExercise:
    """Return what to raise where a draft gives nothing to exercise: it is left out."""
    mend = "the exercise is left out; ask for another, or for another part of the draft"
    return CannotExercise("warning", "nothing-to-exercise", why, mend, "exercise")
