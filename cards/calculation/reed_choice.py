"""Which of several reeds suits a sett best.

First come reeds that give the sett within 2 %, then those in which the layers stay whole in every
dent, then those with comfortably 1 to 4 ends a dent, then those with a pattern of at most 4 dents,
then shorter patterns, then smaller errors, then finer reeds. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from cards.calculation.dents import Pattern, mean_of
from cards.calculation.sley import (
    GOOD_ENOUGH,
    SHORT_REPEAT,
    ends_per_dent,
    exact_density,
    pattern_for,
    round_in_a_dent,
)

MOST_IN_A_DENT: Final = 4  # ends, if a round of all layers has no more


@dataclass(frozen=True, slots=True)
class ReedChoice:
    """A reed in dents per mm, its pattern for the sett, and what speaks for it.

    `error` is the share by which its sett is closer than the wanted one; `whole` tells whether
    every dent holds whole rounds of all layers, `comfortable` whether it holds 1 to 4 ends.
    """

    reed: Fraction
    pattern: Pattern
    error: Fraction
    whole: bool
    comfortable: bool

    @property
    def true_sett(self) -> Fraction:
        """Ends per mm that it gives."""
        return mean_of(self.pattern) * self.reed

    @property
    def near(self) -> bool:
        """Whether its sett is within 2 % of the wanted one."""
        return abs(self.error) <= GOOD_ENOUGH

    @property
    def merits(self) -> tuple[bool, bool, bool, bool]:
        """What makes it another cloth or another task, the weightiest first."""
        return self.near, self.whole, self.comfortable, len(self.pattern) <= SHORT_REPEAT

    def clearly_better(self, other: ReedChoice) -> bool:
        """Whether it beats another reed by more than a shorter pattern or a smaller error."""
        return self.merits > other.merits


def rank_reeds(
    sett_per_mm: Fraction | float,
    reeds: Iterable[Fraction | float],
    in_a_round: int = 1,
    pattern: Pattern = (),
) -> tuple[ReedChoice, ...]:
    """Return the reeds, the best first; `in_a_round` is the ends of all layers in one round.

    With a `pattern` of one's own that is what each reed is judged by.
    """
    choices = [_choice(sett_per_mm, reed, in_a_round, pattern) for reed in reeds]
    return tuple(sorted(choices, key=_order))


def _choice(
    sett: Fraction | float, reed_per_mm: Fraction | float, in_a_round: int, pattern: Pattern
) -> ReedChoice:
    reed = exact_density(reed_per_mm)
    multiple = round_in_a_dent(sett, reed, in_a_round)
    taken = pattern or pattern_for(sett, reed, multiple)
    mean = mean_of(taken)
    return ReedChoice(
        reed=reed,
        pattern=taken,
        error=mean / ends_per_dent(sett, reed) - 1,
        whole=all(ends % in_a_round == 0 for ends in taken),
        comfortable=1 <= mean <= max(MOST_IN_A_DENT, in_a_round),
    )


def _order(choice: ReedChoice) -> tuple[bool, bool, bool, bool, int, Fraction, Fraction]:
    near, whole, comfortable, short = choice.merits
    # Among reeds that miss the sett anyway, the error weighs more than the pattern.
    dents = len(choice.pattern) if near else 0
    return not near, not whole, not comfortable, not short, dents, abs(choice.error), -choice.reed
