"""The draft sheet: threading, tie-up, treadling or lifts, colours and drawdown.

Ends and picks are counted from 0 here, in the order in which they are threaded and woven; how a
draft is turned and what its marks mean is said by `conventions` and done where it is drawn.
"""

from __future__ import annotations

from collections.abc import Sequence as Listing
from dataclasses import dataclass
from typing import Final, Literal, TypeVar

import numpy as np
from numpy.typing import NDArray

from cards.cloth.floats import Float, longest_floats
from cards.cloth.layers import layers
from cards.draft.drawdown import drawdown
from cards.draft.stretches import Drawn, Stretch, drawn, period, stretches_of, threads_of
from cards.heading import Heading, card_name, loom_heading_of
from cards.loom.pressing import Treadle
from cards.project.model import Project, ProjectYarn, WovenSection
from cards.sequence import Run, Sequence
from cards.spec import Conventions

Marks = NDArray[np.bool_]
Numbers = NDArray[np.intp]
Shed = tuple[int, ...]
# What a thread does: the shaft of an end, or the shed of a pick.
W = TypeVar("W", int, frozenset[int])

Ties = Literal["rise", "sink", "both"]
_TIES: Final[dict[str, Ties]] = {"rising": "rise", "sinking": "sink", "countermarch": "both"}

# A side of the draft with no more threads than this is drawn whole wherever it fits.
SHOWN_WHOLE: Final = 40
# Repeats are drawn again up to so many threads: fewer do not look like cloth.
LIKE_CLOTH: Final = 24
# Repeats stand for threads that are not drawn only where no more than this share of them is left.
_SAVED: Final = 0.75


@dataclass(frozen=True, slots=True)
class Side:
    """The ends or the picks of a draft: their yarns, and their repeats with and without colour."""

    yarns: tuple[ProjectYarn, ...]
    coloured: tuple[Stretch, ...]
    plain: tuple[Stretch, ...]

    @property
    def total(self) -> int:
        """Threads in all."""
        return len(self.yarns)


@dataclass(frozen=True, slots=True)
class Range:
    """The threads of a side that are drawn; `coloured` if their yarns are those of all repeats."""

    total: int
    drawn: tuple[Drawn, ...]
    coloured: bool

    @property
    def threads(self) -> Numbers:
        """Numbers of the threads that are drawn, shape (threads,)."""
        return threads_of(self.drawn)

    @property
    def count(self) -> int:
        """Threads that are drawn."""
        return sum(each.count for each in self.drawn)

    @property
    def whole(self) -> bool:
        """Whether all threads are drawn."""
        return self.count == self.total


@dataclass(frozen=True, slots=True)
class LongestFloat:
    """A longest float of a warp or weft: `over` or under so many threads of the other kind.

    `thread` and `start` are the thread that floats and the first that it passes, from 0.
    """

    length: int
    thread: int
    start: int
    over: bool
    endless: bool


@dataclass(frozen=True, slots=True)
class SectionDraft:
    """What is woven in all sections that are woven alike, from the first of its picks on.

    `columns` are the treadles pressed, or the shafts raised where `by_treadle` is false; `lifts`
    the shafts raised, and `sheds` one repeat of them. `layers` is 1 where the floats are those of
    the cloth read as one.
    """

    names: tuple[str, ...]
    by_treadle: bool
    sheds: tuple[frozenset[int], ...]
    columns: tuple[Shed, ...]
    lifts: tuple[frozenset[int], ...]
    picks: Side
    warp_float: LongestFloat | None
    weft_float: LongestFloat | None
    layers: int


@dataclass(frozen=True, slots=True)
class DraftSheet:
    """All that the draft sheet says.

    `ties` is what the tie-up shows: the shafts that rise, those that sink, or both where treadles
    of a countermarch are pressed together, each of which moves some of the shafts.
    """

    heading: Heading
    conventions: Conventions
    threading: tuple[int, ...]
    shafts: int
    tied: tuple[Treadle, ...]
    ends: Side
    sections: tuple[SectionDraft, ...]
    yarns: tuple[ProjectYarn, ...]
    floating: int
    shaft_1: str
    action: str
    treadle_1: str
    ties: Ties


