"""The calculation of a pattern in short: the figures that matter, and which of them were given."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from cards.calculation.sley import pattern_text
from cards.compared import finished_length
from cards.figures import Figures, count
from cards.plan_allowances import allowance
from cards.project import Project


@dataclass(frozen=True, slots=True)
class ShortFigure:
    """A figure in the units of the project and in the others, and where it is from.

    `origin` is "given", "assumed" or empty for what was worked out.
    """

    name: str
    value: str
    other: str
    origin: str


# The allowances by which a weaver of another hand will differ, and all that the warp length takes.
_ALLOWED = (
    "take-up of the warp",
    "relaxation off the loom",
    "draw-in",
    "shrinkage in length",
    "shrinkage in width",
    "header",
    "sample",
    "loom waste",
    "margin on the warp",
)


def short_figures(project: Project) -> tuple[ShortFigure, ...]:
    """Return the calculation of a project in short."""
    return tuple(_figures(project))


def _figures(project: Project) -> Iterator[ShortFigure]:
    figures = Figures(project.units)
    warp, sett = project.warp, project.sett
    layered = sett.layers > 1

    def both(name: str, how: str, value: float, origin: str = "") -> ShortFigure:
        other = getattr(figures.other(), how)(value)
        return ShortFigure(name, getattr(figures, how)(value), other, origin)

    for kind in project.kinds:
        behind = f", {kind.piece}" if len(project.every_kind) > 1 else ""
        yield both(f"finished width{behind}", "width", kind.warp.finished_width)
        yield both(f"finished length{behind}", "width", finished_length(kind))
    yield ShortFigure("ends", count(warp.ends), "", "given" if warp.ends_given else "")
    # What all layers take together is reckoned from what was given of one.
    words = "sett, all layers together" if layered else "sett"
    yield both(words, "density", sett.ends_total, _given(sett.ends_given and not layered))
    if project.sleying is not None and project.reed is not None and project.in_reed is not None:
        yield both("reed", "reed", project.reed, _given(not project.in_reed.owned))
        yield ShortFigure("ends to a dent", pattern_text(project.sleying.pattern), "", "")
    yield both("width in the reed", "width", warp.width_in_reed, _given(warp.width_given))
    yield both("warp length", "long", warp.length, _given(warp.length_given))
    words = "picks, all layers together" if layered else "picks"
    for kind, behind in _unlike(project, lambda each: each.sett.picks_total):
        origin = _given(kind.sett.picks_given and not layered)
        yield both(f"{words}{behind}", "density", kind.sett.picks_total, origin)
    for kind in project.kinds:
        behind = f", {kind.piece}" if len(project.every_kind) > 1 else ""
        origin = _given(kind.weft.picks_given)
        yield ShortFigure(f"picks of one piece{behind}", count(kind.weft.picks_each), "", origin)
        woven = sum(section.length for section in kind.weft.sections)
        yield both(f"woven under tension{behind}", "tape", woven)
    for name in _ALLOWED:
        for kind, behind in _unlike(project, partial(_share, name)):
            yield from _allowed(kind, name, behind, figures)
    yield both("weight of the cloth", "by_area", project.cloth_weight.total)


def _given(given: object) -> str:
    return "given" if given else ""


def _unlike(project: Project, of: Callable[[Project], object]) -> list[tuple[Project, str]]:
    """Return the kinds of pieces by name where they differ in something, else the first alone."""
    # What is taken once for the whole warp, such as its waste, is not there for further kinds.
    if len({of(kind) for kind in project.kinds} - {None}) <= 1:
        return [(project, "")]
    return [(kind, f", {kind.piece}") for kind in project.kinds]


def _share(name: str, project: Project) -> float | None:
    return next((step.value for step in project.allowances if step.name == name), None)


def _allowed(project: Project, name: str, behind: str, figures: Figures) -> Iterator[ShortFigure]:
    for step in project.allowances:
        if step.name == name and step.value:
            value = allowance(step, step.value, figures)
            other = allowance(step, step.value, figures.other())
            other = "" if other == value else other
            yield ShortFigure(f"{name}{behind}", value, other, step.origin)
