"""The part of the draft that an exercise shows: whole repeats, few enough to be written in.

Threads are those of the first kind of piece. The selvedges are left out: they are not the pattern.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from cards.draft.drawdown import drawdown
from cards.draft.stretches import period
from cards.draft_sheet import Ties, draft_sheet
from cards.exercises.exercise import CannotExercise, Field, Marks, Picture
from cards.figures import count
from cards.loom.pressing import Treadle
from cards.project.at_the_loom import LoomPlan
from cards.project.model import Project, ProjectYarn, WovenSection
from cards.spec import Conventions, ExercisePart
from cards.spec.words import near_miss

# Cells of 6 mm for so many ends, and as many treadles as most looms have, go on paper of A5.
ENDS: Final = 16
PICKS: Final = 12

Shed = frozenset[int]


@dataclass(frozen=True, eq=False, slots=True)
class Part:
    """The part of a draft that is shown, and its own numbers, from 0, of ends and picks.

    `pressed` are the treadles of each pick, or its shafts where there is no tie-up, and `tied` what
    each treadle that the section uses moves when it is pressed alone; `loom` has their cords.
    `threaded` are the shafts on which the whole warp has ends.
    """

    section: WovenSection
    ends: range
    picks: range
    threading: tuple[int, ...]
    pressed: tuple[Shed, ...]
    lifts: tuple[Shed, ...]
    shafts: int
    columns: tuple[int, ...]
    tied: tuple[Treadle, ...]
    ties: Ties
    loom: LoomPlan
    ways: Conventions
    layers: int
    threaded: frozenset[int]
    warp: tuple[ProjectYarn, ...]
    weft: tuple[ProjectYarn, ...]
    words: str

    @property
    def over(self) -> Marks:
        """The drawdown, shape (picks, ends), true where the end is over the pick."""
        return drawdown(self.threading, self.lifts)

    def woven(self, threading: Sequence[int]) -> Marks:
        """Return what another threading would weave with the same lifts."""
        return drawdown(threading, self.lifts)

    def rising(self, shaft: int) -> tuple[bool, ...]:
        """Return at which of the picks a shaft is raised."""
        return tuple(shaft in lift for lift in self.lifts)

    def picture(self) -> Picture:
        """Return the part drawn with nothing left blank."""
        columns = {name: place for place, name in enumerate(self.columns)}
        threading = np.zeros((self.shafts, len(self.threading)), dtype=np.bool_)
        threading[np.asarray(self.threading) - 1, np.arange(len(self.threading))] = True
        treadling = np.zeros((len(self.pressed), len(columns)), dtype=np.bool_)
        for row, pressed in enumerate(self.pressed):
            treadling[row, [columns[each] for each in pressed]] = True
        return Picture(
            tuple(self.ends),
            tuple(self.picks),
            self.columns,
            Field.given(threading),
            self._tie_up(),
            Field.given(treadling),
            Field.given(self.over),
            self.ties,
        )

    def _tie_up(self) -> Field | None:
        if not self.tied:
            return None
        rises, sinks = (
            np.array(
                [[shaft in getattr(each, way) for each in self.tied] for shaft in self._shafts()],
                dtype=np.bool_,
            )
            for way in ("rise", "sink")
        )
        if self.ties == "both":
            return Field.given(rises, sinks)
        return Field.given(rises if self.ties == "rise" else sinks)

    def _shafts(self) -> range:
        return range(1, self.shafts + 1)


def part_of(project: Project, wanted: ExercisePart, *, colours: bool = False) -> Part:
    """Return the part that is wanted, or a part with whole repeats.

    With `colours` it is chosen by the yarns and not by the weave. Raises CannotExercise for threads
    or a section that are not there.
    """
    section = _section(project, wanted)
    draft, sheet = project.draft, draft_sheet(project)
    picks = slice(section.first_pick, section.first_pick + section.picks)
    lifts, weft = draft.lifts[picks], draft.weft[picks]
    order = project.warp.order.values()
    pressed = section.sheds.values() if section.by_treadle else list(lifts)
    first, last = project.warp.selvedges
    inner = range(first, len(draft.threading) - last) or range(len(draft.threading))
    ends = _chosen(
        list(zip(draft.threading, order, strict=True)) if colours else list(draft.threading),
        inner,
        wanted.first_end,
        wanted.ends,
        "ends",
        order if colours else draft.threading,
    )
    shown = _chosen(
        list(zip(pressed, weft, strict=True)) if colours else list(pressed),
        range(len(pressed)),
        wanted.first_pick,
        wanted.picks,
        "picks",
        weft if colours else pressed,
    )
    used = frozenset().union(*pressed)
    by_treadle = section.by_treadle
    tied = tuple(each for each in sheet.tied if each.number in used) if by_treadle else ()
    return Part(
        section,
        ends,
        shown,
        tuple(draft.threading[end] for end in ends),
        tuple(pressed[pick] for pick in shown),
        tuple(lifts[pick] for pick in shown),
        sheet.shafts,
        tuple(each.number for each in tied) if by_treadle else tuple(range(1, sheet.shafts + 1)),
        tied,
        sheet.ties,
        project.loom,
        project.conventions,
        project.sett.layers,
        frozenset(draft.threading),
        tuple(project.yarn(order[end]) for end in ends),
        tuple(project.yarn(weft[pick]) for pick in shown),
        _words(project, section, ends, shown),
    )


def _section(project: Project, wanted: ExercisePart) -> WovenSection:
    sections = project.weft.sections
    if wanted.section is None:
        return max(sections, key=lambda each: each.picks)
    named = wanted.section.casefold()
    found = next((each for each in sections if each.name.casefold() == named), None)
    if found is None:
        names = list(dict.fromkeys(each.name for each in sections))
        near = near_miss(wanted.section, names)
        raise CannotExercise(
            "error",
            "no-such-section",
            f"there is no section '{wanted.section}'",
            f"did you mean '{near}'?" if near else f"there are {', '.join(names)}",
            "part",
            "section",
        )
    return found


def _chosen(
    does: list[Hashable],
    inner: range,
    first: int | None,
    number: int | None,
    name: str,
    told: Sequence[Hashable],
) -> range:
    """Return the threads to show: those wanted, or whole repeats of what the threads do.

    Where no repeat is short enough, those are shown among which `told` differs the most.
    """
    most = ENDS if name == "ends" else PICKS
    there = does[inner.start : inner.stop]
    if number is None:
        once = period(there)
        number = min(len(there), once * (most // once) if once <= most else most)
    if first is None:
        start = inner.start + _liveliest(told[inner.start : inner.stop], number)
    else:
        start = first - 1
    if start + number > len(does):
        key = "ends" if name == "ends" else "picks"
        if first is not None and first > len(does):
            key = f"first_{key.removesuffix('s')}"
        raise CannotExercise(
            "error",
            "beyond-the-draft",
            f"{name} {start + 1} to {start + number} are to be shown, and there are "
            f"{count(len(does))}",
            f"show {name} that are there",
            "part",
            key,
        )
    return range(start, start + number)


def _liveliest(told: Sequence[Hashable], number: int) -> int:
    """Return where the first so many threads begin among which the most differ and change."""
    if number >= len(told):
        return 0
    changes = [one != two for one, two in pairwise(told)]
    starts = range(min(len(told) - number, 2000) + 1)
    return max(
        starts,
        key=lambda at: (
            len(set(told[at : at + number])),
            min(sum(changes[at : at + number - 1]), number // 2),
            -at,
        ),
    )


def _words(project: Project, section: WovenSection, ends: range, picks: range) -> str:
    every = project.draft.threading
    of = f" of “{section.name}”" if len(project.weft.sections) > 1 else ""
    return (
        f"Ends {ends.start + 1} to {ends.stop} of {count(len(every))}, "
        f"picks {picks.start + 1} to {picks.stop}{of}."
    )
