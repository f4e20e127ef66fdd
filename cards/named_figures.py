"""Which figures of a plan have a name: those that a pattern speaks of, as the cards print them."""

from __future__ import annotations

from collections.abc import Iterator

from cards.calculation.first_dent import first_dent
from cards.calculation.sley import pattern_text
from cards.cost_words import hours_words, sum_words
from cards.figures import Figures, times
from cards.named_cloth import cloth_figures, section_figures
from cards.named_yarns import yarn_figures
from cards.plan_names import (
    BOTH,
    PlanFigure,
    PlanNames,
    counted,
    measured,
    part_name,
    plain_name,
)
from cards.project import Project
from cards.warping_card import warping_card

# Figures that a plan has on some looms only: a text about them is not wrong, but lacks a figure.
_OF_SOME_LOOMS = frozenset(
    {
        "loom.name", "loom.treadles", "loom.tied", "loom.cords", "reed", "sley.pattern",
        "sley.dents", "sley.first_dent", "sley.true_sett",
    }
)  # fmt: skip

# What is printed for one of them where the loom has none.
LACKING = "\N{EN DASH}"


def of_some_looms(name: str) -> bool:
    """Whether a figure of that name is there on some looms and not on others."""
    return plain_name(name).removesuffix(f".{BOTH}") in _OF_SOME_LOOMS


def plan_names(project: Project) -> PlanNames:
    """Return the names of a project's figures, those of all its kinds of pieces among them."""
    return PlanNames.of_figures(_all(project))


def _all(project: Project) -> Iterator[tuple[PlanFigure, tuple[str, ...]]]:
    """Yield every figure with its names, the shortest first."""
    for figure in _shared(project):
        yield figure, (figure.name,)
    for kind in project.kinds:
        before = f"piece.{part_name(kind.piece)}." if kind.piece else ""
        for figure in cloth_figures(kind):
            yield figure, _with(before, (figure.name,))
        called = [part_name(section.name) for section in kind.weft.sections]
        for place, (name, section) in enumerate(zip(called, kind.weft.sections, strict=True)):
            number = called[: place + 1].count(name)
            own = f"{name}_{number}" if called.count(name) > 1 else name
            for figure in section_figures(section, name, kind):
                numbered = figure.name.replace(f".{name}.", f".{own}.", 1)
                yield figure, _with(before, tuple(dict.fromkeys((figure.name, numbered))))


def _with(before: str, names: tuple[str, ...]) -> tuple[str, ...]:
    """Return names as they are, and then those of one kind of piece."""
    return (*names, *(before + name for name in names)) if before else names


def _shared(project: Project) -> Iterator[PlanFigure]:
    """Yield the figures of the whole warp: all that is not another for each kind of piece."""
    figures = Figures(project.units)
    yield from _warp(project, figures)
    yield counted("cloth.pieces", project.pieces, "pieces on the warp", "pieces")
    yield from _sett(project, figures)
    yield from _loom(project)
    yield from yarn_figures(project, figures)
    yield from _hours(project)
    yield from _cost(project)


def _warp(project: Project, figures: Figures) -> Iterator[PlanFigure]:
    warp, card, sheet = project.warp, warping_card(project), "warping-card"
    yield counted("warp.ends", warp.ends, "ends threaded", "ends", sheet)
    if warp.floating:
        words = "floating selvedges, beside the ends"
        yield counted("warp.floating", warp.floating, words, "ends", sheet)
    yield measured("warp.length", "long", warp.length, "length of the warp", figures, sheet)
    words = "width of the warp in the reed"
    yield measured("warp.width_in_reed", "width", warp.width_in_reed, words, figures, sheet)
    yield PlanFigure("warp.first_end", warp.first_end, "side of the first end", "words", 0.0, sheet)
    yield counted("warp.bouts", len(card.bouts), "bouts", "bouts", sheet)
    for bout in card.bouts:
        name, said = f"bout.{bout.number}", f"bout {bout.number}"
        yield counted(f"{name}.ends", bout.ends, f"ends of {said}", "ends", sheet)
        yield PlanFigure(
            f"{name}.round_trips", times(bout.trips), f"round trips of {said}", "trips",
            float(bout.trips), sheet,
        )  # fmt: skip
        words = f"width of {said} in the reed"
        yield measured(f"{name}.width", "width", bout.width, words, figures, sheet)
    words = "strands wound together"
    shown = sheet if card.strands > 1 else ""
    yield PlanFigure("warp.strands", str(card.strands), words, "words", card.strands, shown)
    tie = " and ".join(map(str, card.count_ties))
    yield PlanFigure("warp.count_tie", tie, "ends between count ties, in turn", "words", 0.0, sheet)
    words = "width of a raddle group"
    yield measured("warp.raddle", "width", card.raddle, words, figures, sheet)
    words = "distance of the choke ties"
    yield measured("warp.choke", "long", card.choke, words, figures, sheet)
    waste = next(step for step in project.allowances if step.name == "loom waste")
    yield measured("warp.waste", "tape", waste.value, "waste of the loom", figures, "record")


