"""The builder of layered drafts: from layers and joins to threading, lifts and shuttles.

A pick of a layer raises all shafts of the layers above it and those of its own shed (Taylor, Cotton
Weaving and Designing, 6th ed., 1909, of three and four plain cloths). The builder looks for sheds
to begin at, for a place in the threading, and at last for ends to drop or add, until the weave
runs on over every fold and edge; the finished draft is then analysed as any other would be.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from cards.cloth.continuity import find_faults, fold_faults
from cards.cloth.layers import Layer, layers
from cards.cloth.pieces import Piece, find_pieces
from cards.cloth.weft_path import Side, other_side, side_at
from cards.draft.drawdown import drawdown
from cards.draft.layer_threading import (
    Arrangement,
    LayerThreading,
    layer_shafts,
    repeat_of,
    thread,
)
from cards.draft.layer_weave import PLAIN, LayerWeave, Shed
from cards.draft.phases import PhaseSearch, Way
from cards.draft.shuttle_walk import Join, Walk, joints, once_through, path_of, walk

MOST_LAYERS: Final = 8
MOST_SHAFTS: Final = 40


class DoubleWeaveError(ValueError):
    """No such cloth can be woven: why not, and what would do (`mend`)."""

    def __init__(self, why: str, mend: str) -> None:
        super().__init__(f"{why} ({mend})")
        self.why = why
        self.mend = mend


@dataclass(frozen=True, slots=True)
class Wanted:
    """A layered cloth that is asked for; `ends` are those of all layers.

    `join`: the side of the first fold, the others alternate; `tube` for two layers; or `none`.
    `weaves`: one for all layers or one each, top first. `ratio`: the ends of each layer in a round,
    one each by default; separate layers have their picks in the same ratio. `start` is the side at
    which all shuttles start. With `keep_ends` no end is dropped or added.
    """

    ends: int
    layers: int = 2
    join: Join = "none"
    start: Side = "right"
    first_end: Side = "right"
    arrangement: Arrangement = "straight"
    weaves: tuple[LayerWeave, ...] = (PLAIN,)
    ratio: tuple[int, ...] = ()
    shafts: int = MOST_SHAFTS
    keep_ends: bool = False


@dataclass(frozen=True, slots=True)
class DoubleWeave:
    """A layered draft, one repeat of its picks; layers and shuttles from 0, shafts from 1.

    `threading` and `end_layers` are by end, first end first. `lifts`, `pick_layers`, `shuttles` and
    `sides` (from which the shuttle comes) are by pick. `shafts` has those of each layer; `pieces`
    is the cloth; `chosen` says what was chosen, and why.
    """

    threading: tuple[int, ...]
    end_layers: tuple[int, ...]
    shafts: tuple[tuple[int, ...], ...]
    lifts: tuple[Shed, ...]
    pick_layers: tuple[int, ...]
    shuttles: tuple[int, ...]
    sides: tuple[Side, ...]
    pieces: tuple[Piece, ...]
    chosen: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Change:
    """So many ends after `skip` of the threading's repeat, and what is told of it."""

    ends: int
    skip: int
    told: str = ""


def build(wanted: Wanted) -> DoubleWeave:
    """Return the draft of a layered cloth.

    Raises DoubleWeaveError when what is asked for makes no cloth, needs more shafts than there are,
    or when the weave cannot run on over every fold and edge.
    """
    wanted = _completed(wanted)
    order = once_through(wanted.layers, wanted.join, wanted.start, wanted.ratio)
    course = walk(order, wanted.join, [len(weave.lifts) for weave in wanted.weaves])
    found = _found(wanted, course)
    if found is None:
        raise _nothing_fits(wanted, course)
    change, threading, ways, unbroken = found
    draft = _draft(wanted, course, threading, ways, _told(wanted, change, ways, unbroken=unbroken))
    _prove(wanted, course, draft, threading)
    return draft


