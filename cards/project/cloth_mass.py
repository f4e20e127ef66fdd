"""What the finished cloth weighs by its area, from the threads that are really in it."""

from __future__ import annotations

from collections.abc import Sequence

from cards.calculation.cloth_weight import ClothWeight, InCloth
from cards.calculation.warp import Rates, crimp, finished_length
from cards.project.cloth import Cloth
from cards.project.model import Warp, Weft
from cards.project.rates import YarnAllowances


def cloth_weight(
    warp: Warp, weft: Weft, cloth: Cloth, rates: Rates, extra: YarnAllowances
) -> ClothWeight:
    """Return the mass of the finished cloth, every layer opened out beside the others.

    Warp as it is used up by the cloth, weft as it lies in it; hems are cloth, fringes are not.
    """
    layers = cloth.lanes if cloth.has_layers else 1
    # Ends doubled at an edge or opened at a fold make the reed's width another than the cloth's.
    wide = warp.finished_width / float(warp.widths)
    woven = sum(section.length for section in weft.sections)
    along = finished_length(woven, rates)
    used = woven * (1 - rates.relaxation.value) / (1 - rates.take_up.value)
    # A pick lies across one layer; it is as long as the reed is wide, and its curve besides.
    shot = warp.width_in_reed * (1 + extra.weft_take_up.value)
    ends = [(each.threads + each.floating, each.yarn.tex) for each in warp.by_yarn]
    picks = [(each.threads / weft.pieces / layers, each.yarn.tex) for each in weft.by_yarn]
    return ClothWeight(
        ends=_in_cloth(ends, layers * wide, crimp(used, along)),
        picks=_in_cloth(picks, along, crimp(shot, wide)),
    )


def _in_cloth(threads: Sequence[tuple[float, float]], size: float, crimp: float) -> InCloth:
    """Return numbers of threads of some tex that lie side by side in `size` mm of cloth."""
    number = sum(each for each, _ in threads)
    tex = sum(each * tex for each, tex in threads) / number
    return InCloth(number / size, tex, crimp)
