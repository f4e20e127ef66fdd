"""The figures of a plan by name, as a pattern puts them into its text.

A name has parts with dots between them: `warp.length`, `section.first hem.picks`. Capitals do not
count, and spaces, hyphens and underscores are one. What is one figure of every piece on the warp
has one name; where kinds of pieces differ, `piece.NAME.` stands before it. A name that would stand
for several different figures stands for none.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal

from cards.figures import Figures, count

# What is measured or counted: figures of one kind can be held against a number in a text.
Measure = Literal[
    "ends", "picks", "length", "threads", "reed", "dents", "shafts", "treadles", "shuttles",
    "pieces", "layers", "bouts", "trips", "heddles", "packages", "bobbins", "mass", "hours",
    "cost", "share", "words",
]  # fmt: skip

BOTH: Final = "both"

_APART = re.compile(r"[\W_]+")


@dataclass(frozen=True, slots=True)
class PlanFigure:
    """One figure of the plan with its name.

    `text` is how the cards print it in the units of the project; `both` has the other units in
    brackets behind it, and is empty where a figure has none. `value` is ends, picks and so on as
    `measure` says: lengths mm, masses g, densities per mm, hours, a share of one. `sheet` is the
    sheet that prints it, empty where none does.
    """

    name: str
    text: str
    words: str
    measure: Measure
    value: float = 0.0
    sheet: str = ""
    both: str = ""


def counted(
    name: str, number: int, words: str, measure: Measure, sheet: str = "", text: str = ""
) -> PlanFigure:
    """Return a whole number, as `text` where it is printed in words of its own."""
    return PlanFigure(name, text or count(number), words, measure, number, sheet)


def measured(
    name: str, kind: str, value: float, words: str, figures: Figures, sheet: str = ""
) -> PlanFigure:
    """Return a figure with a unit; `kind` is the method of Figures that prints it."""
    text: str = getattr(figures, kind)(value)
    measure: Measure = _MEASURES.get(kind, "length")
    return PlanFigure(name, text, words, measure, value, sheet, figures.both(kind, value))


_MEASURES: Final[Mapping[str, Measure]] = {
    "density": "threads", "reed": "reed", "mass": "mass", "mass_down": "mass",
    "by_area": "words", "size": "words",
}  # fmt: skip


def plain_name(name: str) -> str:
    """Return a name as it is looked up.

    >>> plain_name("Section. First hem.picks"), plain_name("warp.width-in-reed")
    ('section.first_hem.picks', 'warp.width_in_reed')
    """
    return ".".join(part_name(part) for part in name.split("."))


def part_name(part: str) -> str:
    """Return a part of a name, which may be what a yarn or a section is called.

    >>> part_name("first hem, plain")
    'first_hem_plain'
    """
    return _APART.sub("_", part.casefold()).strip("_")


@dataclass(frozen=True, slots=True)
class PlanNames:
    """All names of a plan: the figure for each, and names that stand for several figures.

    `figures` are by their plain names; `shown` has each figure once, by its shortest name.
    `unclear` has the names to write instead.
    """

    figures: Mapping[str, PlanFigure]
    unclear: Mapping[str, tuple[str, ...]]
    shown: tuple[PlanFigure, ...]

    @classmethod
    def of_figures(cls, found: Iterable[tuple[PlanFigure, tuple[str, ...]]]) -> PlanNames:
        """Gather figures, each with all its names, the shortest first and one of its own last."""
        found = list(found)
        by_name: dict[str, list[tuple[PlanFigure, str]]] = {}
        for figure, called in found:
            for name in called:
                one = replace(figure, name=name)
                by_name.setdefault(plain_name(name), []).append((one, called[-1]))
        figures: dict[str, PlanFigure] = {}
        unclear: dict[str, tuple[str, ...]] = {}
        for name, each in by_name.items():
            if len({(figure.text, figure.both) for figure, _ in each}) == 1:
                figures[name] = each[0][0]
            else:
                unclear[name] = tuple(dict.fromkeys(own for _, own in each))
        shortest = (
            next((name for name in map(plain_name, called) if name in figures), "")
            for _, called in found
        )
        shown = tuple(figures[name] for name in dict.fromkeys(shortest) if name)
        return cls(figures, unclear, shown)

    def find(self, name: str) -> PlanFigure | None:
        """Return the figure of a name; with `.both` behind it the one in both units."""
        plain = plain_name(name)
        figure = self.figures.get(plain)
        if figure is not None:
            return figure
        shorter = self.figures.get(plain.removesuffix(f".{BOTH}"))
        if shorter is None or not shorter.both:
            return None
        return replace(shorter, name=f"{shorter.name}.{BOTH}", text=shorter.both)

    def text(self, name: str) -> str | None:
        """Return what stands for a name, None for an unknown one."""
        figure = self.find(name)
        return None if figure is None else figure.text