def _completed(wanted: Wanted) -> Wanted:
    """Return what is wanted with a weave and a number of ends for each layer, after a check."""
    count = wanted.layers
    if not 2 <= count <= MOST_LAYERS:
        raise DoubleWeaveError(f"{count} layers", f"2 to {MOST_LAYERS} layers can be woven")
    if wanted.join == "tube" and count != 2:
        raise DoubleWeaveError(
            f"a tube of {count} layers", "a tube has 2; more layers fold left and right by turns"
        )
    weaves, ratio = wanted.weaves, wanted.ratio or (1,) * count
    if len(weaves) == 1:
        weaves *= count
    if len(weaves) != count:
        raise DoubleWeaveError(
            f"{len(weaves)} weaves for {count} layers", "give one weave for all, or one each"
        )
    if len(ratio) != count or min(ratio) < 1:
        raise DoubleWeaveError(
            f"the ratio {':'.join(map(str, ratio))} for {count} layers",
            "give the ends of each layer in a round, one or more of each",
        )
    needed = sum(weave.shafts for weave in weaves)
    most = min(wanted.shafts, MOST_SHAFTS)
    if needed > most:
        raise DoubleWeaveError(
            f"{count} layers of {_names(weaves)} need {needed} shafts, and there are {most}",
            _fewer_layers(weaves, most),
        )
    return replace(wanted, weaves=weaves, ratio=ratio, shafts=most)


def _fewer_layers(weaves: tuple[LayerWeave, ...], most: int) -> str:
    fit = 0
    while sum(weave.shafts for weave in weaves[: fit + 1]) <= most:
        fit += 1
    return f"{fit} layers fit" if fit >= 2 else "two layers need a smaller weave, or more shafts"


def _names(weaves: tuple[LayerWeave, ...]) -> str:
    return " and ".join(dict.fromkeys(weave.name for weave in weaves))


def _changes(wanted: Wanted) -> Iterator[_Change]:
    """Yield what may be done to the threading, the least first."""
    ends, repeat = wanted.ends, repeat_of(wanted.weaves, wanted.ratio)
    yield _Change(ends, 0)
    for skip in range(1, repeat):
        yield _Change(ends, skip, f"the threading begins with end {skip + 1} of its repeat")
    if wanted.keep_ends:
        return
    last = other_side(wanted.first_end)
    cycle = max(len(weave.threading) for weave in wanted.weaves)
    for some in range(1, cycle):
        told = f"{some} end{'s' * (some > 1)} {{}} at the {{}}"
        yield _Change(ends - some, 0, told.format("dropped", last))
        yield _Change(ends - some, some, told.format("dropped", wanted.first_end))
        yield _Change(ends + some, 0, told.format("added", last))
        yield _Change(ends + some, -some % repeat, told.format("added", wanted.first_end))


def _found(
    wanted: Wanted, course: Walk
) -> tuple[_Change, LayerThreading, tuple[Way, ...], bool] | None:
    """Return the first threading and sheds with which the weave runs on, unbroken if it can be."""
    search = PhaseSearch(wanted.weaves, joints(course, wanted.start), wanted.first_end)
    alike = all(search.alike(joint) for joint in search.joints)
    for unbroken in (True, False):
        for change in _changes(wanted):
            threading = thread(change.ends, change.skip, wanted.weaves, wanted.ratio)
            narrow = _too_narrow(wanted, threading)
            if narrow and not change.told:
                raise narrow
            ways = None if narrow else search.ways(threading, unbroken=unbroken)
            if ways:
                return change, threading, ways, unbroken and alike
    return None


def _too_narrow(wanted: Wanted, threading: LayerThreading) -> DoubleWeaveError | None:
    """Return why a layer is too narrow for its weave, if one is."""
    for layer, weave in enumerate(wanted.weaves):
        ends = threading.layers.count(layer)
        if ends < len(weave.threading):
            return DoubleWeaveError(
                f"layer {layer + 1} has {ends} of {len(threading.layers)} ends",
                f"one repeat of {weave.name} takes {len(weave.threading)} ends of that layer",
            )
    return None


