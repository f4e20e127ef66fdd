"""Whether the project fits its loom: width, warp on the beam; if not, what would fit.

Every figure that is offered has been worked out again from the beginning with the spec changed, so
that it fits when it is put in; where nothing near comes out, no figure is named.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from cards.loom.heddles import HeddlePlan
from cards.project.ends import whole_threading
from cards.project.heddle_checks import check_heddles
from cards.project.model import Draft, Warp
from cards.project.problems import Problems
from cards.project.trial import (
    LENGTH_STEP,
    Again,
    in_both,
    in_two_layers,
    long_in_both,
    no_wider,
    warps_for,
    with_cloth,
)
from cards.spec import Spec

_CLOSE = 1 + 1e-9  # a width that is only a hair beyond comes of the arithmetic


def check_fit(
    spec: Spec,
    warp: Warp,
    an_end: float,
    draft: Draft,
    heddles: HeddlePlan,
    problems: Problems,
    again: Again,
) -> None:
    """Note whatever of the warp does not fit the loom, each with what would.

    `an_end` is the finished width in mm that the sett gives an end. `again` works the warp of a
    changed spec out, and gives None where nothing comes of it.
    """
    _check_width(spec, warp, an_end, draft, problems, again)
    _check_beam(spec, warp, problems, again)
    check_heddles(spec, warp, an_end, heddles, problems, again)


def _check_width(
    spec: Spec, warp: Warp, an_end: float, draft: Draft, problems: Problems, again: Again
) -> None:
    width, figures = spec.loom.width, problems.figures
    if width is None or warp.width_in_reed <= width * _CLOSE:
        return
    if warp.width_given:
        mends = [f"give a width in the reed of no more than {in_both(figures, width)}"]
    else:
        mends = _narrower(spec, warp, an_end, width, problems, again)
        mends += _double_width(spec, draft, width, problems, again)
    problems.error(
        "too-wide",
        f"the warp is {figures.width(warp.width_in_reed)} wide in the reed, the loom weaves "
        f"{figures.width(width)}",
        ", or ".join((*mends, "use a wider loom")),
        "loom",
        "width",
    )


def _narrower(
    spec: Spec, warp: Warp, an_end: float, width: float, problems: Problems, again: Again
) -> list[str]:
    """Return the finished width that fits, or the ends where they are fixed."""
    figures = problems.figures
    most = math.floor(warp.ends * width * _CLOSE / warp.width_in_reed)

    def fits(other: Warp) -> bool:
        return other.width_in_reed <= width * _CLOSE

    found = no_wider(spec, an_end, most, fits, again)
    if most < 2:
        return ["set the ends closer in the reed"]
    if found is None:
        return [f"thread no more than {most} ends at this sett"]
    finished, other = found
    kind = "circumference" if spec.cloth.circumference is not None else "width"
    size = f"no wider than {in_both(figures, finished)}"
    if kind == "circumference":
        size = f"no more than {in_both(figures, 2 * finished)} round"
    return [f"make the finished cloth {size}: {other.ends} ends{_repeats(spec, other.ends)}"]


def _repeats(spec: Spec, ends: int) -> str:
    """Return how many whole repeats of a written threading so many ends are."""
    threading = whole_threading(spec)
    if spec.draft.double_weave is not None or threading.fill is None:
        return ""
    times = (ends - threading.length) // threading.fill.once
    return f", {times} whole repeat{'s' if times > 1 else ''} of the threading"


def _double_width(
    spec: Spec, draft: Draft, width: float, problems: Problems, again: Again
) -> list[str]:
    """Return how plain cloth can be woven in two layers, where the loom has the shafts for it."""
    if spec.draft.double_weave is not None or spec.loom.shafts < 4 or not _is_plain(draft):
        return []
    other = again(in_two_layers(spec))
    if other is None or other.width_in_reed > width * _CLOSE:
        return []
    reed = problems.figures.width(other.width_in_reed)
    pasted = "`draft: {double_weave: {layers: 2, join: left}}`"
    return [f"weave it double width, in two layers on 4 shafts: {pasted} takes {reed} in the reed"]


def _is_plain(draft: Draft) -> bool:
    """Whether a draft weaves plain weave throughout."""
    lifts, cells = draft.lifts, draft.drawdown
    if len(lifts) < 2 or any(lift != lifts[pick % 2] for pick, lift in enumerate(lifts)):
        return False
    first, second = cells[0].tolist(), cells[1].tolist()
    return all(one != other for one, other in pairwise(first)) and all(
        one != other for one, other in zip(first, second, strict=True)
    )


def _check_beam(spec: Spec, warp: Warp, problems: Problems, again: Again) -> None:
    most, figures = spec.loom.longest_warp, problems.figures
    if most is None or warp.length <= most * _CLOSE:
        return

    def fits(changed: Spec) -> bool:
        other = again(changed)
        return other is not None and other.length <= most * _CLOSE

    if warp.length_given:
        mend = f"wind no more than {long_in_both(figures, most)}, or mend loom.longest_warp"
    else:
        mend = _less(spec, warp, most, problems, again, fits)
    problems.error(
        "warp-too-long",
        f"the warp is {figures.long(warp.length)} long, and the beam holds {figures.long(most)}",
        mend,
        "loom",
        "longest_warp",
    )


def _less(
    spec: Spec,
    warp: Warp,
    most: float,
    problems: Problems,
    again: Again,
    fits: Callable[[Spec], bool],
) -> str:
    pieces, mend_beam = spec.cloth.pieces, "or mend loom.longest_warp"
    if len(spec.pieces) > 1:
        return f"weave some of the pieces on a second warp, {mend_beam}"
    number = _pieces_that_fit(spec, warp, most, again, fits)
    if number:
        warps = warps_for(pieces, number)
        word = "piece" if number == 1 else "pieces"
        return f"weave {number} {word} on a warp, {warps} warps for all {pieces}, {mend_beam}"
    length = _length_that_fits(spec, fits)
    if length is None:
        return f"weave less on this warp, {mend_beam}"
    one = "the piece" if pieces == 1 else "a single piece"
    return f"make {one} no longer than {in_both(problems.figures, length)} finished, {mend_beam}"


def _pieces_that_fit(
    spec: Spec, warp: Warp, most: float, again: Again, fits: Callable[[Spec], bool]
) -> int:
    """Return the most pieces, fewer than there are, on a warp that the beam holds; 0 if not one."""
    pieces = spec.cloth.pieces
    if pieces == 1 or not fits(with_cloth(spec, pieces=1)):
        return 0
    one = again(with_cloth(spec, pieces=1))
    each = (warp.length - one.length) / (pieces - 1) if one is not None else 0.0
    number = 1 + math.floor((most - one.length) / each) if one is not None and each > 0 else 1
    number = min(pieces - 1, max(1, number))
    # A warp is raised to a handy length, so the number may be one off either way.
    while number > 1 and not fits(with_cloth(spec, pieces=number)):
        number -= 1
    while number + 1 < pieces and fits(with_cloth(spec, pieces=number + 1)):
        number += 1
    return number


def _length_that_fits(spec: Spec, fits: Callable[[Spec], bool]) -> float | None:
    """Return the longest single piece whose warp the beam holds, to 1 cm or half an inch."""
    length = spec.cloth.length
    if length is None:
        return None
    step = LENGTH_STEP[spec.units]
    low, high = 0, math.ceil(length / step)
    while high - low > 1:
        middle = (low + high) // 2
        if fits(with_cloth(spec, pieces=1, length=middle * step)):
            low = middle
        else:
            high = middle
    return low * step or None
