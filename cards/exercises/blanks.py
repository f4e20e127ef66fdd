"""Which cells of an exercise are left blank: as many as are asked for, by the seed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from cards.exercises.exercise import CannotExercise
from cards.exercises.seeded import shuffled

T = TypeVar("T")


def chosen_blanks(cells: Sequence[T], wanted: int | None, seed: str, where: str) -> list[T]:
    """Return the cells to leave blank, in their own order: all of them if no number is `wanted`.

    `where` says in words what has the cells. Raises CannotExercise when more are wanted than there
    are.
    """
    if wanted is None:
        return list(cells)
    if wanted > len(cells):
        many = f"{len(cells)} cell{'' if len(cells) == 1 else 's'}"
        raise CannotExercise(
            "error",
            "more-blanks-than-cells",
            f"the exercise asks for {wanted} blanks; {where} has {many}",
            f"write {len(cells)} at most, or leave `blanks` out for all of them",
            "blanks",
        )
    kept = set(shuffled(range(len(cells)), seed)[:wanted])
    return [cell for place, cell in enumerate(cells) if place in kept]


def no_blanks(wanted: int | None, kind: str) -> None:
    """Raise CannotExercise where blanks are counted in an exercise that has none to count."""
    if wanted is not None:
        raise CannotExercise(
            "error",
            "no-blanks-to-count",
            f"`blanks` says nothing of an exercise '{kind}'",
            "leave `blanks` out",
            "blanks",
        )
