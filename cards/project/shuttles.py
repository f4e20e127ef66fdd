"""The shuttles of a piece: which weaves each pick, and from which side.

A draft that is written out has one for each yarn of its weft, unless it numbers its shuttles; then
they keep their numbers. All start at one side and go to and fro.
"""

from __future__ import annotations

from collections.abc import Sequence as Values
from typing import TYPE_CHECKING

from cards.cloth.weft_path import ShuttlePlan, Side, shuttle_plan
from cards.project.cloth import Shuttle
from cards.project.model import WovenSection
from cards.project.problems import Problems
from cards.spec import Spec

if TYPE_CHECKING:
    from cards.draft.layered_piece import LayeredPiece

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
        _check_yarns(spec, index, known, problems)
    shuttles = tuple(
        Shuttle(number or place, yarn, start) for place, (number, yarn) in enumerate(known, start=1)
    )
    return shuttles, shuttle_plan(order, start, first_end=first_end_of(spec))


def _check_yarns(
    spec: Spec, index: int, known: dict[tuple[int, str], int], problems: Problems
) -> None:
    """Refuse a shuttle that has a number and two yarns."""
    carried: dict[int, str] = {}
    for number, yarn in known:
        if number and carried.setdefault(number, yarn) != yarn:
            raise problems.stop(
                "shuttle-of-two-yarns",
                f"shuttle {number} carries {carried[number]} and {yarn}",
                "give every yarn a shuttle of its own, or leave `shuttles` out",
                *_path(spec, index),
            )


def _path(spec: Spec, index: int) -> tuple[str | int, ...]:
    own = spec.weave[index].shuttles if spec.weave else None
    return ("weave", index, "shuttles") if own is not None else ("draft", "shuttles")


def _numbers(spec: Spec, index: int, picks: int, problems: Problems) -> list[int]:
    """Return the number that the author gave the shuttle of each pick, 0 where he gave none."""
    own = spec.weave[index].shuttles if spec.weave else None
    written = own or spec.draft.shuttles
    if written is None or written.length + (written.fill.once if written.fill else 0) == 0:
        return [0] * picks
    try:
        return written.cycled(picks).values()
    except ValueError:
        raise problems.stop(
            "shuttles-do-not-divide",
            f"the shuttles do not come out on the {picks} picks of the section",
            "leave `to fill` out, then they are cut where the section ends",
            *_path(spec, index),
        ) from None
