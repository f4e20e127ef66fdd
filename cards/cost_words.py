"""Words and figures for money, hours, sizes and weft, as the plan and the yarn list print them."""

from __future__ import annotations

from fractions import Fraction

from cards.calculation.bill import Sum
from cards.calculation.hours import quarter
from cards.cloth_words import listed
from cards.figures import Figures, money, times
from cards.project.model import MostOf, Project, ProjectYarn


def sum_words(amount: Sum) -> str:
    """Return a sum with its currency as written."""
    return money(amount.amount, amount.currency)


def hours_words(hours: float) -> str:
    """Return hours in whole quarters.

    >>> hours_words(3.3), hours_words(1.0), hours_words(0.1)
    ('3 ¼ hours', '1 hour', '¼ hour')
    """
    counted = Fraction(quarter(hours))
    return f"{times(counted)} hour{'s' if counted > 1 else ''}"


def hours_shares(project: Project) -> list[tuple[str, str]]:
    """Return what takes hours, with how many, in the order in which it is done."""
    hours = project.hours
    parts = (
        ("winding", hours.winding),
        ("dressing the loom", hours.dressing),
        ("weaving", hours.weaving),
    )
    shares = [(name, hours_words(each)) for name, each in parts if each]
    return [*shares, ("in all", hours_words(hours.counted))]


def pace_words(project: Project) -> str:
    """Return the pace by which hours are estimated, and whether it is the weaver's own."""
    pace = project.hours.pace
    parts = (("wind", pace.winding), ("dress", pace.dressing), ("weave", pace.weaving))
    words = {"wind": "ends", "dress": "ends", "weave": "picks"}
    texts = [
        f"{verb} {known.value:g} {words[verb]}{'' if known.origin == 'given' else ' (assumed)'}"
        for verb, known in parts
    ]
    return f"in an hour {listed(texts)}"


def most_words(most: MostOf, figures: Figures) -> str:
    """Return the most that a size can be, in both units, and what does not allow more."""
    if not most.value:
        return f"none: {most.limit}"
    size = f"{most.value:g}" if most.size == "pieces" else figures.both("width", most.value)
    return f"{size}: {most.limit}"


def weft_lengths(project: Project) -> list[tuple[ProjectYarn, float]]:
    """Return the mm of weft of every yarn that is woven, in pieces of all kinds."""
    lengths = {
        yarn.key: sum(
            share.need.length
            for kind in project.kinds
            for share in kind.weft.by_yarn
            if share.yarn.key == yarn.key
        )
        for yarn in project.yarns
    }
    return [(yarn, lengths[yarn.key]) for yarn in project.yarns if lengths[yarn.key]]
