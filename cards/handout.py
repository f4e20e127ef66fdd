"""The handout: one or two pages that a student has at her loom, with what she is to do in order.

Aim, skills, materials, steps and cautions are those of the pattern text where the spec has one.
Without it they are taken from the plan; the order of the work is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cards.calculation.sley import pattern_text
from cards.cautions import cautions_of
from cards.draft_sheet import DraftSheet, draft_sheet
from cards.figures import Figures, count
from cards.finished_cloth import finished_cloths
from cards.heading import Heading, loom_heading_of
from cards.loom.shed import has_ties
from cards.pattern_text import Pattern, PatternStage, pattern_of
from cards.project.model import Project, WovenSection

# Topics of cautions that do not concern a student; and those that do whatever the pattern says.
_NOT_IN_CLASS = frozenset({"selling", "infants"})
_AT_THE_LOOM = frozenset({"tension", "under the loom", "posture"})
# Sections that are woven alike and named so often are told once.
_MOST_SECTIONS = 8


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
    """Return the steps of the pattern text, or those that the plan asks for."""
    figures = Figures(project.units)
    stages = text.stages if text and text.stages else tuple(_from_plan(project, figures))
    finishing = text.finishing if text else ()
    if finishing:
        return (*stages, PatternStage("Finishing", finishing))
    if text and text.stages:
        return stages
    return (*stages, PatternStage("Finishing", tuple(_finishing(project, figures))))


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


def _from_plan(project: Project, figures: Figures) -> Iterable[PatternStage]:
    warp = project.warp
    if not warp.state:
        yield PatternStage("Winding", tuple(_winding(project, figures)))
    if warp.state != "on the loom":
        yield PatternStage("Dressing the loom", tuple(_dressing(project, figures)))
    yield PatternStage("Weaving", tuple(_weaving(project, figures)))


def _winding(project: Project, figures: Figures) -> Iterable[str]:
    warp = project.warp
    yield (
        f"Wind {count(warp.wound)} ends, {figures.long(warp.length)} long, in the order of the "
        "warping card."
    )
    yield "Tie both crosses and the chokes before you take the warp off."


def _dressing(project: Project, figures: Figures) -> Iterable[str]:
    warp = project.warp
    yield f"Spread the warp {figures.width(warp.width_in_reed)} wide and beam it evenly."
    ends, side = count(warp.ends), warp.first_end
    yield f"Thread {ends} ends from the {side}, as the threading chart has it."
    if project.sleying is not None and project.reed is not None:
        pattern = pattern_text(project.sleying.pattern)
        yield f"Sley {pattern} to the dent, reed {figures.reed(project.reed)}, in the middle."
    yield "Tie on, and try the tension with the flat of your hand."
    if has_ties(project.loom.action) and project.loom.tied:
        yield f"Tie up {len(project.loom.tied)} treadles by the tie-up card, and look at each shed."
    elif project.loom.action != "rigid heddle":
        yield "Try each lift once, and look at each shed."


def _weaving(project: Project, figures: Figures) -> Iterable[str]:
    around = project.weft.around
    if around.header:
        yield f"Weave {figures.tape(around.header)} of header, until the warp lies evenly."
    if around.sample:
        yield (
            f"Weave a sample of {figures.tape(around.sample)}. Cut it off, tie the warp on again, "
            "wash the sample and measure it."
        )
    if around.fringe:
        yield f"Leave {figures.tape(around.fringe)} of warp unwoven for the fringe."
    for section in _told(project.weft.sections):
        name = f"{section.name[:1].upper()}{section.name[1:]}"
        yield (
            f"{name}: {count(section.picks)} picks, {figures.tape(section.length)} under "
            f"tension{_weft(project, section)}."
        )
    if project.pieces > 1:
        yield f"Weave {project.pieces} pieces in all, and tick each on the pick tally."


def _told(sections: Sequence[WovenSection]) -> Sequence[WovenSection]:
    return sections if len(sections) <= _MOST_SECTIONS else ()


def _weft(project: Project, section: WovenSection) -> str:
    names = [project.yarn(key).name for key in dict.fromkeys(section.weft.values())]
    return f", with {' and '.join(names)}" if len(names) <= 3 else ""


def _finishing(project: Project, figures: Figures) -> Iterable[str]:
    yield "Cut the cloth off, mend what needs mending, and secure its ends."
    yield "Measure it, wash it, measure it again, and write both into the record."
    for hem in sorted({cloth.hem for cloth in finished_cloths(project) if cloth.hem}):
        yield f"Hem each end: there is {figures.width(hem)} of washed cloth for it."
    yield f"The finished width should be {figures.width(project.warp.finished_width)}."
