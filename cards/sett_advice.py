"""The advice on a sett: how close the threads could lie, what each use wants, what reeds give."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from cards.calculation.cloth_weight import ClothWeight
from cards.calculation.reed_choice import ReedChoice
from cards.calculation.sett import USES, UseRange
from cards.figures import Figures
from cards.heading import Heading, heading_of
from cards.project.model import Project, ProjectYarn
from cards.project.sett_advice import LayerAdvice, Threads, WeaveAdvice
from cards.project.sett_checks import near_reeds, of_one_layer

_HAIR = 1e-9  # what only comes of the arithmetic

# Reeds named for one sett; the table of setts has the others.
_REEDS = 3


@dataclass(frozen=True, slots=True)
class UseRow:
    """Uses of one range of the closest sett, low to high, and that range in ends to a mm.

    `asked` tells whether the cloth is for one of them, `holds` whether the chosen sett is within.
    """

    uses: tuple[str, ...]
    share: tuple[float, float, float]
    setts: tuple[float, float, float]
    asked: bool
    holds: bool


@dataclass(frozen=True, slots=True)
class NearReed:
    """A reed near a sett, and the ends to a mm that it gives one layer."""

    choice: ReedChoice
    sett: float


@dataclass(frozen=True, slots=True)
class LayerPart:
    """Layers, counted from 1, of which all is alike; `advice` is that of the first of them.

    `advised` is the usual sett of the use, None without one; `for_advised` and `for_chosen` are
    the weaver's reeds near each sett, the best first.
    """

    layers: tuple[int, ...]
    advice: LayerAdvice
    rows: tuple[UseRow, ...]
    advised: float | None
    for_advised: tuple[NearReed, ...]
    for_chosen: tuple[NearReed, ...]


@dataclass(frozen=True, slots=True)
class SettAdviceCard:
    """All that the sheet of the advice says. Densities are per mm.

    `yarns` are gathered by size. `layers` is how many the loom weaves; `closer` are the sections in
    which the same sett lies closer than in the main one, whose names `sections` has where they are
    not the whole piece.
    """

    heading: Heading
    figures: Figures
    use: UseRange | None
    layers: int
    yarns: tuple[tuple[ProjectYarn, ...], ...]
    parts: tuple[LayerPart, ...]
    sections: tuple[str, ...]
    closer: tuple[WeaveAdvice, ...]
    weight: ClothWeight


def sett_advice_card(project: Project) -> SettAdviceCard:
    """Return the advice on the sett of a project. Raises ValueError where nothing interlaces."""
    advice = project.sett_advice
    if not advice.layers:
        raise ValueError("no threads of this cloth interlace")
    alike = groupby(advice.layers, key=_kind)
    main = advice.weaves[0]
    return SettAdviceCard(
        heading=heading_of(project, "Sett advice"),
        figures=Figures(project.units),
        use=advice.use,
        layers=project.sett.layers,
        yarns=_sizes(project),
        parts=tuple(_part(project, tuple(layers)) for _, layers in alike),
        sections=main.sections if len(advice.weaves) > 1 else (),
        closer=advice.closer,
        weight=project.cloth_weight,
    )


def _sizes(project: Project) -> tuple[tuple[ProjectYarn, ...], ...]:
    """Return the yarns in use, those together of which everything here is the same."""
    found: dict[tuple[object, ...], list[ProjectYarn]] = {}
    used = {total.yarn.key for total in project.totals}
    for yarn in project.yarns:
        if yarn.key in used:
            kind = (yarn.size, yarn.tex, yarn.ashenhurst, yarn.wraps, yarn.fibre)
            found.setdefault(kind, []).append(yarn)
    return tuple(tuple(yarns) for yarns in found.values())


def _kind(layer: LayerAdvice) -> tuple[object, ...]:
    """Return what must be the same of two layers that are spoken of together."""
    return (*_thread_kind(layer.ends), *_thread_kind(layer.picks), layer.by_wraps)


def _thread_kind(threads: Threads) -> tuple[object, ...]:
    rounded = (threads.diameter, threads.density, threads.cover)
    return threads.interlacing, *(f"{each:.3g}" for each in rounded)


def _part(project: Project, layers: tuple[LayerAdvice, ...]) -> LayerPart:
    advice, use = layers[0], project.sett_advice.use
    advised = use.usual * advice.ends.most if use else None
    return LayerPart(
        layers=tuple(each.layer + 1 for each in layers),
        advice=advice,
        rows=_rows(advice, use),
        advised=advised,
        for_advised=_near(project, advice, advised) if advised else (),
        for_chosen=_near(project, advice, advice.ends.density),
    )


def _rows(advice: LayerAdvice, use: UseRange | None) -> tuple[UseRow, ...]:
    """Return a row for every range of the table, the closest first, with all its uses."""
    rows = []
    for share, uses in groupby(USES.values(), key=lambda each: (each.low, each.usual, each.high)):
        names = tuple(each.use for each in uses)
        low, usual, high = (each * advice.ends.most for each in share)
        rows.append(
            UseRow(
                uses=names,
                share=share,
                setts=(low, usual, high),
                asked=use is not None and use.use in names,
                holds=low * (1 - _HAIR) <= advice.ends.density <= high * (1 + _HAIR),
            )
        )
    return tuple(rows)


def _near(project: Project, layer: LayerAdvice, sett: float) -> tuple[NearReed, ...]:
    if project.in_reed is None:
        return ()
    choices = near_reeds(project.in_reed, sett, layer, project.sett)[:_REEDS]
    return tuple(NearReed(each, of_one_layer(each, layer, project.sett)) for each in choices)
