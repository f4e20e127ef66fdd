"""Checks of the draft against the loom and against itself: shafts, treadles, sheds.

A shed is open when some of the threaded shafts are up and some are down.
"""

from __future__ import annotations

from collections.abc import Iterator

from cards.sequence import Sequence
from cards.spec.layer_checks import (
    check_built,
    check_circumference,
    check_expected,
    check_not_built,
)
from cards.spec.models import Draft
from cards.spec.parts import Parts, Path
from cards.spec.quoting import shortened
from cards.spec.sequences import MOST_SHAFTS
from cards.spec.shaft_checks import check_shafts
from cards.spec.words import in_words

Picks = Sequence[frozenset[int]]


def check_draft(parts: Parts) -> None:
    """Note every finding about the draft, the sections' own treadlings and the selvedges."""
    check_circumference(parts)
    check_expected(parts)
    draft = parts.draft
    if draft is None:
        return
    if draft.double_weave is not None:
        check_built(parts, draft, draft.double_weave)
        return
    check_not_built(parts, draft)
    if draft.threading is None:
        return
    check_shafts(parts, draft)
    _check_plan(parts, draft)
    _check_ties(parts, draft)
    _check_sheds(parts, draft)
    _check_unused(parts, draft)


def _threaded_by(draft: Draft) -> Sequence[int]:
    """Return the threading of a draft that is written out; nothing in one that is to be built."""
    return draft.threading or Sequence(())


def _treadlings(parts: Parts, draft: Draft) -> Iterator[tuple[Path, Picks]]:
    """Every treadling with its path: the draft's, then those of the sections."""
    if draft.treadling is not None:
        yield ("draft", "treadling"), draft.treadling
    for position, section in enumerate(parts.weave):
        if section.treadling is not None:
            yield ("weave", position, "treadling"), section.treadling


def _lifts(parts: Parts, draft: Draft) -> Iterator[tuple[Path, Picks]]:
    if draft.lifts is not None:
        yield ("draft", "lifts"), draft.lifts
    for position, section in enumerate(parts.weave):
        if section.lifts is not None:
            yield ("weave", position, "lifts"), section.lifts


def _numbers(picks: Picks) -> Iterator[tuple[int, int]]:
    return ((each, run.offset) for run in picks.runs() for each in sorted(run.value))


def _check_plan(parts: Parts, draft: Draft) -> None:
    """Whether every pick is told once: by a tie-up with a treadling, or by lifts."""
    if not parts.sound("draft"):
        return
    if draft.lifts is not None and (draft.tie_up is not None or draft.treadling is not None):
        message = "the draft has both lifts and a tie-up or a treadling"
        mend = "keep lifts, or tie_up with treadling"
        parts.tell_key("error", "two-plans", message, mend, "draft", "lifts")
    for position, section in enumerate(parts.weave):
        if section.lifts is not None and (section.treadling or draft.tie_up) is not None:
            message = (
                f"section '{shortened(section.section)}' has lifts beside a treadling or a tie-up"
            )
            mend = "use one of the two throughout the spec"
            parts.tell_key("error", "two-plans", message, mend, "weave", position, "lifts")
    if draft.tie_up is None:
        for path, _ in _treadlings(parts, draft):
            message = "a treadling without a tie-up says nothing of the shafts"
            mend = "add `tie_up: {1: 1 3, 2: 2 4}` to the draft"
            parts.tell_key("error", "treadling-without-tie-up", message, mend, *path)
    _check_covered(parts, draft)


def _check_covered(parts: Parts, draft: Draft) -> None:
    if draft.lifts is not None or draft.treadling is not None:
        return
    mend = 'add `treadling: "(1 2) x 60"`' if draft.tie_up else 'add `lifts: "(1 3; 2 4) x 60"`'
    if not parts.weave and parts.sound("weave"):
        message = "the draft does not say how it is woven"
        parts.tell_key("error", "no-treadling", message, mend, "draft")
    for position, section in enumerate(parts.weave):
        if section.lifts is section.treadling is None and parts.sound("weave", position):
            name = shortened(section.section)
            message = f"section '{name}' has no treadling, and the draft has none either"
            parts.tell("error", "no-treadling", message, mend, "weave", position)


