"""Layers that take up unequally: of different fibres, or woven so that one bends more often.

On one beam every layer gets the same warp. What one of them takes up less goes slack, and the layer
ends longer than the other. How much a fibre takes up is the assumed figure; how much a weave does
is guessed in proportion to the bends of its ends, which errs on the high side (common practice, no
source).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cards.calculation.allowances import BLEND, allowances_for
from cards.calculation.warp import Rates
from cards.figures import plain
from cards.project.amounts import Amounts
from cards.project.cloth import Cloth
from cards.project.model import Draft
from cards.project.problems import Problems
from cards.spec import Spec

# From here on layers are told apart: two points of take-up, a third more bends.
_POINTS = 0.02
_BENDS = 4 / 3
_SLACK = 1e-9

_HELP = (
    "weave and wash a sample first; put each layer on a beam of its own, or weight the ends of one "
    "apart (common practice, no source)"
)


@dataclass(frozen=True, slots=True)
class LayerTakeUp:
    """One layer: its assumed take-up, its fibres, and the bends of an end of it in one piece."""

    layer: int
    take_up: float
    fibres: tuple[str, ...]
    bends: float


def check_layer_take_up(spec: Spec, taken: Amounts, rates: Rates, problems: Problems) -> None:
    """Warn of layers of which one takes up more; where the take-up is given, note the weaves."""
    if not taken.cloth.has_layers:
        return
    tape = taken.weft.pieces * sum(section.length for section in taken.weft.sections)
    woven = tape * (1 - rates.relaxation.value) / (1 - rates.take_up.value)
    layers = layer_take_ups(spec, taken.cloth, taken.draft, list(taken.ends.order.values()))
    given = rates.take_up.origin == "given"
    less, more = (pick(layers, key=lambda each: each.take_up) for pick in (min, max))
    if not given and more.take_up - less.take_up >= _POINTS - _SLACK:
        _tell_fibres(less, more, woven, problems)
        return
    less, more = (pick(layers, key=lambda each: each.bends) for pick in (min, max))
    if more.bends > _BENDS * less.bends * (1 + _SLACK):
        _tell_weaves(less, more, rates.take_up.value * woven, problems, given=given)


def layer_take_ups(
    spec: Spec, cloth: Cloth, draft: Draft, order: list[str]
) -> tuple[LayerTakeUp, ...]:
    """Return every layer as the loom weaves it, top first; `order` is the yarn of each end."""
    bends = _bends(cloth, draft.drawdown)
    layers = []
    for lane, layer in zip(cloth.main.lanes, cloth.main.layers, strict=True):
        keys = dict.fromkeys(order[end] for end in layer.ends)
        fibres = tuple(dict.fromkeys(each for key in keys for each in _fibres(spec, key)))
        take_up = allowances_for(fibres).take_up.value
        many = float(bends[np.array(layer.ends, dtype=np.intp)].mean())
        layers.append(LayerTakeUp(lane, take_up, fibres, many))
    return tuple(layers)


def _fibres(spec: Spec, key: str) -> tuple[str, ...]:
    fibre = spec.yarns[key].fibre
    return fibre.names if fibre else (BLEND,)


def _bends(cloth: Cloth, drawdown: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Return how often each end changes sides within its own layer in a piece, shape (ends,)."""
    bends = np.zeros(drawdown.shape[1], dtype=np.int64)
    for stretch in cloth.stretches:
        for layer in stretch.layers:
            picks = stretch.first_pick + np.array(layer.picks, dtype=np.intp)
            ends = np.array(layer.ends, dtype=np.intp)
            cells = drawdown[np.ix_(picks, ends)]
            bends[ends] += (cells[1:] != cells[:-1]).sum(axis=0)
    return bends


def _tell_fibres(less: LayerTakeUp, more: LayerTakeUp, woven: float, problems: Problems) -> None:
    apart = problems.figures.width((more.take_up - less.take_up) * woven)
    problems.warning(
        "unequal-take-up",
        f"the layer of {_listed(more.fibres)} takes up {more.take_up:.0%} of its warp, that of "
        f"{_listed(less.fibres)} {less.take_up:.0%}: {apart} apart over the "
        f"{problems.figures.long(woven)} that are woven",
        _HELP,
        "draft",
    )


def _tell_weaves(
    less: LayerTakeUp, more: LayerTakeUp, taken: float, problems: Problems, *, given: bool
) -> None:
    """Tell of ends that bend unequally often; `taken` is the whole take-up in mm."""
    apart = problems.figures.width(taken * (1 - less.bends / more.bends))
    tell = problems.note if given else problems.warning
    tell(
        "unequal-take-up",
        f"the ends of layer {more.layer + 1} bend {_ratio(less, more)} as often as those of layer "
        f"{less.layer + 1} and take up more: up to {apart} over the whole warp",
        _HELP,
        "draft",
    )


def _ratio(less: LayerTakeUp, more: LayerTakeUp) -> str:
    return f"{plain(more.bends / less.bends, 1)} times" if less.bends else "many times"


def _listed(fibres: Iterable[str]) -> str:
    *others, last = fibres
    return f"{', '.join(others)} and {last}" if others else last
