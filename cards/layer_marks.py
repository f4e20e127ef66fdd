"""What the cards say of layers: a letter for each, its shafts, and the lifts that show it.

Nothing of this stands on the cards of a cloth of one layer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from cards.cloth.weft_path import Side, side_at
from cards.cloth_words import LAYER_LETTERS, layer_letter, layer_name, pieces_words
from cards.loom.looking import treadles_raising
from cards.loom.shed import has_ties
from cards.project.at_the_loom import LoomPlan
from cards.project.cloth import ClothStretch
from cards.project.model import Project, ProjectYarn, WovenSection


@dataclass(frozen=True, slots=True)
class LayerMark:
    """A layer: its number from 0, letter, shafts, ends, and the yarns of its warp.

    `name` says where it lies; it is empty where layers change places.
    """

    lane: int
    letter: str
    name: str
    shafts: tuple[int, ...]
    ends: int
    yarns: tuple[ProjectYarn, ...]


@dataclass(frozen=True, slots=True)
class LayerCheck:
    """A look between the layers: which rise whole, their shafts, and treadles that raise just them.

    `treadles` is empty where no treadles do so together; `folds` are the sides at which the lowest
    of the layers raised is joined to the one below.
    """

    letters: tuple[str, ...]
    below: str
    shafts: tuple[int, ...]
    treadles: tuple[int, ...]
    folds: tuple[Side, ...] = ()


@dataclass(frozen=True, slots=True)
class ShuttleStart:
    """A shuttle at the beginning of a section: its number, yarn, and the side it comes from."""

    number: int
    yarn: ProjectYarn
    side: Side


@dataclass(frozen=True, slots=True)
class LayeredSection:
    """A section of layers: what cloth it is, its shuttles, and the looks between its layers.

    `layers` has the lanes of each pick, several where layers are woven together; `from_right`
    whether the shuttle comes from the right. `missed` are the edges at which the weft often turns
    without catching the last end, in words. `apart` is true of several cloths.
    """

    words: str
    shuttles: tuple[ShuttleStart, ...]
    checks: tuple[LayerCheck, ...]
    layers: tuple[tuple[int, ...], ...]
    from_right: tuple[bool, ...]
    missed: tuple[str, ...]
    apart: bool


def layer_marks(project: Project) -> tuple[LayerMark, ...]:
    """Return the layers in the order of their letters; none if there is one alone."""
    main = project.cloth.main
    if project.cloth.lanes < 2:
        return ()
    marks = []
    order = project.warp.order.values()
    for place, (lane, layer) in enumerate(zip(main.lanes, main.layers, strict=True)):
        shafts = tuple(sorted({project.draft.threading[end] for end in layer.ends}))
        name = "" if project.cloth.exchanges else layer_name(place, len(main.layers))
        keys = dict.fromkeys(order[end] for end in layer.ends)
        yarns = tuple(project.yarn(key) for key in keys)
        marks.append(LayerMark(lane, layer_letter(lane), name, shafts, len(layer.ends), yarns))
    return tuple(sorted(marks, key=lambda mark: mark.lane))


def lettered_marks(project: Project) -> tuple[LayerMark, ...]:
    """Return the layers; none where a faulty draft falls into more than have letters."""
    marks = layer_marks(project)
    return marks if len(marks) <= len(LAYER_LETTERS) else ()


def layered_section(project: Project, place: int) -> LayeredSection | None:
    """Return what the layers do in the section at `place`, None for a cloth of one layer."""
    cloth = project.cloth
    if cloth.lanes < 2:
        return None
    section = project.weft.sections[place]
    stretch = cloth.at(place)
    parted = len(stretch.layers) > 1
    lanes = [cloth.lanes_in(layer) for layer in stretch.layers]
    lanes_of: list[tuple[int, ...]] = [()] * stretch.picks
    for each, layer in zip(lanes, stretch.layers, strict=True):
        for pick in layer.picks:
            lanes_of[pick] = each
    first = section.first_pick - stretch.first_pick
    here = slice(section.first_pick, section.first_pick + section.picks)
    words = pieces_words(stretch.pieces, len(stretch.layers)) if parted else "all layers as one"
    if parted and cloth.exchanges:
        words += f", {' above '.join(map(letters_of, lanes))}"
    return LayeredSection(
        words=words,
        shuttles=_starts(project, section),
        checks=layer_checks(project, stretch),
        layers=tuple(lanes_of[first : first + section.picks]),
        from_right=tuple(cloth.plan.from_right[here].tolist()),
        missed=_missed(stretch, lanes),
        apart=len(stretch.pieces) > 1,
    )


# A miss now and then is left to the weaver's eye.
_OFTEN = 0.05


def letters_of(lanes: Sequence[int]) -> str:
    """Return the letters of layers, joined where they are woven together.

    >>> letters_of((0,)), letters_of((0, 2))
    ('A', 'A+C')
    """
    return "+".join(layer_letter(lane) for lane in lanes)


def _missed(stretch: ClothStretch, lanes: Sequence[tuple[int, ...]]) -> tuple[str, ...]:
    found = Counter(
        (fault.layers[0], fault.side) for fault in stretch.faults if fault.kind == "edge missed"
    )
    return tuple(
        f"{letters_of(lanes[layer])} at the {side}"
        for (layer, side), times in sorted(found.items())
        if times >= _OFTEN * len(stretch.layers[layer].picks) / 2
    )


def shuttle_yarn(project: Project, place: int) -> ProjectYarn:
    """Return the yarn of the shuttle at `place`, its number behind the letter if it has several.

    A letter of two characters has no room for it.
    """
    shuttle = project.cloth.shuttles[place]
    yarn = project.yarn(shuttle.yarn)
    alike = sum(1 for each in project.cloth.shuttles if each.yarn == shuttle.yarn)
    if alike == 1 or len(yarn.letter) > 1:
        return yarn
    return replace(yarn, letter=f"{yarn.letter}{shuttle.number}")


def _starts(project: Project, section: WovenSection) -> tuple[ShuttleStart, ...]:
    cloth = project.cloth
    found: dict[int, ShuttleStart] = {}
    for pick in range(section.first_pick, section.first_pick + section.picks):
        number = int(cloth.plan.shuttles[pick])
        if number not in found:
            shuttle = cloth.shuttles[number]
            side = side_at(cloth.plan.from_right[pick])
            found[number] = ShuttleStart(shuttle.number, shuttle_yarn(project, number), side)
    return tuple(found.values())


def layer_checks(project: Project, stretch: ClothStretch) -> tuple[LayerCheck, ...]:
    """Return a look under every layer of a stretch but the lowest, from the top down."""
    threading = project.draft.threading
    raised: set[int] = set()
    letters: list[str] = []
    checks = []
    for place, (layer, below) in enumerate(pairwise(stretch.layers)):
        raised |= {threading[end] for end in layer.ends}
        letters.append(letters_of(project.cloth.lanes_in(layer)))
        shafts = tuple(sorted(raised))
        treadles = _treadles_for(frozenset(shafts), project.loom)
        under = letters_of(project.cloth.lanes_in(below))
        folds = _folds_between(stretch, place)
        checks.append(LayerCheck(tuple(letters), under, shafts, treadles, folds))
    return tuple(checks)


def _folds_between(stretch: ClothStretch, upper: int) -> tuple[Side, ...]:
    """Return the sides at which a layer, by its place from the top, is joined to the next one."""
    pair = {upper, upper + 1}
    return tuple(
        fold
        for piece in stretch.pieces
        for layers, fold in zip(
            zip(piece.layers, (*piece.layers[1:], piece.layers[0]), strict=True),
            piece.folds,
            strict=False,  # a flat cloth has a fold less than layers
        )
        if {*layers} == pair
    )


def _treadles_for(shafts: frozenset[int], loom: LoomPlan) -> tuple[int, ...]:
    """Return one treadle or two that together raise just these of the threaded shafts."""
    if not has_ties(loom.action):
        return ()
    return treadles_raising(shafts, loom.tied, loom.threaded, loom.action)