@dataclass(frozen=True, slots=True)
class View:
    """One rectangle of a draft: bool arrays in threading and weaving order.

    `threading` has shape (shafts, ends), `treadling` (picks, treadles or shafts), `drawdown`
    (picks, ends), true where the end is over the pick.
    """

    threading: Marks
    treadling: Marks
    drawdown: Marks


def draft_sheet(project: Project) -> DraftSheet:
    """Return the draft sheet of a project: a draft for every kind of section that it has."""
    sections = _sections(project)
    used = {share.yarn.key for share in (*project.warp.by_yarn, *project.weft.by_yarn)}
    tied = project.loom.moved
    raised = (max(lift, default=0) for each in sections for lift in set(each.lifts))
    rising = (max(each.rise, default=0) for each in tied)
    return DraftSheet(
        heading=loom_heading_of(project, card_name(project, "Draft sheet")),
        conventions=project.conventions,
        threading=project.draft.threading,
        shafts=max(*project.draft.threading, *raised, *rising),
        tied=tied,
        ends=_side(project, project.warp.threading, project.warp.order),
        sections=sections,
        yarns=tuple(yarn for yarn in project.yarns if yarn.key in used),
        floating=project.warp.floating,
        shaft_1=project.loom.shaft_1,
        action=project.loom.action,
        treadle_1=project.loom.treadle_1,
        ties=_ties(project),
    )


def _ties(project: Project) -> Ties:
    """Return what the tie-up shows: as the conventions have it, where treadles are pressed alone.

    Of treadles pressed together only the cords say what they do; a tie-up that the author wrote
    for a rising-shed loom is shown as he likes it.
    """
    loom, action = project.loom, project.loom.action
    as_asked = loom.together == 1 or (loom.own and action == "rising")
    if as_asked or action not in _TIES:
        return "rise" if project.conventions.tie_up == "rise" else "sink"
    return _TIES[action]


def _sections(project: Project) -> tuple[SectionDraft, ...]:
    """Return a draft for all sections that repeat the same sheds with the same weft."""
    alike: dict[object, list[WovenSection]] = {}
    for section in project.weft.sections:
        sheds, weft = section.sheds.values(), section.weft.values()
        repeat = (tuple(sheds[: period(sheds)]), tuple(weft[: period(weft)]))
        alike.setdefault((section.by_treadle, *repeat), []).append(section)
    return tuple(_section(project, each) for each in alike.values())


def _section(project: Project, alike: list[WovenSection]) -> SectionDraft:
    section = max(alike, key=lambda each: each.picks)
    by_treadle = section.by_treadle
    lifts = project.draft.lifts[section.first_pick : section.first_pick + section.picks]
    columns = section.sheds.values() if by_treadle else lifts
    sheds = lifts[: period(lifts)]
    cloth, ends = _repeat(project.draft.threading, sheds)
    picks = len(sheds) < len(lifts)
    floats, parted = _floats(cloth, project.sett.layers, ends=ends, picks=picks)
    return SectionDraft(
        names=tuple(dict.fromkeys(each.name for each in alike)),
        by_treadle=by_treadle,
        sheds=sheds,
        columns=tuple(tuple(sorted(shed)) for shed in columns),
        lifts=lifts,
        picks=_side(project, section.sheds, section.weft),
        warp_float=floats[0],
        weft_float=floats[1],
        layers=parted,
    )


def _side(project: Project, works: Sequence[W], order: Sequence[str]) -> Side:
    """Return the ends, or the picks, with the repeats of what they do and of that with yarns."""
    keys = order.values()
    named = {key: project.yarn(key) for key in set(keys)}
    plain = coloured = stretches_of(works)
    if len(named) > 1:
        pairs = zip(works.values(), keys, strict=True)
        coloured = stretches_of(Sequence(tuple(Run(pair) for pair in pairs)))
    return Side(tuple(named[key] for key in keys), coloured, plain)


def range_of(side: Side, room: int) -> Range | None:
    """Return what to draw of a side where `room` threads have room, or None if no repeat fits.

    All of it if it is short; else its repeats with their colours, else the repeats of the weave
    alone; else all of it if that fits.
    """
    if side.total <= min(room, SHOWN_WHOLE):
        return whole_range(side)
    if side.total <= room and shortest_range(side).whole:
        return whole_range(side)
    for found in (side.coloured, side.plain):
        chosen = drawn(found, room, min(room, LIKE_CLOTH))
        if chosen is not None:
            return Range(side.total, chosen, coloured=found == side.coloured)
    return whole_range(side) if side.total <= room else None


