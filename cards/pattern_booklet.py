"""The pattern booklet: all that somebody needs who bought the pattern of a project, as data.

What the author wrote stands first; where she wrote nothing it is made from the plan.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cards.cautions import cautions_of
from cards.cloth_words import listed
from cards.cost_words import hours_words
from cards.figures import Figures
from cards.finished_cloth import FinishedCloth, finished_cloths
from cards.layer_faces import Weave
from cards.loom.shed import has_ties
from cards.pattern_figures import ShortFigure, short_figures
from cards.pattern_steps import finishing_of, steps_of
from cards.pattern_text import PatternStage, pattern_of
from cards.project import Project
from cards.project.model import ProjectYarn, Totals

# The cards that a pattern has, by the names of their sheets, in the order in which they are used.
# No yarn list, whose figures the booklet has itself; no workings, no record, no advice on setts:
# they are the author's, and a weaver who changes the pattern prints them from the spec.
DRAFTS: Final = ("draft-sheet", "cloth-sheet")
CARDS: Final = (
    "warping-card",
    "heddle-count",
    "threading-chart",
    "sley-card",
    "tie-up-card",
    "pick-tally",
)

# Words of a stage, or of its steps, by which the card is known that it needs.
_NEEDS: Final = (
    ("warping-card", r"wind|winding|warping|bouts?|guide string|beam|beaming|raddle"),
    ("heddle-count", r"heddles?"),
    ("threading-chart", r"thread|threading|heddles?"),
    ("sley-card", r"sley|sleying|reed"),
    ("tie-up-card", r"tie up|tie-up|tying up|tie the treadles|pegging|loom ready|levers"),
    ("pick-tally", r"weave|weaving|woven|tally|treadling"),
)


@dataclass(frozen=True, slots=True)
class YarnNeeded:
    """A yarn to have: what it is, how much is needed, and what to buy."""

    yarn: ProjectYarn
    what: str
    needed: str
    buy: str


@dataclass(frozen=True, slots=True)
class Fact:
    """A word and what there is to say to it."""

    name: str
    words: str


@dataclass(frozen=True, slots=True)
class StepGroup:
    """A stage of the work, with the names of the sheets of its cards."""

    name: str
    steps: tuple[str, ...]
    cards: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class CloseUp:
    """The weave from near: a corner of it, and how wide and long a mm of its threads is.

    `across` and `along` are mm of finished cloth from one end, and one pick, to the next.
    """

    weave: Weave
    across: float
    along: float
    section: str


@dataclass(frozen=True, slots=True, eq=False)
class PatternBooklet:
    """All that the prose of the booklet says."""

    title: str
    code: str
    maker: str
    date: str
    version: str
    fingerprint: str
    summary: str
    cloths: tuple[FinishedCloth, ...]
    close_up: CloseUp | None
    aim: str
    skills: tuple[str, ...]
    yarns: tuple[YarnNeeded, ...]
    loom: tuple[Fact, ...]
    materials: tuple[str, ...]
    figures: tuple[ShortFigure, ...]
    groups: tuple[StepGroup, ...]
    finishing: tuple[str, ...]
    cautions: tuple[Fact, ...]
    units: Figures


def pattern_booklet(project: Project, others: Sequence[Project] = ()) -> PatternBooklet:
    """Return the booklet of a project; `others` is the project on the other looms of its spec."""
    figures, info = Figures(project.units), project.info
    pattern = pattern_of(project)
    stages = pattern.stages if pattern and pattern.stages else steps_of(project)
    cloths = finished_cloths(project)
    title = f"{info.title} · {project.candidate}" if project.candidate else info.title
    return PatternBooklet(
        title=title,
        code=info.code or "",
        maker=info.maker or "",
        date=info.date.isoformat() if info.date else "",
        version=info.version or "",
        fingerprint=project.source.fingerprint,
        summary=" ".join((info.summary or "").split()),
        cloths=cloths,
        close_up=close_up_of(cloths[0]),
        aim=pattern.aim if pattern else "",
        skills=pattern.skills if pattern else (),
        yarns=tuple(_yarn(total, figures) for total in project.totals),
        loom=tuple(_loom(project, others, figures)),
        materials=(pattern.materials if pattern else ()) or tuple(_tools(project, figures)),
        figures=short_figures(project),
        groups=tuple(_group(stage) for stage in stages),
        finishing=(pattern.finishing if pattern else ()) or finishing_of(project),
        cautions=(
            *(Fact("", words) for words in (pattern.cautions if pattern else ())),
            *(Fact(_capital(each.topic), each.words) for each in cautions_of(project)),
        ),
        units=figures,
    )


def _group(stage: PatternStage) -> StepGroup:
    return StepGroup(stage.name, stage.steps, _cards_of(stage))


def _cards_of(stage: PatternStage) -> tuple[str, ...]:
    """Return the cards that a stage needs: by its name, else by what its steps say."""
    for text in (stage.name, " ".join(stage.steps)):
        found = tuple(
            card for card, words in _NEEDS if re.search(rf"\b(?:{words})\b", text, re.IGNORECASE)
        )
        if found:
            return found
    return ()


def _yarn(total: Totals, figures: Figures) -> YarnNeeded:
    yarn, need = total.yarn, total.need
    parts = (yarn.fibre or "", yarn.size, figures.both("size", yarn.tex))
    needed = f"{figures.both('yarn', need.length)}, {figures.both('mass', need.mass)}"
    if not need.buy:
        buy = "there is enough on hand"
    elif need.packages:
        buy = f"{need.packages} × {yarn.put_up_text}"
    else:
        buy = f"buy {figures.both('mass', need.buy)}"
    return YarnNeeded(yarn, " · ".join(dict.fromkeys(filter(None, parts))), needed, buy)


def _loom(project: Project, others: Sequence[Project], figures: Figures) -> Iterator[Fact]:
    loom = project.loom
    used = len(loom.threaded)
    shafts = f"{used} shafts" if used == loom.shafts else f"{used} shafts of {loom.shafts}"
    yield Fact("loom", ", ".join(filter(None, (loom.name, _action(loom.action), shafts))))
    if has_ties(loom.action) and loom.tied:
        yield Fact("treadles", str(len(loom.tied)))
    wide = figures.both("width", project.warp.width_in_reed)
    yield Fact("weaving width", f"{wide} at least")
    if project.reed is not None:
        yield Fact("reed", figures.both("reed", project.reed))
    if loom.action != "rigid heddle":
        heddles = sum(loom.heddles)
        most = max(loom.heddles)
        yield Fact("heddles", f"{heddles} in all, up to {most} on one shaft")
    if others:
        names = [each.loom.name for each in others]
        yield Fact("also for", f"{listed(names)}; their cards come after those of this loom")


def _action(action: str) -> str:
    return f"{action} shed" if action in {"rising", "sinking"} else f"{action} loom"


def _tools(project: Project, figures: Figures) -> Iterator[str]:
    """Return the tools for the work (common practice)."""
    warp = project.warp
    if not warp.state:
        yield f"warping board or mill for {figures.both('long', warp.length)}"
        yield "string for ties, and two lease sticks"
    if warp.state != "on the loom":
        yield "raddle, and sticks or paper to beam with"
    yield "threading hook, reed hook, tape, scissors, pencil"
    shuttles = max(len(kind.cloth.shuttles) for kind in project.kinds)
    yield "one shuttle with bobbins" if shuttles == 1 else f"{shuttles} shuttles with bobbins"
    around = project.weft.around
    if around.header:
        yield "waste yarn for the header"
    if around.hem:
        yield "needle and sewing thread for the hems"
    yield f"about {hours_words(project.hours.counted)} of work, finishing apart"


_COLUMNS: Final = 36
_ROWS: Final = 20


def close_up_of(cloth: FinishedCloth) -> CloseUp | None:
    """Return a corner of the longest section with as many of its yarns as can be seen at once."""
    band = max(cloth.bands, key=lambda each: each.length)
    rows, columns = band.cells.shape
    if not rows or not columns:
        return None
    wide, high = min(_COLUMNS, columns), min(_ROWS, rows)
    left = _most_told(band.warp, wide)
    low = _most_told(band.weft[:, left], high)
    yarns = cloth.yarns
    weave = Weave(
        band.cells[low : low + high, left : left + wide],
        tuple(yarns[at] for at in band.warp[left : left + wide].tolist()),
        tuple((yarns[at],) for at in band.weft[low : low + high, left].tolist()),
        (0,) * wide,
    )
    return CloseUp(weave, band.width / columns, band.length / rows, band.name)


def _most_told(threads: NDArray[np.intp], number: int) -> int:
    """Return the first of so many threads in a row that show most yarns, and most of each."""

    def told(at: int) -> tuple[int, int, int]:
        counts = np.bincount(threads[at : at + number])
        shown = counts[counts > 0]
        return len(shown), int(shown.min()), -at

    return max(range(len(threads) - number + 1), key=told)


def _capital(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"
