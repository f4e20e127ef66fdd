"""Floats in millimetres: the longest of each layer on both its faces, and where it lies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from cards.cloth.floats import Float
from cards.project.cloth import Cloth, ClothStretch
from cards.project.model import Warp, Weft

System = Literal["warp", "weft"]
Face = Literal["face", "back"]


@dataclass(frozen=True, slots=True)
class FloatLength:
    """A longest float: which thread of the piece floats past how many others, from which one on.

    `layer` counts from 0 at the top of its stretch, threads from 0 in the whole piece. `length` is
    mm on the loom: threads passed by the threads to a mm of that layer.
    """

    system: System
    face: Face
    layer: int
    threads: int
    thread: int
    start: int
    length: float


def longest(cloth: Cloth, warp: Warp, weft: Weft, system: System) -> FloatLength | None:
    """Return the longest float of warp or weft in the whole piece, by its length in mm."""
    every = (each for stretch in cloth.stretches for each in float_lengths(stretch, warp, weft))
    return longest_of(every).get(system)


def longest_of(floats: Iterable[FloatLength]) -> dict[System, FloatLength]:
    """Return the longest of the floats of the warp, if any, and of those of the weft."""
    found: dict[System, FloatLength] = {}
    for each in floats:
        known = found.get(each.system)
        if known is None or each.length > known.length:
            found[each.system] = each
    return found


def float_lengths(stretch: ClothStretch, warp: Warp, weft: Weft) -> Iterator[FloatLength]:
    """Yield the longest floats of every layer of a stretch, both systems, both faces."""
    on_loom = sum(weft.sections[place].length for place in stretch.sections)
    for number, (layer, floats) in enumerate(zip(stretch.layers, stretch.floats, strict=True)):
        ends = [int(end) for end in layer.ends]
        picks = [stretch.first_pick + pick for pick in layer.picks]
        warp_density = len(picks) / on_loom
        weft_density = len(ends) / warp.width_in_reed
        for face, found in (("face", floats.warp_face), ("back", floats.warp_back)):
            if found is not None:
                yield _float("warp", face, number, found, ends, picks, warp_density)
        for face, found in (("face", floats.weft_face), ("back", floats.weft_back)):
            if found is not None:
                yield _float("weft", face, number, found, picks, ends, weft_density)


def _float(
    system: System,
    face: str,
    layer: int,
    found: Float,
    threads: list[int],
    passed: list[int],
    density: float,
) -> FloatLength:
    return FloatLength(
        system=system,
        face="face" if face == "face" else "back",
        layer=layer,
        threads=found.length,
        thread=threads[found.thread],
        start=passed[found.start],
        length=found.length / density,
    )
