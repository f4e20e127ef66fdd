"""The named figures of each yarn: what to buy, and what warp and weft take of it."""

from __future__ import annotations

from collections.abc import Iterator

from cards.figures import Figures, money
from cards.plan_names import PlanFigure, counted, measured
from cards.project import Project
from cards.project.model import ProjectYarn
from cards.yarn_list import Entry, buy_words, yarn_list

_LIST = "yarn-list"


def yarn_figures(project: Project, figures: Figures) -> Iterator[PlanFigure]:
    """Yield the figures of every yarn, each by its key in the spec."""
    card = yarn_list(project)
    entries = {entry.yarn.key: entry for entry in (*card.entries, *card.enough)}
    for yarn in project.yarns:
        begin, sheet = f"yarn.{yarn.key}", _LIST if yarn.key in entries else ""
        yield PlanFigure(f"{begin}.name", yarn.name, f"name of {yarn.key}", "words", 0.0, sheet)
        yield PlanFigure(
            f"{begin}.letter", yarn.letter, f"letter of {yarn.key}", "words", 0.0, sheet
        )
        yield from _threads(project, yarn, begin)
        if yarn.key in entries:
            yield from _needed(entries[yarn.key], begin, figures)


def _threads(project: Project, yarn: ProjectYarn, begin: str) -> Iterator[PlanFigure]:
    for share in project.warp.by_yarn:
        if share.yarn.key == yarn.key:
            words = f"ends of {yarn.name}"
            yield counted(f"{begin}.ends", share.threads, words, "ends", "warping-card")
            spare = share.extra - share.floating
            if spare:
                words = f"spare ends of {yarn.name}"
                yield counted(f"{begin}.spare_ends", spare, words, "ends", "warping-card")
    picks = sum(
        share.threads
        for kind in project.kinds
        for share in kind.weft.by_yarn
        if share.yarn.key == yarn.key
    )
    if picks:
        yield counted(f"{begin}.picks", picks, f"picks of {yarn.name} in all pieces", "picks")


def _needed(entry: Entry, begin: str, figures: Figures) -> Iterator[PlanFigure]:
    need, yarn = entry.total.need, entry.yarn
    name, buy = yarn.name, buy_words(entry, figures)
    # Packages are told as packages; a mass has its other units.
    bare = need.buy and need.packages is None
    both = figures.both("mass", need.buy) if bare else ""
    grams = need.buy if bare else 0.0
    words = f"{name} to buy"
    yield PlanFigure(f"{begin}.buy", buy, words, "mass" if bare else "words", grams, _LIST, both)
    if need.packages:
        words = f"packages of {name} to buy"
        yield counted(f"{begin}.packages", need.packages, words, "packages", _LIST)
        words = f"what a package of {name} holds"
        text = yarn.put_up_text
        yield PlanFigure(f"{begin}.put_up", text, words, "words", 0.0, _LIST)
    for part in entry.parts:
        if part.what in ("warp", "weft"):
            words = f"{name} in the {part.what}"
            yield measured(f"{begin}.{part.what}", "yarn", part.length, words, figures, _LIST)
    words = f"{name} in warp and weft"
    yield measured(f"{begin}.length", "yarn", need.length, words, figures, _LIST)
    words = f"mass of {name} in warp and weft"
    yield measured(f"{begin}.mass", "mass", need.mass, words, figures, _LIST)
    if need.on_hand:
        words = f"{name} on hand"
        yield measured(f"{begin}.on_hand", "mass_down", need.on_hand, words, figures, _LIST)
    if entry.bobbins:
        words = f"bobbins of {name}"
        yield counted(f"{begin}.bobbins", entry.bobbins, words, "bobbins", _LIST)
    if need.packages and need.cost is not None:
        cost = money(need.cost, yarn.currency)
        words = f"cost of {name}"
        yield PlanFigure(f"{begin}.cost", cost, words, "cost", float(need.cost), _LIST)
