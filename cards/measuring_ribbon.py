"""The measuring ribbon: pinned along the cloth, it shows where each part of a piece begins.

Lengths are those of the pick tally, read on the loom under tension from the start of a piece.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Final, Literal

from cards.figures import Figures
from cards.heading import Heading, card_name, heading_of
from cards.layer_marks import layered_section, shuttle_yarn
from cards.project.model import Project, ProjectYarn, WovenSection
from cards.units import INCH

Kind = Literal["section", "hem", "weft", "look", "count", "end", "fringe", "next"]

# Stripes of weft lower than this, in mm, are marked together: a mark for each could not be read.
_LEAST_STRIPE: Final = 5.0
# How often to look between layers and to count picks, in mm (a weaver's account: every few inches).
_STEP: Final = {"metric": 100.0, "imperial": float(4 * INCH)}
# A count nearer to another mark than this would only hide it.
_CLEAR: Final = 12.0
_HAIR: Final = 1e-6


@dataclass(frozen=True, slots=True)
class RibbonMark:
    """A mark `at` mm on the loom: what it is, in words, the picks woven so far, wefts from here on.

    `picks` is None where nothing is woven. `yarns` are the wefts that begin, several where they
    change from stripe to stripe. `look` tells to look between the layers there too.
    """

    at: float
    kind: Kind
    words: str
    picks: int | None
    yarns: tuple[ProjectYarn, ...] = ()
    look: bool = False


@dataclass(frozen=True, slots=True)
class MeasuringRibbon:
    """All that the measuring ribbon says of a kind of piece. Lengths are mm under tension.

    `pieces` are those that it serves, `before` what is woven before the first of them. `length` is
    that of the ribbon, `piece_length` that of the piece alone.
    """

    heading: Heading
    figures: Figures
    pieces: int
    before: float
    length: float
    piece_length: float
    picks: int
    marks: tuple[RibbonMark, ...]

    @property
    def looks(self) -> bool:
        """Whether there are layers to look between."""
        return any(mark.look for mark in self.marks)


def measuring_ribbon(project: Project) -> MeasuringRibbon:
    """Return the measuring ribbon of a project, or of one kind of its pieces."""
    weft, around = project.weft, project.weft.around
    marks = [*_sections(project), *_hems(project)]
    marks = _joined([*marks, *_wefts(project)])
    marks += _ends(project)
    marks = _looked(marks, list(_looks(project)))
    marks += _counts(project, marks)
    marks.sort(key=lambda mark: mark.at)
    return MeasuringRibbon(
        heading=heading_of(project, card_name(project, "Measuring ribbon")),
        figures=Figures(project.units),
        pieces=weft.pieces,
        before=around.header + around.sample,
        length=marks[-1].at,
        piece_length=sum(section.length for section in weft.sections),
        picks=weft.picks_each,
        marks=tuple(marks),
    )


def _sections(project: Project) -> Iterator[RibbonMark]:
    for section in project.weft.sections:
        yield RibbonMark(section.start, "section", section.name, section.first_pick)


def _hems(project: Project) -> Iterator[RibbonMark]:
    """Yield the hems of a piece that is woven in one section; else they are sections themselves."""
    (only, *more), hem = project.weft.sections, project.weft.around.hem
    if not hem or more or 2 * hem >= only.length:
        return
    for at, words in ((hem, "hem ends"), (only.length - hem, "hem begins")):
        yield RibbonMark(at, "hem", words, _picks_at(only, at))


def _picks_at(section: WovenSection, at: float) -> int:
    return section.first_pick + round((at - section.start) * section.picks / section.length)


def _wefts(project: Project) -> Iterator[RibbonMark]:
    """Yield where another weft begins; narrow stripes in a row as one."""
    for section, keys in _stripes(project):
        first, _, yarns = keys
        at = section.start + (first - section.first_pick) * section.length / section.picks
        yield RibbonMark(at, "weft", "", first, yarns)


_Stripe = tuple[int, int, tuple[ProjectYarn, ...]]


def _stripes(project: Project) -> Iterator[tuple[WovenSection, _Stripe]]:
    """Yield first pick, picks and wefts of every stripe that differs from the one before it."""
    before: tuple[str, ...] = ()
    for place, section in enumerate(project.weft.sections):
        for stripe in _merged(_runs(project, place), section):
            keys = tuple(sorted(yarn.key + yarn.letter for yarn in stripe[2]))
            if keys != before:
                yield section, stripe
            before = keys


def _runs(project: Project, place: int) -> list[_Stripe]:
    """Return the stripes of a section as they are woven, each of one weft."""
    section = project.weft.sections[place]
    runs: list[_Stripe] = []
    first = section.first_pick
    for yarn, same in groupby(_wefts_of(project, place), key=lambda yarn: yarn):
        picks = sum(1 for _ in same)
        runs.append((first, picks, (yarn,)))
        first += picks
    return runs


def _wefts_of(project: Project, place: int) -> list[ProjectYarn]:
    """Return the yarn of every pick of a section, in layers with the number of its shuttle."""
    section = project.weft.sections[place]
    if layered_section(project, place) is None:
        known = {yarn.key: yarn for yarn in project.yarns}
        return [known[key] for key in section.weft.values()]
    shuttles = project.cloth.plan.shuttles[section.first_pick :][: section.picks].tolist()
    yarns = [shuttle_yarn(project, number) for number in range(len(project.cloth.shuttles))]
    return [yarns[number] for number in shuttles]


def _merged(runs: Sequence[_Stripe], section: WovenSection) -> list[_Stripe]:
    """Return stripes with low ones that follow each other put together."""
    done: list[_Stripe] = []
    for (first, picks, yarns), low in ((run, _is_low(run, section)) for run in runs):
        if done and low and (len(done[-1][2]) > 1 or _is_low(done[-1], section)):
            start, before, there = done[-1]
            more = tuple(yarn for yarn in yarns if yarn not in there)
            done[-1] = (start, before + picks, there + more)
        else:
            done.append((first, picks, yarns))
    return done


def _is_low(stripe: _Stripe, section: WovenSection) -> bool:
    return stripe[1] * section.length / section.picks < _LEAST_STRIPE


def _joined(marks: Sequence[RibbonMark]) -> list[RibbonMark]:
    """Return marks with a change of weft put to the section that begins at the same pick."""
    parts = {mark.picks: mark for mark in marks if mark.kind == "section"}
    done = []
    for mark in marks:
        if mark.kind == "weft" and mark.picks in parts:
            continue
        if mark.kind == "section":
            weft = [each for each in marks if each.kind == "weft" and each.picks == mark.picks]
            done.append(replace(mark, yarns=weft[0].yarns if weft else ()))
        else:
            done.append(mark)
    return done


def _ends(project: Project) -> Iterator[RibbonMark]:
    """Yield the end of the piece, of its fringe, and where the next piece begins."""
    weft, around = project.weft, project.weft.around
    end = sum(section.length for section in weft.sections)
    yield RibbonMark(end, "end", "piece ends", weft.picks_each)
    if around.fringe:
        yield RibbonMark(end + around.fringe, "fringe", "fringe ends", None)
    between = 2 * around.fringe + around.gap
    if project.pieces > 1 and between:
        yield RibbonMark(end + between, "next", "next piece", None)


def _looks(project: Project) -> Iterator[RibbonMark]:
    """Yield where to look between layers, at round lengths within the sections that have some."""
    for place, section in enumerate(project.weft.sections):
        layered = layered_section(project, place)
        if layered is not None and layered.checks:
            last = place + 1 == len(project.weft.sections)
            for at in _round_lengths(project, section, to_the_end=not last):
                yield RibbonMark(at, "look", "", _picks_at(section, at), look=True)


def _looked(marks: Sequence[RibbonMark], looks: Sequence[RibbonMark]) -> list[RibbonMark]:
    """Return all marks, a look put to what is marked at the same pick."""
    there = {look.picks: look for look in looks}
    done = []
    for mark in marks:
        found = there.pop(mark.picks, None) if mark.picks is not None else None
        done.append(mark if found is None else replace(mark, look=True))
    return [*done, *there.values()]


def _counts(project: Project, marks: Sequence[RibbonMark]) -> Iterator[RibbonMark]:
    """Yield the picks at round lengths where no other mark is near, to keep the beat by."""
    for section in project.weft.sections:
        for at in _round_lengths(project, section):
            if all(abs(mark.at - at) > _CLEAR for mark in marks):
                yield RibbonMark(at, "count", "", _picks_at(section, at))


def _round_lengths(
    project: Project, section: WovenSection, *, to_the_end: bool = False
) -> Iterator[float]:
    """Yield the round lengths, from the start of the piece, within a section or at its end."""
    step = _STEP[project.units]
    number = int(section.start // step) + 1
    end = section.start + section.length + (_HAIR if to_the_end else -_HAIR)
    while number * step < end:
        if number * step > section.start + _HAIR:
            yield number * step
        number += 1
