"""The single slip that would explain why a draft almost makes the cloth expected.

Every small change that could be meant is tried on the kinds of threads, and one that leaves no
blemish is an explanation. Of long drafts only the changes at suspicious places are tried: where a
blemish is, at the edges, and where the neighbourhood of a thread is the rarest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import combinations, islice
from typing import Final, NamedTuple

import numpy as np

from cards.cloth.weft_path import Numbers
from cards.draft.blemishes import GRAVE, Blemish, Judge
from cards.draft.regularity import period_of, rarest_first
from cards.draft.slip_kinds import EndSlip, LiftSlip, PickSwap, Slip, TieSlip
from cards.draft.thread_classes import ThreadClasses, classes_of, pick_kinds
from cards.draft.written import Expected, WrittenDraft

# More explanations than this help nobody.
MOST: Final = 6

# Up to so many changes of a sort all are tried; beyond it, those at so many suspicious threads.
ALL_TRIED: Final = 800
SUSPECTS: Final = 24

# So many lifts of a long lift plan are tried, the rarest first.
LIFTS_TRIED: Final = 60


class _Change(NamedTuple):
    """A slip that may have happened, the draft without it, and how many marks were wrong."""

    slip: Slip
    without: ThreadClasses
    marks: int


def find_slips(draft: WrittenDraft, expected: Expected, most: int = MOST) -> tuple[Slip, ...]:
    """Return the single slips that would explain the blemishes of a draft, likeliest first.

    Without a blemish there is nothing to explain. A slip explains them when none is left once it is
    mended. If no slip does that, and the layers or pieces are wrong, those are told that put them
    right and leave the fewest finer blemishes; `blemishes` of the `mended` draft says which. Fewer
    marks changed are likelier, then what leaves the weaves most even. Of several ends those are
    told that bring the threading nearest to its own repeat. Raises ValueError when a shuttle comes
    from a side at which it does not lie.
    """
    threads = classes_of(draft)
    judge = Judge(expected)
    wrong = tuple(judge.blemishes(threads))
    if not wrong:
        return ()
    clean: list[_Change] = []
    partly: list[_Change] = []
    grave = any(blemish.kind in GRAVE for blemish in wrong)
    for change in _changes(draft, threads, wrong):
        left = next(judge.blemishes(change.without), None)
        if left is None:
            clean.append(change)
        elif grave and left.kind not in GRAVE:
            partly.append(change)
    rounds = judge.rounds(threads)
    worst = None if grave else judge.irregularities(threads, rounds)
    found = _best(clean, lambda change: judge.irregularities(change.without, rounds), worst)
    if not found:
        found = _best(partly, lambda change: sum(1 for _ in judge.blemishes(change.without)))
    found = _nearest_to_repeat(found, threads.shaft_of)
    found.sort(key=lambda change: (change.marks, judge.woven(change.without).unevenness))
    return tuple(change.slip for change in found[:most])


def _best(
    changes: list[_Change], measure: Callable[[_Change], int], worst: int | None = None
) -> list[_Change]:
    """Return the changes of which the measure is least, if it is no more than the `worst`."""
    measures = [measure(change) for change in changes]
    least = min(measures, default=0)
    if worst is not None and least > worst:
        return []
    return [change for change, each in zip(changes, measures, strict=True) if each == least]


def _nearest_to_repeat(changes: list[_Change], shafts: Numbers) -> list[_Change]:
    """Return the changes without those of ends that restore less of the threading than others."""
    period = period_of(shafts)

    def restored(slip: EndSlip) -> int:
        beside = (slip.end - period, slip.end + period)
        return sum(0 <= end < len(shafts) and shafts[end] == slip.should_be for end in beside)

    most = max(
        (restored(each.slip) for each in changes if isinstance(each.slip, EndSlip)), default=0
    )
    return [
        each
        for each in changes
        if not isinstance(each.slip, EndSlip) or restored(each.slip) == most
    ]


def _changes(
    draft: WrittenDraft, threads: ThreadClasses, wrong: tuple[Blemish, ...]
) -> Iterator[_Change]:
    """Yield the changes to be tried: none of those that could not touch some of the blemishes."""
    kinds = {blemish.kind for blemish in wrong}
    of_ends = "end order" in kinds or _one_of_a_kind(wrong, "ends alike", threads)
    of_picks = _one_of_a_kind(wrong, "picks alike", threads)
    yield from _end_changes(draft, threads, wrong, new_kinds=of_picks or bool(kinds & GRAVE))
    if of_ends:
        return
    if draft.lifts:
        yield from _lift_changes(draft, threads, wrong)
    elif not of_picks:
        yield from _tie_changes(draft, threads)
    # The same sheds in another order make the same layers.
    if not kinds & {"lone", "layers"}:
        yield from _swaps(threads, wrong)


def _one_of_a_kind(wrong: tuple[Blemish, ...], kind: str, threads: ThreadClasses) -> bool:
    """Whether threads weave alike that are on one shaft, or of one shed, whatever is lifted."""
    of = threads.shaft_of if kind == "ends alike" else threads.kind_of
    places = [each.ends or each.picks for each in wrong if each.kind == kind]
    return any(of[one] == of[two] for one, two in places)


def _end_changes(
    draft: WrittenDraft,
    threads: ThreadClasses,
    wrong: tuple[Blemish, ...],
    *,
    new_kinds: bool,
) -> Iterator[_Change]:
    """Yield ends drawn on another shaft; if `new_kinds`, where a shaft is emptied or begun."""
    drawn_on = np.bincount(threads.shaft_of, minlength=draft.shafts + 1)
    risen = threads.raised.any(axis=0)
    shafts = np.flatnonzero(risen | (drawn_on > 0)).tolist()
    ends: list[int] = list(range(len(draft.threading)))
    if len(ends) * len(shafts) > ALL_TRIED:
        ends = _suspects(
            [end for blemish in wrong for end in blemish.ends],
            rarest_first(threads.shaft_of, going_round=False),
        )
    for end in ends:
        drawn = draft.threading[end]
        for shaft in shafts:
            new_kind = drawn_on[drawn] == 1 or not drawn_on[shaft]
            if shaft != drawn and (new_kind or not new_kinds):
                yield _Change(EndSlip(end, drawn, shaft), threads.rethreaded(end, shaft), 1)


def _tie_changes(draft: WrittenDraft, threads: ThreadClasses) -> Iterator[_Change]:
    pressed = [draft.treadling[pick] for pick in pick_kinds(draft)[1]]
    for treadle in sorted(frozenset().union(*pressed)):
        tied = draft.tie_up[treadle]
        for shaft in sorted({*draft.threading}):
            kinds = [
                kind
                for kind, treadles in enumerate(pressed)
                if treadle in treadles
                and not any(shaft in draft.tie_up[each] for each in treadles - {treadle})
            ]
            if kinds:
                slip = TieSlip(treadle, shaft, shaft in tied)
                yield _Change(slip, threads.flipped(kinds, shaft), 1)


def _lift_changes(
    draft: WrittenDraft, threads: ThreadClasses, wrong: tuple[Blemish, ...]
) -> Iterator[_Change]:
    """Yield wrong lifts: at all picks that have the same lift, and at one of them alone."""
    repeat = threads.kind_of[: threads.repeat]
    counts = np.bincount(repeat)
    shafts = sorted({*draft.threading})
    for kind in np.argsort(counts, kind="stable")[:LIFTS_TRIED].tolist():
        picks = tuple(np.flatnonzero(repeat == kind).tolist())
        for shaft in shafts:
            slip = LiftSlip(picks, shaft, bool(threads.raised[kind, shaft]))
            yield _Change(slip, threads.flipped([kind], shaft), len(picks))
    several = [pick for pick in range(len(repeat)) if counts[repeat[pick]] > 1]
    if len(several) * len(shafts) > ALL_TRIED:
        suspects = _pick_suspects(threads, wrong)
        several = [pick for pick in suspects if counts[repeat[pick]] > 1]
    for pick in several:
        for shaft in shafts:
            slip = LiftSlip((pick,), shaft, bool(threads.raised[repeat[pick], shaft]))
            yield _Change(slip, threads.flipped_at(pick, shaft), 1)


def _swaps(threads: ThreadClasses, wrong: tuple[Blemish, ...]) -> Iterator[_Change]:
    picks = list(range(threads.repeat))
    if len(picks) * (len(picks) - 1) // 2 > ALL_TRIED:
        picks = sorted(_pick_suspects(threads, wrong))
    for one, two in combinations(picks, 2):
        if threads.kind_of[one] != threads.kind_of[two]:
            yield _Change(PickSwap(one, two), threads.swapped(one, two), 2)


def _pick_suspects(threads: ThreadClasses, wrong: tuple[Blemish, ...]) -> list[int]:
    marked = [pick for blemish in wrong for pick in blemish.picks]
    repeat, plan = threads.repeat, threads.plan
    codes = threads.kind_of * 2 + plan.from_right
    codes = codes * (int(plan.shuttles.max(initial=0)) + 1) + plan.shuttles
    again = len(codes) > repeat
    return _suspects(marked, rarest_first(codes[:repeat], going_round=again))


def _suspects(marked: list[int], rarest: Numbers) -> list[int]:
    """Return the threads to be tried: half of them with a blemish, the others in a rare place."""
    chosen = dict.fromkeys(islice(dict.fromkeys(marked), SUSPECTS // 2))
    for thread in rarest.tolist():
        if len(chosen) == SUSPECTS:
            break
        chosen.setdefault(thread)
    return list(chosen)
