"""The part of the draft that an exercise shows: whole repeats, few enough to be written in.

Threads are those of the first kind of piece. The selvedges are left out: they are not the pattern.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cards.draft.drawdown import drawdown
from cards.draft_sheet import Ties, draft_sheet
from cards.exercises.exercise import CannotExercise, Field, Marks, ShownDraft
from cards.exercises.threads import PICKS, Choice, most_ends
from cards.figures import count
from cards.loom.pressing import Treadle
from cards.project.at_the_loom import LoomPlan
from cards.project.model import Project, ProjectYarn, WovenSection
from cards.spec import Conventions, ExercisePart
from cards.spec.words import near_miss

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

    def picture(self) -> ShownDraft:
        """Return the part drawn with nothing left blank."""
        columns = {name: place for place, name in enumerate(self.columns)}
        threading = np.zeros((self.shafts, len(self.threading)), dtype=np.bool_)
        threading[np.asarray(self.threading) - 1, np.arange(len(self.threading))] = True
        treadling = np.zeros((len(self.pressed), len(columns)), dtype=np.bool_)
        for row, pressed in enumerate(self.pressed):
            treadling[row, [columns[each] for each in pressed]] = True
        return ShownDraft(
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
    rows = slice(section.first_pick, section.first_pick + section.picks)
    lifts, weft, order = draft.lifts[rows], draft.weft[rows], project.warp.order.values()
    pressed = section.sheds.values() if section.by_treadle else list(lifts)
    used = frozenset().union(*pressed)
    tied = tuple(each for each in sheet.tied if section.by_treadle and each.number in used)
    columns = tuple(each.number for each in tied) or tuple(range(1, sheet.shafts + 1))
    most = most_ends(len(columns), colours=colours)
    ends = _ends(project, wanted, order, most, colours=colours)
    choice = Choice("picks", range(len(pressed)), wanted.first_pick, wanted.picks, PICKS)
    picks = (
        choice.of(list(zip(pressed, weft, strict=True)), weft) if colours else choice.of(pressed)
    )
    return Part(
        section,
        ends,
        picks,
        tuple(draft.threading[end] for end in ends),
        tuple(pressed[pick] for pick in picks),
        tuple(lifts[pick] for pick in picks),
        sheet.shafts,
        columns,
        tied,
        sheet.ties,
        project.loom,
        project.conventions,
        project.sett.layers,
        frozenset(draft.threading),
        tuple(project.yarn(order[end]) for end in ends),
        tuple(project.yarn(weft[pick]) for pick in picks),
        _words(project, section, ends, picks),
    )


def _ends(
    project: Project, wanted: ExercisePart, order: list[str], most: int, *, colours: bool
) -> range:
    """Return the ends to show, of those within the selvedges if no others are wanted."""
    threading, (first, last) = project.draft.threading, project.warp.selvedges
    inner = range(first, len(threading) - last) or range(len(threading))
    choice = Choice("ends", inner, wanted.first_end, wanted.ends, most)
    if colours:
        return choice.of(list(zip(threading, order, strict=True)), order)
    return choice.of(threading)


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


def _words(project: Project, section: WovenSection, ends: range, picks: range) -> str:
    every = project.draft.threading
    of = f" of “{section.name}”" if len(project.weft.sections) > 1 else ""
    return (
        f"Ends {ends.start + 1} to {ends.stop} of {count(len(every))}, "
        f"picks {picks.start + 1} to {picks.stop}{of}."
    )
