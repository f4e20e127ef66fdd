"""What an exercise is: a task, what is given, what is asked, and its answer.

Threads are counted from 0 in the order in which they are threaded and woven; nothing is turned.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cards.draft_sheet import Ties
from cards.project.model import ProjectYarn
from cards.spec import Level

Marks = NDArray[np.bool_]


class CannotExercise(ValueError):  # noqa: N818 -- it names what is wrong
    """Raised for an exercise that cannot be made.

    `level` and `code` are those of a finding, `mend` says what to do, `path` is where it stands
    within the exercise of the spec.
    """

    def __init__(
        self, level: Level, code: str, message: str, mend: str, *path: str, offset: int = 0
    ) -> None:
        super().__init__(message)
        self.level, self.code, self.message, self.mend = level, code, message, mend
        self.path, self.offset = path, offset


@dataclass(frozen=True, eq=False, slots=True)
class Field:
    """One field of a drawn draft: where marks stand, and which cells are asked; same shapes.

    What a student sees has no mark on any cell that is asked. `crosses` are the shafts that sink
    in a tie-up that shows both ways.
    """

    marks: Marks
    asked: Marks
    crosses: Marks | None = None

    @classmethod
    def given(cls, marks: Marks, crosses: Marks | None = None) -> Field:
        """Return a field in which nothing is asked."""
        return cls(marks, np.zeros_like(marks), crosses)

    def blanked(self) -> Field:
        """Return the field without the marks on the cells that are asked."""
        crosses = None if self.crosses is None else self.crosses & ~self.asked
        return Field(self.marks & ~self.asked, self.asked, crosses)


@dataclass(frozen=True, eq=False, slots=True)
class ShownDraft:
    """A part of a draft as it is drawn.

    `threading` has shape (shafts, ends), `tie_up` (shafts, columns), `treadling` (picks, columns),
    `drawdown` (picks, ends); `tie_up` is None for a lift plan, whose columns are shafts. `ties`
    says what a mark of the tie-up does. `columns` are the numbers of the treadles or shafts.
    `warp` and `weft` are the yarns where colours are shown; `coloured` shows the cloth in them.
    """

    ends: tuple[int, ...]
    picks: tuple[int, ...]
    columns: tuple[int, ...]
    threading: Field
    tie_up: Field | None
    treadling: Field
    drawdown: Field
    ties: Ties = "rise"
    warp: tuple[ProjectYarn, ...] = ()
    weft: tuple[ProjectYarn, ...] = ()
    coloured: bool = False

    @property
    def shafts(self) -> int:
        """How many shafts are drawn."""
        return int(self.threading.marks.shape[0])

    @property
    def by_treadle(self) -> bool:
        """Whether treadles are pressed; else shafts are raised one by one."""
        return self.tie_up is not None


@dataclass(frozen=True, slots=True)
class Sum:
    """One line of a calculation: what is sought, by what formula, in figures, and its result.

    `result` is empty where the student finds it; `unit` stands behind the blank. `used` is what is
    used from there on where that is rounded. A figure that another line gives is named by it.
    """

    number: int
    name: str
    formula: str
    figures: str
    result: str
    unit: str
    used: str = ""


@dataclass(frozen=True, slots=True)
class Sums:
    """A calculation: its lines in order, and the numbers of those whose results are asked."""

    lines: tuple[Sum, ...]
    asked: tuple[int, ...]


@dataclass(frozen=True, eq=False, slots=True)
class Answer:
    """What the answer sheet says: the same drawing filled in, and remarks.

    `right` has for every blank, named by its place, all that is right in it.
    """

    shown: ShownDraft | Sums
    remarks: tuple[str, ...] = ()
    right: tuple[tuple[Hashable, frozenset[Hashable]], ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class Exercise:
    """An exercise; `given` has nothing of the answer, and `blanks` says how many cells are asked.

    `number` is its place in the spec, from 1; `part` says in words what of the draft is shown.
    `written` are sentences with gaps, `___`, in which an answer is written that has no cells.
    """

    number: int
    kind: str
    title: str
    task: str
    part: str
    given: ShownDraft | Sums
    blanks: int
    answer: Answer
    written: tuple[str, ...] = ()
