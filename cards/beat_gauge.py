"""The beat gauge: so many picks to a length, to be laid on the cloth and counted against.

There is a gauge for every density that is woven, of all layers together and of each layer as it is
seen, on the loom under tension; and for what it becomes when the tension is let off.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from cards.figures import Figures
from cards.heading import Heading, heading_of
from cards.layer_marks import layered_section, letters_of
from cards.project.model import Project

State = Literal["on the loom", "off the loom"]
_STATES: tuple[State, ...] = ("on the loom", "off the loom")

# Densities as near as this, as shares, are one gauge: no eye tells them apart.
_SAME = 1e-4


@dataclass(frozen=True, slots=True)
class Gauge:
    """Picks per mm in a `state` of the cloth, of what `layers`, and the parts that have them.

    `layers` is empty for a cloth of one layer, `where` for what holds for the whole of the cloth.
    """

    per_mm: float
    state: State
    layers: str
    where: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BeatGauge:
    """All that the sheet of beat gauges says."""

    heading: Heading
    figures: Figures
    gauges: tuple[Gauge, ...]


def beat_gauge(project: Project) -> BeatGauge:
    """Return the beat gauges of all pieces of a project."""
    found: dict[tuple[float, State, str], list[_Part]] = {}
    for state in _STATES:
        for part, density, layers in _woven(project, state):
            key = next(
                (key for key in found if _same(key, density, state, layers)),
                (density, state, layers),
            )
            found.setdefault(key, []).append(part)
    gauges = (Gauge(*key, where=_where(project, parts)) for key, parts in found.items())
    return BeatGauge(
        heading=heading_of(project, "Beat gauge"),
        figures=Figures(project.units),
        gauges=tuple(gauges),
    )


# A kind of piece by its place, and one of its sections by its place.
_Part = tuple[int, int]


def _same(key: tuple[float, State, str], density: float, state: State, layers: str) -> bool:
    return abs(key[0] / density - 1) < _SAME and key[1:] == (state, layers)


def _woven(project: Project, state: State) -> Iterator[tuple[_Part, float, str]]:
    """Yield every section with its density of picks, of all layers together and of each layer."""
    for at, kind in enumerate(project.kinds):
        rate = 0.0 if state == "on the loom" else relaxation(kind)
        if state == "off the loom" and not rate:
            continue
        for place, section in enumerate(kind.weft.sections):
            density = section.picks / section.length / (1 - rate)
            for layers, share in _shares(kind, place):
                yield (at, place), density * share, layers


def _where(project: Project, parts: Sequence[_Part]) -> tuple[str, ...]:
    """Return the parts of the cloth in words: whole kinds of pieces by their names alone."""
    whole = [
        all((at, place) in parts for place in range(len(kind.weft.sections)))
        for at, kind in enumerate(project.kinds)
    ]
    if all(whole):
        return ()
    words = []
    for at, kind in enumerate(project.kinds):
        if whole[at]:
            words.append(kind.piece)
            continue
        names = (kind.weft.sections[place].name for where, place in parts if where == at)
        before = f"{kind.piece}: " if len(project.kinds) > 1 else ""
        words += [f"{before}{name}" for name in dict.fromkeys(names)]
    return tuple(words)


def _shares(project: Project, place: int) -> list[tuple[str, float]]:
    """Return what is counted of a section, in words, and its share of all picks."""
    layered = layered_section(project, place)
    if layered is None:
        return [("", 1.0)]
    counted = Counter(layered.layers)
    if len(counted) < 2:
        return [("all layers woven as one", 1.0)]
    picks = sum(counted.values())
    shares: dict[float, list[str]] = {}
    for lanes, number in sorted(counted.items()):
        shares.setdefault(number / picks, []).append(letters_of(lanes))
    found = [("all layers together", 1.0)]
    for share, letters in shares.items():
        words = "one layer alone" if len(shares) == 1 else f"layer {' or '.join(letters)} alone"
        found.append((words, share))
    return found


def relaxation(project: Project) -> float:
    """Return by what share of its length under tension the cloth is shorter off the loom."""
    steps = (step for step in project.steps if step.name == "relaxation off the loom")
    return next((step.value for step in steps), 0.0)