def whole_range(side: Side) -> Range:
    """Return all threads of a side."""
    return Range(side.total, (Drawn(Stretch(0, side.total), 1),), coloured=True)


def shortest_range(side: Side) -> Range:
    """Return the fewest threads that show a side, for a draft that goes on over several pages.

    Repeats that save little are written out, for they are only in the way.
    """
    found = min((side.coloured, side.plain), key=lambda each: sum(one.once for one in each))
    chosen = drawn(found, round(_SAVED * side.total), 0)
    if chosen is None:
        return whole_range(side)
    return Range(side.total, chosen, coloured=found == side.coloured)


def view(card: DraftSheet, section: SectionDraft, ends: Numbers, picks: Numbers) -> View:
    """Return the rectangle of a section's draft that these ends and picks make."""
    threading = [card.threading[end] for end in ends]
    lifts = [section.lifts[pick] for pick in picks]
    width = len(columns_of(card, section))
    names = {name: place for place, name in enumerate(columns_of(card, section))}
    treadling = np.zeros((len(lifts), width), dtype=np.bool_)
    for row, pick in enumerate(picks):
        treadling[row, [names[each] for each in section.columns[pick]]] = True
    entered = np.zeros((card.shafts, len(threading)), dtype=np.bool_)
    entered[np.asarray(threading, dtype=np.intp) - 1, np.arange(len(threading))] = True
    return View(entered, treadling, drawdown(threading, lifts))


def columns_of(card: DraftSheet, section: SectionDraft) -> tuple[int, ...]:
    """Return the numbers of the treadles, or of the shafts of a lift plan, in order."""
    if section.by_treadle:
        return tuple(each.number for each in card.tied)
    return tuple(range(1, card.shafts + 1))


def _repeat(threading: Listing[int], sheds: Listing[frozenset[int]]) -> tuple[Marks, bool]:
    """Return one repeat of the cloth, and whether it goes on across its ends."""
    ends = period(threading)
    return drawdown(threading[:ends], sheds), ends < len(threading)


LongestFloats = tuple[LongestFloat | None, LongestFloat | None]


def _floats(cloth: Marks, expected: int, *, ends: bool, picks: bool) -> tuple[LongestFloats, int]:
    """Return the longest floats of warp and weft, and the layers in which they were looked for.

    A cloth of layers is asked layer by layer; one that does not part as expected, as one cloth.
    """
    parts = layers(cloth) if expected > 1 else ()
    woven = [part for part in parts if part.ends and part.picks]
    if expected == 1 or len(woven) != expected or len(woven) != len(parts):
        every = (np.arange(cloth.shape[1]), np.arange(cloth.shape[0]))
        return _floats_within(cloth, *every, across=ends, along=picks), 1
    found = [
        _floats_within(
            cloth, np.asarray(part.ends), np.asarray(part.picks), across=ends, along=picks
        )
        for part in woven
    ]
    warp, weft = (_longest([each[kind] for each in found]) for kind in (0, 1))
    return (warp, weft), len(woven)


def _longest(floats: Listing[LongestFloat | None]) -> LongestFloat | None:
    return max(
        (each for each in floats if each is not None), key=lambda each: each.length, default=None
    )


def _floats_within(
    cloth: Marks, ends: Numbers, picks: Numbers, *, across: bool, along: bool
) -> LongestFloats:
    """Return the floats of some ends and picks; `across` and `along` tell which repeat goes on."""
    part = cloth[np.ix_(picks, ends)]
    by_pick = longest_floats(part, repeats=along)
    by_end = by_pick if across == along else longest_floats(part, repeats=across)
    return (
        _told(by_pick.warp, by_pick.warp_face, ends, picks),
        _told(by_end.weft, by_end.weft_face, picks, ends),
    )


def _told(
    longest: Float | None, face: Float | None, threads: Numbers, passed: Numbers
) -> LongestFloat | None:
    if longest is None:
        return None
    return LongestFloat(
        length=longest.length,
        thread=int(threads[longest.thread]),
        start=int(passed[longest.start]),
        over=longest is face,
        endless=longest.endless,
    )
