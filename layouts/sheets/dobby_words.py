"""What is done with the chain of a dobby, line by line: where each section begins and ends."""

from __future__ import annotations

from collections.abc import Iterator

from cards.chain_steps import ChainSection, Place, Step
from cards.dobby_bars import BarPlan
from layouts.sheets.tie_up_words import plural


def chain_lines(plan: BarPlan) -> list[str]:
    """Return a line for each step of the chain and one for each section, in weaving order."""
    return list(_lines(plan))


def _lines(plan: BarPlan) -> Iterator[str]:
    several = len(plan.chains) > 1
    for section in plan.sections:
        yield _sentence(step_words(section.step, several=several))
        yield _section_words(section, plan, several=several)
    if plan.again is not None:
        yield f"Before the next piece: {step_words(plan.again, several=several)}."


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."


def step_words(step: Step, *, several: bool) -> str:
    """Return what is done with the chain; with `several` chains also with which of them."""
    to = _place_words(step.to)
    if step.kind == "go on":
        return f"go on {'with' if step.to.lower else 'from'} {to}"
    if step.stood is None:
        return f"put on chain {step.to.chain} and begin at {to}" if several else f"begin at {to}"
    before = f"leave the lower row of bar {step.stood.bar} unwoven, " if step.stood.lower else ""
    if step.kind == "change":
        off = f"take off chain {step.stood.chain}, put on chain {step.to.chain}"
        return f"{before}{off} and begin at {to}"
    return (
        f"{before}turn the chain on from bar {step.stood.bar} to {to}: {plural(step.bars, 'bar')}"
    )


def _place_words(place: Place) -> str:
    return f"the lower row of bar {place.bar}" if place.lower else f"bar {place.bar}"


def _section_words(section: ChainSection, plan: BarPlan, *, several: bool) -> str:
    """Return how often a section turns its chain, and where it ends within one."""
    words = f"{section.name}, picks {section.first} to {section.last}: "
    if section.first == section.last:
        words = f"{section.name}, pick {section.first}: "
    if several:
        words += f"chain {section.chain}, "
    if section.turns:
        words += plural(section.turns, "whole turn")
        if (section.start.bar, section.start.lower) != (1, False):
            words += f" from {_place_words(section.start)}"
        if not section.rest:
            return words
        words += ", then "
    return words + _rest_words(section, plan)


def _rest_words(section: ChainSection, plan: BarPlan) -> str:
    """Return the bars of less than a turn; it may pass the last one and begin again at bar 1."""
    start, end = section.start, section.ends
    first, last = (start.bar, start.lower), (end.bar, end.lower)
    if last < first:
        bars = len(plan.chains[section.chain - 1].bars)
        words = f"{_bars(start.bar, bars)} and {_bars(1, end.bar)}"
    else:
        words = _bars(start.bar, end.bar)
    if plan.picks_a_bar == 1:
        return words
    halves = []
    if start.lower:
        halves.append(f"of bar {start.bar} first only the lower row")
    if not end.lower:
        halves.append(f"of bar {end.bar} at the end only the upper row")
    return ", ".join([words, *halves])


def _bars(first: int, last: int) -> str:
    return f"bar {first}" if first == last else f"bars {first} to {last}"
