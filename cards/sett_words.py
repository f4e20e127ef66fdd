"""The advice on a sett in words: how it interlaces, and how near it is to the closest."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from cards.draft.interlacing import Interlacing
from cards.figures import Figures, plain
from cards.project.model import Project

# Threads and intersections of a repeat, and a weave that has as many.
_LIKE: Final[dict[tuple[int, Fraction], str]] = {
    (3, Fraction(2)): "as in a 2/1 twill",
    (4, Fraction(2)): "as in a 2/2 twill",
    (5, Fraction(2)): "as in a five-end satin",
}


def interlacing_words(interlacing: Interlacing, threads: str = "ends") -> str:
    """Return how often a weave interlaces, such as `2 ends, 2 intersections: plain`."""
    number = plain(float(interlacing.intersections))
    words = f"{interlacing.threads} {threads}, {number} intersections"
    if not interlacing.whole:
        return f"{words}, counted over the whole width"
    if interlacing.intersections == interlacing.threads:
        return f"{words}: plain"
    # A point twill has a repeat of its own, and interlaces as the plain one does.
    for (few, least), name in _LIKE.items():
        if interlacing.intersections / interlacing.threads == least / few:
            return f"{words}, {name}"
    return words


def closest_words(project: Project, figures: Figures) -> list[str]:
    """Return how near the sett is to the closest, once for all layers that are alike."""
    words: dict[str, list[int]] = {}
    of_one = ", of one layer" if project.sett.layers > 1 else ""
    for layer in project.sett_advice.layers:
        ends = layer.ends
        said = f"{ends.share:.0%} of {figures.both('density', ends.most)}{of_one}"
        words.setdefault(said, []).append(layer.layer + 1)
    if len(words) < 2:
        return list(words)
    return [f"layer {', '.join(map(str, numbers))}: {said}" for said, numbers in words.items()]
