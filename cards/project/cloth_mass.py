"""What the finished cloth weighs by its area, from the threads that are really in it."""

from __future__ import annotations

from cards.calculation.cloth_weight import ClothWeight, threads_weight
from cards.calculation.warp import Rates, crimp, finished_length, finished_width
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
    across = layers * finished_width(warp.width_in_reed, rates)
    woven = sum(section.length for section in weft.sections)
    along = finished_length(woven, rates)
    used = woven * (1 - rates.relaxation.value) / (1 - rates.take_up.value)
    # A pick lies across one layer; it is as long as the reed is wide, and its curve besides.
    shot = warp.width_in_reed * (1 + extra.weft_take_up.value)
    return ClothWeight(
        warp=sum(
            threads_weight(
                (each.threads + each.floating) / across, each.yarn.tex, crimp(used, along)
            )
            for each in warp.by_yarn
        ),
        weft=sum(
            threads_weight(
                each.threads / weft.pieces / along / layers,
                each.yarn.tex,
                crimp(shot, across / layers),
            )
            for each in weft.by_yarn
        ),
    )
