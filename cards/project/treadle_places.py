"""The treadles put in order for the feet, in the style that the author asks for.

A treadle is numbered by its place, from the side of `treadle_1`; so the cards, the draft and the
loom count alike.
"""

from __future__ import annotations

from dataclasses import replace

from cards.loom.pressing import Press as Pressed
from cards.loom.pressing import Treadle, press
from cards.loom.shed import DEFAULT_ACTION, has_ties
from cards.loom.treadle_order import Order, Press, Style, tabby_lifts, treadle_order
from cards.project.model import WovenSection
from cards.project.problems import Problems
from cards.project.ties import Sections, Ties
from cards.spec import Spec

# What the author writes, and the style that it means.
STYLES: dict[str, Style] = {
    "order of use": "in order of use",
    "alternating": "alternating, outside in",
    "from the middle": "alternating, middle out",
    "tabby outside": "tabby outside",
    "shortest reach": "shortest reach",
}


def put_in_order(
    spec: Spec,
    sections: Sections,
    ties: Ties,
    threading: tuple[int, ...],
    asked: str,
    problems: Problems,
) -> tuple[Sections, Ties]:
    """Return the sections and treadles, numbered anew by their places in the order `asked` for."""
    loom = spec.loom
    style = STYLES[asked]
    presses = presses_of(sections)
    tabby = None
    if style == "tabby outside":
        tabby = tabby_treadles(ties.tied, threading, loom.action or DEFAULT_ACTION)
        if tabby is None:
            problems.warning(
                "no-tabby",
                "no two treadles weave plain weave in this threading, so they cannot lie outside",
                "choose another treadle_order, or tie the plain-weave treadles in the tie-up",
                "loom",
                "treadle_order",
            )
            return sections, ties
    numbers = [each.number for each in ties.tied]
    order = from_side(treadle_order(presses, style, numbers, tabby), loom.treadle_1)
    number = numbers_of(order, loom.treadle_1)
    tied = sorted((replace(each, number=number[each.number]) for each in ties.tied), key=_number)
    own = ties.own and all(old == new for old, new in number.items())
    renumbered = tuple(_renumbered(section, number) for section in sections)
    return renumbered, replace(ties, tied=tuple(tied), own=own, order=style)


def presses_of(sections: Sections) -> list[Press]:
    """Return the treadles pressed at each pick of a piece, in order."""
    known = {run.value for section in sections for run in section.sheds.runs()}
    press_of = {shed: tuple(sorted(shed)) for shed in known}
    return [press_of[shed] for section in sections for shed in section.sheds.values()]


def from_side(order: Order, treadle_1: str) -> Order:
    """Return an order as it lies for a loom: in order of use the first one used is treadle 1."""
    if treadle_1 == "left" or order.style != "in order of use":
        return order
    return replace(order, places=order.right_to_left, left=len(order.places) - order.left)


def numbers_of(order: Order, treadle_1: str) -> dict[int, int]:
    """Return the number of each treadle by its place in an order, from the side of treadle 1."""
    places = order.places if treadle_1 == "left" else order.right_to_left
    return {treadle: place for place, treadle in enumerate(places, start=1)}


def tabby_treadles(
    tied: tuple[Treadle, ...], threading: tuple[int, ...], action: str
) -> tuple[int, int] | None:
    """Return the two treadles that weave plain weave when pressed alone, None without such."""
    lifts = tabby_lifts(threading)
    if lifts is None or not has_ties(action):
        return None
    used = frozenset(threading)
    found = []
    for lift in lifts:
        for each in tied:
            alone: Pressed = press((each,), used, action)
            if alone.clean and alone.raised & used == lift:
                found.append(each.number)
                break
    return (found[0], found[1]) if len(found) == len(lifts) else None


def _renumbered(section: WovenSection, number: dict[int, int]) -> WovenSection:
    return replace(
        section, sheds=section.sheds.map(lambda shed: frozenset(number[each] for each in shed))
    )


def _number(treadle: Treadle) -> int:
    return treadle.number
