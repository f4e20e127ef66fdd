"""The shuttles of a piece: which weaves each pick, and from which side.

A draft that is written out has one for each yarn of its weft, unless it numbers its shuttles. All
start at one side and go to and fro.
"""

from __future__ import annotations

from collections.abc import Sequence as Values

from cards.cloth.weft_path import ShuttlePlan, Side, shuttle_plan
from cards.draft.layered_piece import LayeredPiece
from cards.project.cloth import Shuttle
from cards.project.model import WovenSection
from cards.project.problems import Problems
from cards.spec import Spec

Shuttles = tuple[tuple[Shuttle, ...], ShuttlePlan]


def first_end_of(spec: Spec) -> Side:
    """Return the side of the first end."""
    return "right" if spec.conventions.first_end == "right" else "left"


def built_shuttles(spec: Spec, built: LayeredPiece) -> Shuttles:
    """Return the shuttles of layers that were built, and their plan for one piece."""
    course = built.course
    pairs = enumerate(zip(course.yarns, course.starts, strict=True), start=1)
    shuttles = tuple(Shuttle(number, yarn, start) for number, (yarn, start) in pairs)
    return shuttles, course.plan(first_end_of(spec))


def written_shuttles(spec: Spec, sections: Values[WovenSection], problems: Problems) -> Shuttles:
    """Return the shuttles of a draft that is written out, and their plan for one piece."""
    start: Side = spec.draft.start
    known: dict[tuple[int, str], int] = {}
    order: list[int] = []
    for index, section in enumerate(sections):
        numbers = _numbers(spec, index, section.picks, problems)
        for number, yarn in zip(numbers, section.weft.values(), strict=True):
            order.append(known.setdefault((number, yarn), len(known)))
    shuttles = tuple(Shuttle(place, yarn, start) for place, (_, yarn) in enumerate(known, start=1))
    return shuttles, shuttle_plan(order, start, first_end=first_end_of(spec))


def _numbers(spec: Spec, index: int, picks: int, problems: Problems) -> list[int]:
    """Return the number that the author gave the shuttle of each pick, 0 where he gave none."""
    own = spec.weave[index].shuttles if spec.weave else None
    written = own or spec.draft.shuttles
    if written is None or written.length + (written.fill.once if written.fill else 0) == 0:
        return [0] * picks
    try:
        return written.cycled(picks).values()
    except ValueError:
        path = ("weave", index, "shuttles") if own else ("draft", "shuttles")
        raise problems.stop(
            "shuttles-do-not-divide",
            f"the shuttles do not come out on the {picks} picks of the section",
            "leave `to fill` out, then they are cut where the section ends",
            *path,
        ) from None
