"""The builder of layered drafts: from layers and joins to threading, lifts and shuttles.

A pick of a layer raises all shafts of the layers above it and those of its own shed (Taylor, Cotton
Weaving and Designing, 6th ed., 1909, of three and four plain cloths). Threading and sheds are
those with which the weave runs on over every fold and edge of every section.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from cards.draft.closed_sheds import closed_sheds
from cards.draft.course import ALL, Course
from cards.draft.layer_threading import layer_shafts
from cards.draft.layer_weave import PLAIN, LayerWeave, Shed
from cards.draft.piece_search import (
    MOST_SHAFTS,
    DoubleWeaveError,
    Found,
    PieceWanted,
    SectionWanted,
    course_of,
    lengthened,
    names_of,
    nothing_fits,
    search,
)

MOST_LAYERS: Final = 8


@dataclass(frozen=True, slots=True, eq=False)
class LayeredPiece:
    """A layered draft; layers and shuttles from 0, shafts from 1.

    `threading` and `end_layers` are by end, first end first; `lifts` is by pick, as is all in
    `course`. `shafts` has those of each layer, `picks` the picks of each section. `skip` is how
    many ends of the threading's repeat are left out before the first. `chosen` says what was
    chosen, and why; `of_ends` what was done to the ends.
    """

    threading: tuple[int, ...]
    end_layers: tuple[int, ...]
    shafts: tuple[tuple[int, ...], ...]
    skip: int
    lifts: tuple[Shed, ...]
    course: Course
    picks: tuple[int, ...]
    chosen: tuple[str, ...]
    of_ends: str = ""

    @property
    def warps(self) -> tuple[tuple[int, ...], ...]:
        """The ends of each layer."""
        return tuple(
            tuple(end for end, each in enumerate(self.end_layers) if each == layer)
            for layer in range(len(self.shafts))
        )


def build_piece(wanted: PieceWanted) -> LayeredPiece:
    """Return the draft of a layered piece.

    Raises DoubleWeaveError when what is asked for makes no cloth, needs more shafts than there are,
    or when the weave cannot run on over every fold.
    """
    wanted = _completed(wanted)
    course = course_of(wanted)
    found = search(wanted)
    grown = ""
    if found is None:
        longer = lengthened(wanted)
        if longer is None:
            raise nothing_fits(wanted)
        wanted, grown, found = longer
        course = course_of(wanted)
    told = (*_told(wanted, found), *filter(None, (grown,)))
    piece = _piece(wanted, course, found, told)
    return replace(piece, of_ends=found.change.told)


def _completed(wanted: PieceWanted) -> PieceWanted:
    """Return what is wanted with a weave and a number of ends for each layer, after a check."""
    count = wanted.layers
    if not 2 <= count <= MOST_LAYERS:
        raise DoubleWeaveError(f"{count} layers", f"2 to {MOST_LAYERS} layers can be woven")
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
            f"{count} layers of {names_of(weaves)} need {needed} shafts, and there are {most}",
            _fewer_layers(weaves, most),
        )
    return replace(wanted, weaves=weaves, ratio=ratio, shafts=most)


def _fewer_layers(weaves: tuple[LayerWeave, ...], most: int) -> str:
    fit = 0
    while sum(weave.shafts for weave in weaves[: fit + 1]) <= most:
        fit += 1
    return f"{fit} layers fit" if fit >= 2 else "two layers need a smaller weave, or more shafts"


def _told(wanted: PieceWanted, found: Found) -> tuple[str, ...]:
    """Return what was chosen, in words."""
    joins = [section.course.joins for section in wanted.sections]
    joined = [each for each in joins if each.joined]
    tubes = bool(joined) and all(each.tube for each in joined)
    where = "both edges of the tube" if tubes else "every fold"
    why = f"so that {names_of(wanted.weaves)} can run on over {where}"
    if not found.unbroken:
        why = f"so that no float grows over {'an edge of the tube' if tubes else 'a fold'}"
    change, chosen = found.change, []
    if change.ends != wanted.ends:
        odd = any(each.tube for each in joins) and set(wanted.weaves) == {PLAIN}
        cause = "because a tube of plain weave needs an odd number" if odd else why
        chosen.append(f"{change.told}, which makes {change.ends}, {cause}")
    elif change.told:
        chosen.append(f"{change.told}, {why}")
    told: dict[str, None] = {}
    for ways in found.ways:
        for layer, way in enumerate(ways):
            if way.told:
                told[f"layer {layer + 1} {_verb(way.told)}, {why}"] = None
    chosen += told
    if joined and not found.unbroken:
        chosen.append(f"the pattern breaks at {where}, though no float is longer there")
    return tuple(chosen)


def _verb(told: str) -> str:
    return told if told.startswith("begins") else f"is lifted {told}"


def _piece(
    wanted: PieceWanted, course: Course, found: Found, chosen: tuple[str, ...]
) -> LayeredPiece:
    shafts = layer_shafts(wanted.weaves, wanted.arrangement)
    ends = zip(found.threading.layers, found.threading.own_shafts, strict=True)
    threading = tuple(shafts[layer][own - 1] for layer, own in ends)
    lifts: list[Shed] = []
    for section in wanted.sections:
        here = slice(len(lifts), len(lifts) + section.course.picks)
        lifts += _lifts(section, course, here, found, threading, shafts)
    return LayeredPiece(
        threading=threading,
        end_layers=found.threading.layers,
        shafts=shafts,
        skip=found.change.skip,
        lifts=tuple(lifts),
        course=course,
        picks=tuple(section.course.picks for section in wanted.sections),
        chosen=chosen,
    )


def _lifts(
    section: SectionWanted,
    course: Course,
    here: slice,
    found: Found,
    threading: tuple[int, ...],
    shafts: tuple[tuple[int, ...], ...],
) -> list[Shed]:
    """Return the lifts of a section: the layers above, and the own shed."""
    both = closed_sheds(threading, shafts)[:2] if section.course.joins.closed else ()
    above = {
        layer: frozenset(shaft for each in section.stack[:place] for shaft in shafts[each])
        for place, layer in enumerate(section.stack)
    }
    known: dict[tuple[int, int, int], Shed] = {}
    lifts = []
    picks = (course.layers[here], course.visits[here], course.spells[here])
    for layer, visit, spell in zip(*(each.tolist() for each in picks), strict=True):
        if layer == ALL:
            lifts.append(both[visit % 2])
            continue
        sheds = found.ways[spell][layer].lifts
        key = layer, visit % len(sheds), spell
        if key not in known:
            own = frozenset(shafts[layer][shaft - 1] for shaft in sheds[key[1]])
            known[key] = above[layer] | own
        lifts.append(known[key])
    return lifts
