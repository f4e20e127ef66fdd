"""The steps from the length of each section to its picks, and to those of the piece."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cards.calculation.warp import Rates, on_loom
from cards.calculation.workings import Inputs, Workings


@dataclass(frozen=True, slots=True)
class SectionSize:
    """A section: its finished length in mm if that was asked for, picks per mm, and its picks."""

    name: str
    length: float | None
    density: float
    picks: int


def record_sections(
    sections: Sequence[SectionSize], total: int, rates: Rates, work: Workings
) -> None:
    """Write the picks of every section with a length, and those of the piece as their sum.

    `total` is what the length of the piece asks for.
    """
    for place, section in enumerate(sections, start=1):
        if section.length is not None:
            _record_length(place, section, section.length, rates, work)
    inputs: Inputs = tuple(
        (f"section {place}", section.picks, "picks")
        for place, section in enumerate(sections, start=1)
    )
    notes = []
    if len(sections) > 1:
        notes = [", ".join(f"{place} is {each.name}" for place, each in enumerate(sections, 1))]
    more = sum(section.picks for section in sections) - total
    if more > 0:
        notes.append(f"{more} more than the length asks for, so that repeats come out whole")
    work.worked(
        "picks of one piece, as its sections have them",
        " + ".join(name for name, _, _ in inputs),
        inputs,
        sum(section.picks for section in sections),
        "picks",
        note="; ".join(notes),
    )


def _record_length(
    place: int, section: SectionSize, length: float, rates: Rates, work: Workings
) -> None:
    inputs: Inputs = (
        ("finished length", length, "mm"),
        ("shrinkage", rates.shrinkage_length.value, "fraction"),
        ("relaxation", rates.relaxation.value, "fraction"),
        ("picks on the loom", section.density, "per mm"),
    )
    work.worked(
        f"picks of section {place}, {section.name}",
        "finished length ÷ (1 − shrinkage) ÷ (1 − relaxation) × picks on the loom, "
        "up to whole picks",
        inputs,
        on_loom(length, rates) * section.density,
        "picks",
        rounded=section.picks,
    )
