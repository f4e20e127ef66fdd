"""A draft reduced to its kinds of threads, so that a changed draft is judged without a drawdown.

Ends on one shaft behave alike, and so do picks with one shed; a cloth of millions of crossings has
a few dozen kinds. Of the picks only a stretch is kept that shows every turn of every shuttle.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from cards.cloth.weft_path import Flags, Numbers, ShuttlePlan, follow
from cards.draft.written import WrittenDraft

Cells = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class ThreadClasses:
    """The kinds of ends (their shafts) and of picks (their sheds), and where each thread is.

    `shaft_of`, shape (ends,). `raised`, bool, shape (kinds of picks, shafts + 1): whether a kind
    raises a shaft; column 0 is idle. `kind_of`, shape (picks,): the kind of every pick kept.
    `before`, `after`, `at_right`, shape (turns,): the picks at each turn of a shuttle, and its
    side. `repeat` is how many of the picks kept make one repeat of the treadling.
    """

    shaft_of: Numbers
    raised: Cells
    kind_of: Numbers
    plan: ShuttlePlan
    before: Numbers
    after: Numbers
    at_right: Flags
    repeat: int

    def rethreaded(self, end: int, shaft: int) -> ThreadClasses:
        """Return the draft with one end on another shaft."""
        shafts = self.shaft_of.copy()
        shafts[end] = shaft
        return replace(self, shaft_of=shafts)

    def flipped(self, kinds: Iterable[int] | Numbers, shaft: int) -> ThreadClasses:
        """Return the draft with a shaft raised where some kinds of picks leave it, and so back."""
        raised = self.raised.copy()
        rows = np.asarray(kinds, dtype=np.intp)
        raised[rows, shaft] ^= True
        return replace(self, raised=raised)

    def flipped_at(self, pick: int, shaft: int) -> ThreadClasses:
        """Return the draft with a shaft raised or left at one pick of the repeat alone."""
        row = self.raised[self.kind_of[pick]].copy()
        row[shaft] ^= True
        kinds = self.kind_of.copy()
        kinds[pick :: self.repeat] = len(self.raised)
        return replace(self, raised=np.concatenate((self.raised, row[np.newaxis])), kind_of=kinds)

    def swapped(self, one: int, two: int) -> ThreadClasses:
        """Return the draft with two picks of the repeat in each other's place."""
        kinds = self.kind_of.copy()
        # The stretch kept may end within a repeat.
        for here, there in ((one, two), (two, one)):
            kinds[here :: self.repeat] = self.kind_of[there]
        return replace(self, kind_of=kinds)


def classes_of(draft: WrittenDraft) -> ThreadClasses:
    """Return the kinds of threads of a draft.

    Raises ValueError when a shuttle comes from a side at which it does not lie.
    """
    kind_of, kinds = pick_kinds(draft)
    raised = np.zeros((len(kinds), draft.shafts + 1), dtype=np.bool_)
    sheds = draft.sheds
    for kind, pick in enumerate(kinds):
        raised[kind, list(sheds[pick])] = True
    plan = draft.plan
    repeat = draft.repeat
    whole = kind_of[np.arange(len(plan.shuttles)) % repeat]
    kept = _stretch(whole, plan, repeat)
    plan = ShuttlePlan(plan.shuttles[:kept], plan.from_right[:kept], plan.first_end)
    path = follow(np.zeros(kept, dtype=np.intp), plan)
    return ThreadClasses(
        np.array(draft.threading, dtype=np.intp),
        raised,
        whole[:kept],
        plan,
        path.before,
        path.after,
        path.at_right,
        repeat,
    )


def pick_kinds(draft: WrittenDraft) -> tuple[Numbers, tuple[int, ...]]:
    """Return the kind of each pick of the repeat, and the first pick of each kind.

    Picks are of one kind when the same treadles are pressed, or without treadles the same shafts
    raised.
    """
    known: dict[frozenset[int], int] = {}
    firsts = []
    kinds = np.empty(draft.repeat, dtype=np.intp)
    for pick, pressed in enumerate(draft.lifts or draft.treadling):
        if pressed not in known:
            known[pressed] = len(known)
            firsts.append(pick)
        kinds[pick] = known[pressed]
    return kinds, tuple(firsts)


def _stretch(kinds: Numbers, plan: ShuttlePlan, repeat: int) -> int:
    """Return how many picks show every turn: two repeats of sheds and shuttles together, or all."""
    picks = len(kinds)
    for period in range(repeat, picks // 2 + 1, repeat):
        if all(
            np.array_equal(each[period:], each[:-period])
            for each in (kinds, plan.shuttles, plan.from_right)
        ):
            return 2 * period
    return picks
