"""Whether the loom has the heddles that the threading needs; if not, where they may come from."""

from __future__ import annotations

from cards.loom.heddles import HeddlePlan, ShaftHeddles
from cards.project.model import Warp
from cards.project.problems import Problems
from cards.project.trial import Again, in_both, more_open, no_wider
from cards.spec import Spec

# A sett more open than this share of the one asked for makes another cloth altogether.
_LEAST_SETT = 0.8


def check_heddles(
    spec: Spec, warp: Warp, an_end: float, plan: HeddlePlan, problems: Problems, again: Again
) -> None:
    """Warn of each shaft that has too few heddles, with the moves that mend it."""
    short = [each for each in plan.shafts if each.over is not None and each.over < 0]
    free = _on_free_shafts(spec, plan, short)
    fewer = _fewer(spec, warp, an_end, plan, problems, again) if plan.added else []
    for place, each in enumerate(short):
        mends = [_moved(plan, each), *free.get(each.shaft, [])]
        mends += fewer if place == 0 else []
        problems.warning(
            "too-few-heddles",
            f"shaft {each.shaft} needs {each.needed} heddles and has {each.there}",
            ", or ".join(mends),
            "loom",
            "heddles",
        )


def _moved(plan: HeddlePlan, shaft: ShaftHeddles) -> str:
    moves = [move for move in plan.moves if move.target == shaft.shaft]
    words = []
    if moves:
        some = [f"{move.heddles} from shaft {move.source}" for move in moves]
        words.append(f"move {' and '.join(some)}")
    if shaft.added:
        words.append(f"add {shaft.added}, bought or tied of string,")
    return f"{' and '.join(words)} before threading"


def _on_free_shafts(
    spec: Spec, plan: HeddlePlan, short: list[ShaftHeddles]
) -> dict[int, list[str]]:
    """Return for every shaft that is short how its ends go on two, if that helps them all.

    Every free shaft helps one only, since its heddles cannot be moved away as well.
    """
    if spec.draft.double_weave is not None:
        return {}  # the builder threads the shafts of its layers itself
    free = [each for each in plan.shafts if not each.needed and each.there]
    found: dict[int, list[str]] = {}
    for each in short:
        stay, go = each.needed - each.needed // 2, each.needed // 2
        other = next((shaft for shaft in free if (shaft.there or 0) >= go), None)
        if other is None or (each.there or 0) < stay:
            return {}
        free.remove(other)
        how = f"shaft {other.shaft}, tied like shaft {each.shaft}: {stay} and {go} heddles"
        found[each.shaft] = [f"thread every other end of shaft {each.shaft} on {how}"]
    return found


def _fewer(
    spec: Spec, warp: Warp, an_end: float, plan: HeddlePlan, problems: Problems, again: Again
) -> list[str]:
    """Return what the heddles of the loom are enough for, all moved where they are needed."""
    total = sum(plan.there or ())

    def fits(other: Warp) -> bool:
        return other.ends <= total

    figures = problems.figures
    mends = []
    found = no_wider(spec, an_end, total, fits, again)
    if found is not None:
        width, other = found
        mends.append(
            f"weave {other.ends} ends, a finished width of no more than {in_both(figures, width)}"
        )
    share = total / warp.ends
    sett = more_open(spec, share, fits, again) if share >= _LEAST_SETT else None
    if sett is not None:
        mends.append(f"take a sett of {figures.density(sett)} or more open")
    return mends