def _nothing_fits(wanted: Wanted, course: Walk) -> DoubleWeaveError:
    """Return why nothing fits, and what would."""
    what = {"tube": "the edges of a tube"}.get(wanted.join, "every fold")
    why = f"the weave ({_names(wanted.weaves)}) does not run on over {what} with {wanted.ends} ends"
    if wanted.keep_ends:
        found = _found(replace(wanted, keep_ends=False), course)
        if found:
            return DoubleWeaveError(why, f"{found[0].ends} would do: {found[0].told}")
    else:
        why += ", or a few more or less"
    return DoubleWeaveError(why, "plain weave would, or weave the layers apart")


def _told(
    wanted: Wanted, change: _Change, ways: tuple[Way, ...], *, unbroken: bool
) -> tuple[str, ...]:
    """Return what was chosen, in words."""
    where = "both edges of the tube" if wanted.join == "tube" else "every fold"
    runs = f"runs on over {where}" if unbroken else f"makes no longer float at {where}"
    why = f"so that {_names(wanted.weaves)} {runs}"
    chosen = []
    if change.ends != wanted.ends:
        odd = wanted.join == "tube" and set(wanted.weaves) == {PLAIN}
        cause = "because a tube of plain weave needs an odd number" if odd else why
        chosen.append(f"{change.told}, which makes {change.ends}, {cause}")
    elif change.told:
        chosen.append(f"{change.told}, {why}")
    chosen += [
        f"layer {layer + 1} {_verb(way.told)}, {why}" for layer, way in enumerate(ways) if way.told
    ]
    if wanted.join != "none" and not unbroken:
        chosen.append(f"the pattern breaks at {where}, though no float is longer there")
    return tuple(chosen)


def _verb(told: str) -> str:
    return told if told.startswith("begins") else f"is lifted {told}"


def _draft(
    wanted: Wanted,
    course: Walk,
    threading: LayerThreading,
    ways: tuple[Way, ...],
    chosen: tuple[str, ...],
) -> DoubleWeave:
    shafts = layer_shafts(wanted.weaves, wanted.arrangement)
    lifts = []
    for layer, visit in zip(course.layers, course.visits, strict=True):
        shed = ways[layer].lifts[visit % len(ways[layer].lifts)]
        above = (shaft for each in shafts[:layer] for shaft in each)
        lifts.append(frozenset(above) | {shafts[layer][own - 1] for own in shed})
    path = path_of(course, wanted.start, wanted.first_end, times=2)
    return DoubleWeave(
        threading=tuple(
            shafts[layer][own - 1]
            for layer, own in zip(threading.layers, threading.own_shafts, strict=True)
        ),
        end_layers=threading.layers,
        shafts=shafts,
        lifts=tuple(lifts),
        pick_layers=course.layers,
        shuttles=course.shuttles,
        sides=tuple(side_at(right) for right in path.plan.from_right[: len(lifts)].tolist()),
        pieces=find_pieces(path),
        chosen=chosen,
    )


def _prove(wanted: Wanted, course: Walk, draft: DoubleWeave, threading: LayerThreading) -> None:
    """Analyse two repeats of the draft; refuse one that is not the cloth asked for.

    This also finds a weave that falls apart in itself.
    """
    cells = drawdown(draft.threading, draft.lifts * 2)
    picks = course.layers * 2
    asked = tuple(
        Layer(threading.ends_of(layer), tuple(i for i, each in enumerate(picks) if each == layer))
        for layer in range(wanted.layers)
    )
    if layers(cells) != asked:
        raise DoubleWeaveError(
            f"{_names(wanted.weaves)} does not hang together in every layer",
            "each layer needs a weave that binds all its ends and picks",
        )
    path = path_of(course, wanted.start, wanted.first_end, times=2)
    faults = fold_faults(find_faults(cells, asked, path))
    if faults or any(piece.kind == "odd" for piece in draft.pieces):
        raise DoubleWeaveError(
            f"the cloth has {len(faults)} faults at its folds", "plain weave would have none"
        )
