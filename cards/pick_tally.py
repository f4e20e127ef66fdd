"""The pick tally: it stands beside the beater while the cloth is woven."""

from __future__ import annotations

from collections.abc import Sequence as Values
from dataclasses import dataclass
from itertools import groupby

from cards.cautions import POSTURE, TALLY, TENSION, caution_on
from cards.counted import CountedList, Counting, clearer, counted_list, in_groups
from cards.draft.shortest import shortest
from cards.figures import Figures
from cards.heading import Heading, card_name, loom_heading_of
from cards.layer_marks import (
    LayeredSection,
    LayerMark,
    layer_marks,
    layered_section,
    shuttle_yarn,
)
from cards.loom.pressing import Treadle
from cards.project.model import Around, Project, ProjectYarn, WovenSection
from cards.sequence import Repeat, Run, Sequence

# Picks of one line: as many as are kept in mind at once (common practice).
IN_A_LINE = 8

# Picks that one box stands for at least; ticking more often breaks the rhythm of weaving.
LEAST_PICKS = 8


@dataclass(frozen=True, slots=True)
class Pick:
    """One pick: the treadles pressed, or the shafts raised, and the yarn in the shuttle.

    Where layers are woven also which (their lanes, several at once where they are woven together),
    by which shuttle and whether that comes from the right.
    """

    shed: tuple[int, ...]
    yarn: ProjectYarn
    layers: tuple[int, ...] = ()
    shuttle: int = 0
    from_right: bool = False


@dataclass(frozen=True, slots=True)
class TallySection:
    """One section of a piece: what is woven, and the tape readings at which it starts and ends.

    `first` and `last` are picks of the piece, counted from 1; `start` and `end` mm on the loom
    under tension from the beginning of the piece.
    """

    name: str
    note: str
    first: int
    last: int
    start: float
    end: float
    by_treadle: bool
    picks: CountedList[Pick]
    picks_per_mm: float
    cut_off: bool
    layered: LayeredSection | None


@dataclass(frozen=True, slots=True)
class PickTally:
    """All that the pick tally says.

    `pieces` are those that it is ticked for. Where pieces are not alike `kinds` has the name and
    number of every kind in weaving order, and `kind` is the place of this one.
    """

    heading: Heading
    pieces: int
    pieces_in_all: int
    kinds: tuple[tuple[str, int], ...]
    kind: int
    picks_each: int
    picks_all: int
    piece_length: float
    picks_per_mm: float
    layers: int
    picks_given: bool
    around: Around
    sample_picks: int
    sections: tuple[TallySection, ...]
    treadles: tuple[Treadle, ...]
    action: str
    together: int
    shafts: int
    treadle_1: str
    marks: tuple[LayerMark, ...]
    yarns: tuple[ProjectYarn, ...]
    caution: str
    posture: str
    figures: Figures


def pick_tally(project: Project) -> PickTally:
    """Return the pick tally of a project, or of one kind of its pieces."""
    weft, loom = project.weft, project.loom
    kinds = project.every_kind
    count = len(weft.sections)
    used = {share.yarn.key for share in weft.by_yarn}
    return PickTally(
        heading=loom_heading_of(project, card_name(project, "Pick tally")),
        pieces=weft.pieces,
        pieces_in_all=sum(number for _, number in kinds),
        kinds=kinds if len(kinds) > 1 else (),
        kind=next(at for at, (name, _) in enumerate(kinds) if name == project.piece),
        picks_each=weft.picks_each,
        picks_all=weft.picks,
        piece_length=sum(section.length for section in weft.sections),
        picks_per_mm=project.sett.picks_total,
        layers=project.sett.layers,
        picks_given=weft.picks_given,
        around=weft.around,
        sample_picks=weft.sample_picks,
        sections=tuple(_section(project, place) for place in range(count)),
        treadles=loom.tied,
        action=loom.action,
        together=loom.together,
        shafts=loom.shafts,
        treadle_1=loom.treadle_1,
        marks=layer_marks(project),
        yarns=tuple(yarn for yarn in project.yarns if yarn.key in used),
        caution=caution_on(project, TALLY, TENSION),
        posture=caution_on(project, TALLY, POSTURE),
        figures=Figures(project.units),
    )


def _section(project: Project, place: int) -> TallySection:
    section = project.weft.sections[place]
    layered = layered_section(project, place)
    return TallySection(
        name=section.name,
        note=section.note,
        first=section.first_pick + 1,
        last=section.first_pick + section.picks,
        start=section.start,
        end=section.start + section.length,
        by_treadle=section.by_treadle,
        picks=counted_list(_picks(project, section, layered), COUNTING),
        picks_per_mm=section.picks / section.length,
        layered=layered,
        cut_off=not section.whole,
    )


def _picks(
    project: Project, section: WovenSection, layered: LayeredSection | None
) -> Sequence[Pick]:
    """Return sheds and weft as one sequence, in the author's grouping where one weft runs on."""
    sheds = section.sheds.map(lambda shed: tuple(sorted(shed)))
    if layered is not None:
        flat = _layered_picks(project, section, layered, sheds)
        return clearer(shortest(flat), Sequence(tuple(Run(pick) for pick in flat)), COUNTING)
    yarns = {run.value for run in section.weft.runs()}
    if len(yarns) == 1:
        yarn = project.yarn(yarns.pop())
        grouped = sheds.map(lambda shed: Pick(shed, yarn))
        if any(isinstance(item, Repeat) for item in grouped.items):
            return grouped
        flat = grouped.values()
    else:
        weft = section.weft.map(project.yarn).values()
        flat = [Pick(*pair) for pair in zip(sheds.values(), weft, strict=True)]
    return clearer(shortest(flat), Sequence(tuple(Run(pick) for pick in flat)), COUNTING)


def _layered_picks(
    project: Project,
    section: WovenSection,
    layered: LayeredSection,
    sheds: Sequence[tuple[int, ...]],
) -> list[Pick]:
    first = section.first_pick
    shuttles = project.cloth.plan.shuttles[first : first + section.picks].tolist()
    yarns = [shuttle_yarn(project, place) for place in range(len(project.cloth.shuttles))]
    threads = zip(
        sheds.values(),
        [yarns[shuttle] for shuttle in shuttles],
        layered.layers,
        shuttles,
        layered.from_right,
        strict=True,
    )
    known: dict[tuple[object, ...], Pick] = {}
    picks = []
    for shed, yarn, layers, shuttle, right in threads:
        key = shed, layers, shuttle, right
        if key not in known:
            known[key] = Pick(shed, yarn, layers, shuttle, right)
        picks.append(known[key])
    return picks


def _lines(runs: Values[Run[Pick]]) -> list[list[Run[Pick]]]:
    """Split where the shuttle changes, then evenly into lines short enough to keep in mind."""
    even = in_groups(IN_A_LINE)
    by_shuttle = groupby(runs, key=lambda run: (run.value.yarn.key, run.value.shuttle))
    return [line for _, same in by_shuttle for line in even(list(same))]


COUNTING: Counting[Pick] = Counting(_lines, least=LEAST_PICKS)
