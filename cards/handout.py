"""The handout: one or two pages that a student has at her loom, with what she is to do in order.

Aim, skills, materials, steps and cautions are those of the pattern text where the spec has one.
Without it they are taken from the plan, and the steps are those of the pattern booklet in short.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from cards.cautions import cautions_of
from cards.draft_sheet import DraftSheet, draft_sheet
from cards.figures import Figures, count
from cards.heading import Heading, loom_heading_of
from cards.pattern_steps import finishing_of, steps_of
from cards.pattern_text import Pattern, PatternStage, pattern_of
from cards.project.model import Project

# Topics of cautions that do not concern a student; and those that do whatever the pattern says.
_NOT_IN_CLASS = frozenset({"selling", "infants"})
_AT_THE_LOOM = frozenset({"tension", "under the loom", "posture"})


@dataclass(frozen=True, slots=True)
class Handout:
    """All that the handout says; `figures` are pairs of a figure and the word under it."""

    heading: Heading
    aim: str
    skills: tuple[str, ...]
    materials: tuple[str, ...]
    figures: tuple[tuple[str, str], ...]
    stages: tuple[PatternStage, ...]
    cautions: tuple[str, ...]
    draft: DraftSheet


def handout(project: Project) -> Handout:
    """Return the handout of a project for its loom."""
    text = pattern_of(project)
    return Handout(
        heading=loom_heading_of(project, "Handout"),
        aim=text.aim if text and text.aim else " ".join((project.info.summary or "").split()),
        skills=text.skills if text else (),
        materials=text.materials if text and text.materials else _materials(project),
        figures=tuple(_figures(project)),
        stages=_stages(project, text),
        cautions=_cautions(project, text),
        draft=draft_sheet(project),
    )


def _stages(project: Project, text: Pattern | None) -> tuple[PatternStage, ...]:
    """Return the steps of the pattern text; what it does not tell is as in the pattern booklet."""
    stages = text.stages if text and text.stages else steps_of(project, short=True)
    finishing = text.finishing if text and text.finishing else finishing_of(project, short=True)
    return (*stages, PatternStage("Finishing", finishing))


def _cautions(project: Project, text: Pattern | None) -> tuple[str, ...]:
    """Return what the pattern text warns of, and what is to be taken care of on any loom."""
    own = text.cautions if text else ()
    general = [each for each in cautions_of(project) if each.topic not in _NOT_IN_CLASS]
    if own:
        general = [each for each in general if each.topic in _AT_THE_LOOM]
    return tuple(dict.fromkeys([*own, *(each.words for each in general)]))


def _materials(project: Project) -> tuple[str, ...]:
    """Return the yarns, with what is used of each, and the reed."""
    figures = Figures(project.units)
    yarns = [
        f"{total.yarn.name}, {total.yarn.size}: {figures.mass(total.need.mass)}"
        for total in project.totals
    ]
    reed = [f"Reed with {figures.reed(project.reed)}"] if project.reed is not None else []
    return (*yarns, *reed)


def _figures(project: Project) -> Iterable[tuple[str, str]]:
    figures, warp = Figures(project.units), project.warp
    yield count(warp.ends), "ends"
    yield figures.width(warp.width_in_reed), "in the reed"
    yield figures.long(warp.length), "of warp"
    yield count(project.weft.picks_each), "picks a piece"
    yield figures.width(warp.finished_width), "finished width"
    if project.pieces > 1:
        yield str(project.pieces), "pieces"
