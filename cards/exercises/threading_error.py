"""One error in the threading, to be found: the draft is right, and the cloth shows the error.

The error is one end on a wrong shaft, or two neighbours that are crossed. Each that there could be
is tried, and one is taken that shows in the part and that no other error as small explains: every
other change of one end, and of two crossed ends, has been woven and makes another cloth.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from cards.exercises.blanks import no_blanks
from cards.exercises.exercise import Answer, Exercise, Field, Picture
from cards.exercises.fault_words import how_it_looks
from cards.exercises.part import Part
from cards.exercises.seeded import shuffled
from cards.exercises.words import either, nothing_to_ask
from cards.spec import SpecExercise


@dataclass(frozen=True, slots=True)
class ThreadingError:
    """Places of the ends that are threaded wrongly, from 0, and the shafts on which they are."""

    ends: tuple[int, ...]
    shafts: tuple[int, ...]

    def applied(self, threading: tuple[int, ...]) -> tuple[int, ...]:
        """Return a threading with the error in it."""
        wrong = dict(zip(self.ends, self.shafts, strict=True))
        return tuple(wrong.get(end, shaft) for end, shaft in enumerate(threading))


def threading_error_exercise(number: int, wanted: SpecExercise, part: Part, seed: str) -> Exercise:
    """Return an exercise in which an error of the threading is found. Raises CannotExercise."""
    no_blanks(wanted.blanks, "threading error")
    error = _seeded_error(part, seed)
    if error is None:
        raise nothing_to_ask("no single error in the threading of the part would show in the cloth")
    picture = part.picture()
    faulty = part.woven(error.applied(part.threading))
    alike = {end: _alike(part, shaft) for end, shaft in zip(error.ends, error.shafts, strict=True)}
    ambiguous = any(len(shafts) > 1 for shafts in alike.values())
    return Exercise(
        number,
        "threading error",
        "Find the error in the threading",
        wanted.words or (f"{_TASK} {_EITHER}" if ambiguous else _TASK),
        part.words,
        replace(picture, drawdown=Field.given(faulty)),
        len(error.ends),
        Answer(
            _solved(part, picture, error),
            tuple(_remarks(part, error, alike)),
            tuple((end, frozenset(shafts)) for end, shafts in alike.items()),
        ),
        _WRITTEN,
    )


_TASK = (
    "The draft is right, and the cloth below was woven from it. But in threading the loom one "
    "error was made: one end is on a wrong shaft, or two neighbouring ends are crossed. Compare "
    "the cloth with the draft and find it."
)
_EITHER = "Where two shafts would weave the same, either is right."
_WRITTEN = (
    "End ___ is on shaft ___ instead of ___.",
    "If two are crossed: end ___ is on shaft ___ instead of ___.",
    "It looks like this: ___",
)


def errors_of(part: Part) -> Iterator[ThreadingError]:
    """Yield every end on a shaft that is not its own, and every two neighbours crossed."""
    threading = part.threading
    for end, right in enumerate(threading):
        for shaft in sorted(part.threaded - {right}):
            yield ThreadingError((end,), (shaft,))
    for end in range(len(threading) - 1):
        if threading[end] != threading[end + 1]:
            yield ThreadingError((end, end + 1), (threading[end + 1], threading[end]))


def explanations(part: Part, error: ThreadingError) -> tuple[ThreadingError, ...]:
    """Return all errors as small, or smaller, that make the same cloth; those found by weaving."""
    cloth = part.woven(error.applied(part.threading))
    most = len(error.ends)
    return tuple(
        each
        for each in errors_of(part)
        if len(each.ends) <= most and (part.woven(each.applied(part.threading)) == cloth).all()
    )


def _seeded_error(part: Part, seed: str) -> ThreadingError | None:
    """Return an error that shows and has one explanation; the seed says which."""
    for error in shuffled(list(errors_of(part)), seed):
        if (part.woven(error.applied(part.threading)) == part.over).all():
            continue
        found = explanations(part, error)
        if all(each.ends == error.ends for each in found):
            return error
    return None


def _alike(part: Part, shaft: int) -> frozenset[int]:
    """Return the threaded shafts that rise at the same picks as one of them."""
    return frozenset(each for each in part.threaded if part.rising(each) == part.rising(shaft))


def _solved(part: Part, picture: Picture, error: ThreadingError) -> Picture:
    """Return the draft as it was threaded, the wrong ends marked in threading and cloth."""
    threading = np.zeros_like(picture.threading.marks)
    wrong = error.applied(part.threading)
    threading[np.asarray(wrong) - 1, np.arange(len(wrong))] = True
    marked, woven = np.zeros_like(threading), part.woven(wrong)
    marked[:, list(error.ends)] = True
    shown = np.zeros_like(woven)
    shown[:, list(error.ends)] = True
    return replace(picture, threading=Field(threading, marked), drawdown=Field(woven, shown))


def _remarks(part: Part, error: ThreadingError, alike: dict[int, frozenset[int]]) -> Iterator[str]:
    for end in error.ends:
        yield (
            f"End {part.ends[end] + 1}, counted from the first end, is on shaft "
            f"{either(sorted(alike[end]))} instead of {part.threading[end]}."
        )
    if len(error.ends) > 1:
        yield "The two ends are crossed."
    if any(len(shafts) > 1 for shafts in alike.values()):
        yield "Shafts that rise at the same picks cannot be told apart: either is right."
    yield how_it_looks(part, error.applied(part.threading), error.ends)
    yield "The drawing shows the threading as it was made, with the error in black."