def _sett(project: Project, figures: Figures) -> Iterator[PlanFigure]:
    """Yield sett, picks and reed; the cards of the loom print them where they are used."""
    sett, sleying = project.sett, project.sleying
    one = " of one layer" if sett.layers > 1 else ""
    # A weave without any intersection has no advice on its sett.
    sheet = "sett-advice" if project.sett_advice.layers and sett.layers == 1 else ""
    yield measured("sett", "density", sett.ends_layer, f"ends{one}", figures, sheet)
    tally = "pick-tally" if sett.layers == 1 and not project.further else ""
    yield measured("picks", "density", sett.picks_layer, f"picks{one}", figures, tally)
    if sett.layers > 1:
        yield counted("layers", sett.layers, "layers of the cloth", "layers")
        words = "of all layers on the loom"
        name, total = "sett.all_layers", sett.ends_total
        yield measured(name, "density", total, f"ends {words}", figures)
        tally = "" if project.further else "pick-tally"
        name, total = "picks.all_layers", sett.picks_total
        yield measured(name, "density", total, f"picks {words}", figures, tally)
    if sleying is None or project.reed is None:
        return
    sheet = "sley-card"
    yield measured("reed", "reed", project.reed, "dents of the reed", figures, sheet)
    pattern = pattern_text(sleying.pattern)
    each = len(sleying.pattern) == 1
    words = "ends in every dent" if each else "ends in the dents, in turn"
    yield PlanFigure("sley.pattern", pattern, words, "words", 0.0, sheet)
    yield counted("sley.dents", sleying.dents, "dents from edge to edge", "dents", sheet)
    first = first_dent(sleying.dents, sleying.reed)
    words = f"dents from the {first.middle} in the middle to that of the first end"
    shown = sheet if first.count else ""
    yield counted("sley.first_dent", first.count, words, "dents", shown)
    true = sleying.true_sett_per_mm
    yield measured("sley.true_sett", "density", true, "ends in that reed", figures, sheet)


def _loom(project: Project) -> Iterator[PlanFigure]:
    loom, sheet = project.loom, "tie-up-card"
    if loom.name:
        yield PlanFigure("loom.name", loom.name, "name of the loom", "words", 0.0, sheet)
    yield PlanFigure("loom.action", loom.action, "kind of the loom", "words")
    yield counted("loom.shafts", loom.shafts, "shafts of the loom", "shafts", sheet)
    if loom.treadles is not None:
        yield counted("loom.treadles", loom.treadles, "treadles of the loom", "treadles")
    yield counted("draft.shafts", project.draft.shafts, "shafts of the draft", "shafts")
    if loom.tied:
        tied = len(loom.tied)
        yield counted("loom.tied", tied, "treadles that are tied", "treadles")
        cords = sum(each.cords for each in loom.tied)
        yield PlanFigure("loom.cords", str(cords), "cords of the tie-up", "words", cords)
    for shaft, ends in enumerate(loom.heddles, start=1):
        if ends:
            words = f"heddles on shaft {shaft}"
            yield counted(f"heddles.{shaft}", ends, words, "heddles", "heddle-count")


def _hours(project: Project) -> Iterator[PlanFigure]:
    hours = project.hours
    parts = (
        ("hours", hours.counted, "hours in all, estimated"),
        ("hours.winding", hours.winding, "hours to wind the warp, estimated"),
        ("hours.dressing", hours.dressing, "hours to dress the loom, estimated"),
        ("hours.weaving", hours.weaving, "hours to weave, estimated"),
    )
    for name, value, words in parts:
        if value:
            yield PlanFigure(name, hours_words(value), words, "hours", value)


def _cost(project: Project) -> Iterator[PlanFigure]:
    bill, sheet = project.bill, "yarn-list"
    sums = [("cost.hours", bill.hours, "cost of the hours"), ("cost.hour", bill.hour, "of an hour")]
    if not bill.missing and len(bill.yarn) == 1:
        sums.insert(0, ("cost.yarn", bill.yarn[0], "cost of all yarn to buy"))
    if bill.hours is not None:
        sums.append(("cost.total", bill.total, "cost of yarn and hours"))
    sums.append(("cost.budget", bill.budget, "the budget"))
    for name, amount, words in sums:
        if amount is not None:
            text = sum_words(amount)
            yield PlanFigure(name, text, words, "cost", float(amount.amount), sheet)