def _check_ties(parts: Parts, draft: Draft) -> None:
    """Whether every treadle that is pressed is tied."""
    if draft.tie_up is None or not parts.sound("draft", "tie_up"):
        return
    for path, treadling in _treadlings(parts, draft):
        told = set()
        for treadle, offset in _numbers(treadling):
            if treadle not in draft.tie_up and treadle not in told:
                told.add(treadle)
                message = f"treadle {treadle} is pressed but not tied"
                mend = f"tie it, or press {in_words(map(str, sorted(draft.tie_up)))}"
                parts.tell("error", "untied-treadle", message, mend, *path, offset=offset)


def _check_sheds(parts: Parts, draft: Draft) -> None:
    threaded = frozenset(run.value for run in _threaded_by(draft).runs())
    tie_up = draft.tie_up or {}
    told: set[frozenset[int]] = set()
    together = {run.value for _, each in _treadlings(parts, draft) for run in each.runs()}
    for treadle, tied in tie_up.items():
        alone = frozenset({treadle})
        fault = _no_shed(frozenset(tied), threaded)
        if fault == "nothing" or (fault and alone in together):
            told.add(alone)
            message = f"treadle {treadle} lifts {fault}{_of_threaded(fault)}, so no shed opens"
            mend = "tie some of the shafts"
            parts.tell_key("error", "no-shed", message, mend, "draft", "tie_up", treadle)
    for path, treadling in _treadlings(parts, draft):
        for run in treadling.runs():
            if run.value in told or not run.value <= tie_up.keys():
                continue
            lifted = frozenset(shaft for treadle in run.value for shaft in tie_up[treadle])
            fault = _no_shed(lifted, threaded)
            if fault:
                told.add(run.value)
                _tell_no_shed(parts, fault, run.offset, path)
    told.clear()
    for path, lifts in _lifts(parts, draft):
        for run in lifts.runs():
            fault = _no_shed(run.value, threaded)
            if fault and run.value not in told:
                told.add(run.value)
                _tell_no_shed(parts, fault, run.offset, path)


def _no_shed(lifted: frozenset[int], threaded: frozenset[int]) -> str:
    """Say what is lifted when no shed opens, nothing when one does."""
    if not lifted & threaded:
        return "nothing"
    return "all" if threaded <= lifted else ""


def _of_threaded(fault: str) -> str:
    return " of the threaded shafts" if fault == "all" else " that is threaded"


def _tell_no_shed(parts: Parts, fault: str, offset: int, path: Path) -> None:
    message = f"this pick lifts {fault}{_of_threaded(fault)}, so no shed opens"
    parts.tell("error", "no-shed", message, "lift some of the shafts", *path, offset=offset)


def _check_unused(parts: Parts, draft: Draft) -> None:
    """Shafts that move without an end on them, and treadles that are tied for nothing."""
    if not parts.sound("draft") or not parts.sound("weave"):
        return
    threaded = {run.value for run in _threaded_by(draft).runs()}
    for side in ("right", "left"):
        ends = getattr(parts.selvedges, side, None)
        threaded |= {run.value for run in ends.runs()} if ends is not None else set()
    moved = {shaft for tied in (draft.tie_up or {}).values() for shaft in tied}
    moved |= {shaft for _, lifts in _lifts(parts, draft) for shaft, _ in _numbers(lifts)}
    # Shafts behind the last one in use are no gap: a plain draft may hang in a large loom.
    most = parts.loom.shafts if parts.loom else MOST_SHAFTS
    last = max((each for each in threaded | moved if each <= most), default=0)
    empty = [each for each in range(1, last + 1) if each not in threaded]
    if empty:
        which = in_words(map(str, empty), "and")
        message = f"no end is threaded on shaft{'s' if len(empty) > 1 else ''} {which}"
        mend = "all is well if this is meant"
        parts.tell("note", "empty-shaft", message, mend, "draft", "threading")
    pressed = {treadle for _, each in _treadlings(parts, draft) for treadle, _ in _numbers(each)}
    for treadle in draft.tie_up or {} if pressed else ():
        if treadle not in pressed:
            message = f"treadle {treadle} is tied but never pressed"
            mend = "all is well if this is meant"
            parts.tell_key("note", "idle-treadle", message, mend, "draft", "tie_up", treadle)
