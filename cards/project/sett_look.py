"""Looks at a project's draft for how close its threads lie, layer by layer.

The intersections are those of the draft itself. Sections that interlace alike are one weave; the
one with most picks is the main one, by which the sett is judged.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from cards.calculation.cover import cover_factor
from cards.calculation.sett import USES, by_wraps, closest, diameter
from cards.cloth.layers import Layer
from cards.draft.interlacing import Interlacing, interlacings
from cards.project.cloth import Cloth, ClothStretch
from cards.project.model import Draft, ProjectYarn, Sett, Warp, Weft
from cards.project.sett_advice import (
    ALIKE,
    LayerAdvice,
    SettAdvice,
    Threads,
    WeaveAdvice,
    YarnIn,
)


def sett_advice(
    use: str | None,
    yarns: Sequence[ProjectYarn],
    sett: Sett,
    warp: Warp,
    weft: Weft,
    draft: Draft,
    cloth: Cloth,
) -> SettAdvice:
    """Return the advice on a sett for one piece."""
    looked = _Look({yarn.key: yarn for yarn in yarns}, sett, warp, weft, draft, cloth)
    weaves = _gathered(looked.weaves())
    weaves.sort(key=lambda each: -each.picks)
    return SettAdvice(USES[use] if use else None, tuple(weaves))


def _gathered(weaves: Iterable[WeaveAdvice]) -> list[WeaveAdvice]:
    """Return weaves with those that interlace alike taken together, the longest for all."""
    found: list[WeaveAdvice] = []
    for each in weaves:
        place = next((at for at, other in enumerate(found) if _alike(each, other)), None)
        if place is None:
            found.append(each)
            continue
        other = found[place]
        longer = max(other, each, key=lambda one: one.picks)
        names = tuple(dict.fromkeys(other.sections + each.sections))
        found[place] = WeaveAdvice(names, other.picks + each.picks, longer.layers)
    return found


def _alike(one: WeaveAdvice, other: WeaveAdvice) -> bool:
    """Whether two sections have as many layers, and the ends of each interlace as often."""
    return len(one.layers) == len(other.layers) and all(
        abs(left.ends.share / right.ends.share - 1) < ALIKE
        for left, right in zip(one.layers, other.layers, strict=True)
    )


class _Look:
    """Looks at the sections of a piece one by one."""

    def __init__(
        self,
        yarns: dict[str, ProjectYarn],
        sett: Sett,
        warp: Warp,
        weft: Weft,
        draft: Draft,
        cloth: Cloth,
    ) -> None:
        self._yarns, self._sett, self._warp, self._weft = yarns, sett, warp, weft
        self._draft, self._cloth = draft, cloth
        self._order = tuple(warp.order.values())

    def weaves(self) -> Iterator[WeaveAdvice]:
        """Yield every section in which there are layers that interlace."""
        for stretch in self._cloth.stretches:
            for place in stretch.sections:
                section = self._weft.sections[place]
                layers = tuple(self._layers(stretch, place))
                if layers:
                    yield WeaveAdvice((section.name,), section.picks, layers)

    def _layers(self, stretch: ClothStretch, place: int) -> Iterator[LayerAdvice]:
        section = self._weft.sections[place]
        within = range(section.first_pick, section.first_pick + section.picks)
        for number, layer in enumerate(stretch.layers):
            own = (stretch.first_pick + pick for pick in layer.picks)
            picks = [pick for pick in own if pick in within]
            advice = self._layer(number, stretch.lanes[number], layer, picks, section.length)
            if advice is not None:
                yield advice

    def _layer(
        self, number: int, lane: int, layer: Layer, picks: list[int], length: float
    ) -> LayerAdvice | None:
        draft = self._draft
        found = interlacings(
            [draft.threading[end] for end in layer.ends], [draft.lifts[pick] for pick in picks]
        )
        if found is None:
            return None
        warps = self._counted(self._order[end] for end in layer.ends)
        wefts = self._counted(draft.weft[pick] for pick in picks)
        ends = self._threads(warps, found[0], self._diameter(wefts), self._density(layer))
        shots = self._threads(wefts, found[1], self._diameter(warps), len(picks) / length)
        return LayerAdvice(number, lane, ends, shots, self._by_wraps(warps, found[0]))

    def _counted(self, keys: Iterable[str]) -> tuple[YarnIn, ...]:
        """Return the yarns of some threads, in the order of the spec."""
        count = Counter(keys)
        return tuple(YarnIn(key, count[key]) for key in self._yarns if count[key])

    def _density(self, layer: Layer) -> float:
        """Return the sett of a layer: its share of each round of all ends, odd ends aside."""
        share = len(layer.ends) / self._warp.ends
        in_a_round = round(share * self._sett.in_a_round)
        return self._sett.ends_total * (in_a_round / self._sett.in_a_round or share)

    def _threads(
        self,
        yarns: tuple[YarnIn, ...],
        interlacing: Interlacing,
        across: float,
        density: float,
    ) -> Threads:
        """Return threads that lie in this density, crossed by those of `across` mm diameter."""
        own = self._diameter(yarns)
        most = closest(own, across, interlacing.share)
        cover = cover_factor(density, [(self._yarns[each.key].tex, each.threads) for each in yarns])
        return Threads(yarns, interlacing, own, density, most, cover)

    def _diameter(self, yarns: tuple[YarnIn, ...]) -> float:
        """Return the mean diameter in mm of threads of several yarns."""
        total = 0.0
        for each in yarns:
            yarn = self._yarns[each.key]
            total += diameter(yarn.ashenhurst.value, yarn.tex) * each.threads
        return total / sum(each.threads for each in yarns)

    def _by_wraps(self, yarns: tuple[YarnIn, ...], interlacing: Interlacing) -> float | None:
        """Return the sett that the wraps of a warp advise, None unless all its yarns have them."""
        wide = 0.0
        for each in yarns:
            wraps = self._yarns[each.key].wraps
            if wraps is None:
                return None
            wide += each.threads / wraps
        return by_wraps(sum(each.threads for each in yarns) / wide, interlacing.share)
