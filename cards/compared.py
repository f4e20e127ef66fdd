"""One of several projects that are compared: its finished size, its cloth and its fit in words.

The words are for a customer as well as for the weaver: no codes, and no word of the trade that a
row of the comparison does not explain.
"""

from __future__ import annotations

import string
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from cards.cloth_words import pieces_words
from cards.figures import Figures
from cards.loom.shed import has_ties
from cards.project import Outcome, Project
from cards.project.model import ProjectYarn, WovenSection
from cards.spec import Finding
from cards.weave_names import weave_name

# What is said of a candidate that cannot be woven as it is; more would fill the table.
_MOST_TROUBLES = 3


@dataclass(frozen=True, slots=True)
class Compared:
    """A project among others: what it is called, what it came to, its finished fringe in mm.

    `cloth` says what cloth is woven, a line for each thing to say.
    """

    name: str
    outcome: Outcome
    fringe: float = 0.0
    cloth: tuple[str, ...] = ()

    @property
    def project(self) -> Project | None:
        """The project, None where it could not be worked out."""
        return self.outcome.project

    @property
    def warnings(self) -> int:
        """How many warnings there are."""
        return sum(finding.level == "warning" for finding in self.outcome.findings)


@dataclass(frozen=True, slots=True)
class Finished:
    """The finished size of a kind of piece in mm, without its fringes.

    `folds` lie at these distances from the left edge of the cloth opened out, or at the edges of a
    tube that lies flat; `sheets` is how many cloths of that size come off the loom at once.
    """

    name: str
    number: int
    width: float
    length: float
    fringe: float
    folds: tuple[float, ...]
    sheets: int
    yarn: ProjectYarn


def compared_of(name: str, outcome: Outcome, fringe: float = 0.0) -> Compared:
    """Return a project to be compared, without its drawdowns: forty would fill the memory."""
    project = outcome.project
    if project is None:
        return Compared(name, outcome, fringe)
    words = tuple(cloth_words(project))
    further = tuple(_without_drawdown(kind) for kind in project.further)
    light = replace(_without_drawdown(project), further=further)
    return Compared(name, replace(outcome, project=light), fringe, words)


def _without_drawdown(project: Project) -> Project:
    return replace(project, draft=replace(project.draft, drawdown=np.zeros((0, 0), np.bool_)))


def yarns_apart(compared: Sequence[Compared]) -> list[Compared]:
    """Return the same projects with a letter and a hatch for every yarn that is another one.

    Yarns of different candidates know nothing of one another: by their own letters two may look
    alike, and only one yarn can be the first of its spec. A yarn keeps its letter if it is free.
    """
    told: dict[tuple[object, ...], ProjectYarn] = {}
    made = []
    for each in compared:
        project = each.project
        if project is None:
            made.append(each)
            continue
        totals = tuple(replace(total, yarn=_told(total.yarn, told)) for total in project.totals)
        apart = replace(each.outcome, project=replace(project, totals=totals))
        made.append(replace(each, outcome=apart))
    return made


def _told(yarn: ProjectYarn, told: dict[tuple[object, ...], ProjectYarn]) -> ProjectYarn:
    alike = (yarn.name, yarn.tex, yarn.colour)
    if alike not in told:
        taken = {each.letter for each in told.values()}
        first = yarn.letter[:1]
        numbered = [*(f"{first}{number}" for number in range(2, 10)), *string.ascii_uppercase]
        tries = [
            yarn.letter,
            *numbered,
            *(a + b for a in string.ascii_uppercase for b in "ABCDEFGH"),
        ]
        letter = next((each for each in tries if each not in taken), yarn.letter)
        told[alike] = replace(yarn, letter=letter, hatch=len(told))
    return told[alike]


def finished_of(compared: Compared) -> tuple[Finished, ...]:
    """Return the finished size of every kind of piece; nothing where nothing was worked out."""
    project = compared.project
    if project is None:
        return ()
    numbers = [number for _, number in project.every_kind]
    return tuple(
        _finished(kind, number, compared.fringe)
        for kind, number in zip(project.kinds, numbers, strict=True)
    )


def _finished(project: Project, number: int, fringe: float) -> Finished:
    width = project.warp.finished_width
    folds, sheets = _folds(project, width)
    return Finished(
        project.piece, number, width, finished_length(project), fringe, folds, sheets,
        main_yarn(project),
    )  # fmt: skip


def finished_length(project: Project) -> float:
    """Return the finished length in mm of one piece, its hems turned in."""
    finished = sum(section.finished for section in project.weft.sections)
    woven = sum(section.length for section in project.weft.sections)
    return finished - 2 * project.weft.around.hem * (finished / woven if woven else 0.0)


def main_yarn(project: Project) -> ProjectYarn:
    """Return the yarn of which most is in the project."""
    return max(project.totals, key=lambda total: total.need.mass).yarn


def _folds(project: Project, width: float) -> tuple[tuple[float, ...], int]:
    """Return where the widest cloth is folded on the loom, and how many cloths there are."""
    pieces = project.cloth.main.pieces
    widest = max(pieces, key=lambda piece: len(piece.layers))
    if widest.kind == "tube":
        return (0.0, width), len(pieces)
    if widest.kind != "flat":
        return (), len(pieces)
    layers = len(widest.layers)
    return tuple(width * place / layers for place in range(1, layers)), len(pieces)


def cloth_words(project: Project) -> list[str]:
    """Return what cloth is woven, a line for each thing to say."""
    layers = len(project.cloth.main.layers) if project.cloth.has_layers else 1
    if layers > 1:
        return [f"{layers} layers at once: {pieces_words(project.cloth.main.pieces, layers)}"]
    names = dict.fromkeys(name for kind in project.kinds if (name := _weave(kind)))
    if names:
        return [", ".join(names)]
    return [f"a patterned weave on {len(project.loom.threaded)} shafts"]


def _weave(project: Project) -> str:
    """Return the name of the weave of the longest section."""

    def picks(section: WovenSection) -> int:
        return section.picks

    longest = max(project.weft.sections, key=picks)
    first = longest.first_pick
    return weave_name(project.draft.drawdown[first : first + longest.picks])


def troubles(compared: Compared, figures: Figures) -> list[str]:
    """Return in short what must be mended before a candidate can be woven, nothing if it can."""
    errors = [each for each in compared.outcome.findings if each.level == "error"]
    told = list(dict.fromkeys(_short(each, compared.project, figures) for each in errors))
    more = len(told) - _MOST_TROUBLES
    return [*told[:_MOST_TROUBLES], *([f"and {more} more"] if more > 0 else [])]


def _short(finding: Finding, project: Project | None, figures: Figures) -> str:
    if project is not None and project.loom_width is not None and finding.code == "too-wide":
        over = project.warp.width_in_reed - project.loom_width
        return f"{figures.width(over)} too wide for the loom"
    return finding.message


def fit_words(compared: Compared, figures: Figures) -> list[str]:
    """Return whether a project fits its loom, and what has to be done for it."""
    project = compared.project
    wrong = troubles(compared, figures)
    if project is None:
        return ["not known:", *wrong]
    if wrong:
        return ["no:", *wrong]
    return list(_to_do(project)) or ["yes" if project.loom_width is not None else "as far as known"]


def _to_do(project: Project) -> Iterator[str]:
    loom, plan = project.loom, project.heddle_plan
    if plan.added:
        yield f"yes, with {plan.added} heddles more"
    elif plan.moves:
        yield f"yes, with {sum(move.heddles for move in plan.moves)} heddles moved"
    if has_ties(loom.action) and not loom.tied:
        yield "too few treadles: shafts are lifted by hand"
