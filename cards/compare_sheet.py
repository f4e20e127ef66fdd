"""The comparison of candidates: their finished sizes, their rows, and what was assumed for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cards.compare_rows import Part, parts_of
from cards.compared import Compared, Finished, finished_of, troubles, yarns_apart
from cards.figures import Figures
from cards.heading import Heading, heading_of
from cards.project import Project

CARD = "Candidates compared"

# Allowances in words that those understand who do not weave.
_SHRINKING = "how much the cloth draws in and shrinks"
_BENDING = "how much yarn the interlacing takes"
_LOST = "what is lost at the loom and woven to try out"
_PLAINLY = {
    "shrinkage in length": _SHRINKING,
    "shrinkage in width": _SHRINKING,
    "relaxation off the loom": _SHRINKING,
    "draw-in": _SHRINKING,
    "take-up of the warp": _BENDING,
    "take-up of the weft": _BENDING,
    "twist loss of the fringe": "what fringes take",
    "warp in a knot": "what fringes take",
    "gap between pieces": _LOST,
    "header": _LOST,
    "sample": _LOST,
    "loom waste": _LOST,
    "margin on the warp": _LOST,
    "spare ends of each yarn": _LOST,
    "joins and bobbin ends": _LOST,
    "buying margin": "a margin when yarn is bought",
    "winding": "the pace of work",
    "dressing the loom": "the pace of work",
    "weaving": "the pace of work",
}
SEVERAL = "Candidates"


@dataclass(frozen=True, slots=True)
class CompareSheet:
    """All that the comparison says; `names`, `sizes` and the cells of `parts` go together.

    `sizes` has the kinds of pieces of each candidate, none where it was not worked out; `troubles`
    what must be mended before it can be woven. `assumed` are the allowances that no spec gives, in
    plain words.
    """

    heading: Heading
    figures: Figures
    names: tuple[str, ...]
    sizes: tuple[tuple[Finished, ...], ...]
    troubles: tuple[tuple[str, ...], ...]
    parts: tuple[Part, ...]
    assumed: tuple[str, ...]

    @property
    def explained(self) -> tuple[str, ...]:
        """What the words of the trade mean that stand in the rows."""
        rows = [row for part in self.parts for row in part.rows]
        return tuple(dict.fromkeys(row.explained for row in rows if row.explained))


def compare_sheet(compared: Sequence[Compared]) -> CompareSheet:
    """Return the comparison of two candidates or more, in the units of the first that is known.

    Raises ValueError where none of them could be worked out.
    """
    compared = yarns_apart(compared)
    known = [each.project for each in compared if each.project is not None]
    if not known:
        raise ValueError("none of the candidates could be worked out")
    figures = Figures(known[0].units)
    return CompareSheet(
        heading=_heading(known),
        figures=figures,
        names=tuple(each.name for each in compared),
        sizes=tuple(finished_of(each) for each in compared),
        troubles=tuple(tuple(troubles(each, figures)) for each in compared),
        parts=parts_of(compared, figures),
        assumed=_assumed(known),
    )


def _assumed(known: Sequence[Project]) -> tuple[str, ...]:
    """Return what no spec gives: allowances of one kind together, in the order of the workings."""
    steps = (step for project in known for step in project.allowances)
    names = [step.name for step in steps if step.origin == "assumed"]
    return tuple(dict.fromkeys(_PLAINLY.get(name.split(":")[0], name) for name in names))


def _heading(known: Sequence[Project]) -> Heading:
    """Return the heading: what all have in common, and nothing of one alone."""
    first = heading_of(replace(known[0], candidate=""), CARD)
    headings = [heading_of(replace(each, candidate=""), CARD) for each in known]
    alike = {
        name: len({getattr(each, name) for each in headings}) == 1
        for name in ("title", "code", "date", "maker", "loom", "fingerprint")
    }
    blank = {name: "" for name, same in alike.items() if not same}
    return replace(first, **{**blank, **({} if alike["title"] else {"title": SEVERAL})})
