"""The treadles of lifts that were worked out: one for each, or two pressed at once for some."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from cards.loom.shed import DEFAULT_ACTION, LIFTING
from cards.project.problems import Problems
from cards.spec import Spec

Shed = frozenset[int]
TieUp = dict[int, tuple[int, ...]]
# The treadles pressed for each lift.
Pressed = Mapping[Shed, Shed]


def treadles_for(spec: Spec, lifts: Sequence[Shed], problems: Problems) -> tuple[TieUp, Pressed]:
    """Return the shafts that rise with each treadle, and the treadles pressed for each lift.

    A lift has a treadle of its own, in the order of their first use. Where a rising-shed loom has
    fewer, some lifts take two treadles at once. Both are empty for looms without treadles, and
    where there are too few: the cards then list shafts.
    """
    loom = spec.loom
    action = loom.action or DEFAULT_ACTION
    if action in LIFTING:
        return {}, {}
    uses = Counter(lifts)
    if loom.treadles is None or len(uses) <= loom.treadles:
        tie_up = {treadle: tuple(sorted(lift)) for treadle, lift in enumerate(uses, start=1)}
        return tie_up, {lift: frozenset({treadle}) for treadle, lift in enumerate(uses, start=1)}
    if action == "rising":
        found = _two_at_once(uses, loom.shafts, loom.treadles, problems)
        if found is not None:
            return found
    problems.warning(
        "too-few-treadles",
        f"the layers need {len(uses)} different lifts, and the loom has {loom.treadles} treadles; "
        "the cards list the shafts to raise instead",
        "weave on a table loom, take fewer layers, or fewer kinds of sections",
        "loom",
        "treadles",
    )
    return {}, {}


def _two_at_once(
    uses: Mapping[Shed, int], shafts: int, treadles: int, problems: Problems
) -> tuple[TieUp, Pressed] | None:
    """Return the tie-up with the fewest picks that take two treadles, or None."""
    from cards.loom.tie_up import easiest  # noqa: PLC0415 - only for looms with few treadles

    answer = easiest(uses, shafts, "rising", treadles)
    if answer.tie_up is None:
        return None
    pressed = {lift: frozenset(each) for lift, each in answer.tie_up.pressed.items()}
    several = sum(uses[lift] for lift, each in pressed.items() if len(each) > 1)
    known = "the fewest that can be" if answer.proved == "easiest" else "the fewest found"
    problems.note(
        "two-treadles-at-once",
        f"the layers need {len(uses)} different lifts, and the loom has {treadles} treadles: "
        f"{several} picks of a piece take two treadles at once, {known}",
        "the pick tally joins them by a +",
        "loom",
        "treadles",
    )
    return {each.number: tuple(sorted(each.rise)) for each in answer.tie_up.treadles}, pressed
