"""The table of setts: what the weaver's reeds give with the usual patterns."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from cards.calculation.reed_choice import ReedChoice
from cards.calculation.sett_table import SettRow, nearest_rows, sett_rows
from cards.calculation.sley import exact_density
from cards.figures import Figures
from cards.heading import Heading, heading_of
from cards.project.model import Project


@dataclass(frozen=True, slots=True)
class SettTable:
    """All that the table of setts says. Reeds and setts are per mm, exactly.

    `reeds` stand from the coarsest to the finest; every row has a sett for each. `nearest` has for
    each reed the rows nearest to the wanted sett. `share` is the ends of all layers for each end of
    one, `choices` are the reeds with their pattern for this sett, the best first.
    """

    heading: Heading
    figures: Figures
    reeds: tuple[Fraction, ...]
    rows: tuple[SettRow, ...]
    nearest: tuple[tuple[int, ...], ...]
    wanted: Fraction
    layers: int
    share: Fraction
    used: Fraction
    choices: tuple[ReedChoice, ...]


def sett_table(project: Project) -> SettTable:
    """Return the table of setts of a project. Raises ValueError where the loom has no reed."""
    sleying, reed = project.sleying, project.in_reed
    if sleying is None or reed is None:
        raise ValueError("the loom has no reed")
    reeds = tuple(sorted({choice.reed for choice in reed.choices}))
    patterns = [choice.pattern for choice in reed.choices]
    rows = sett_rows(reeds, [*patterns, sleying.pattern])
    wanted = exact_density(project.sett.ends_total)
    return SettTable(
        heading=heading_of(project, "Sett table"),
        figures=Figures(project.units),
        reeds=reeds,
        rows=rows,
        nearest=nearest_rows(rows, wanted),
        wanted=wanted,
        layers=project.sett.layers,
        share=project.sett.warp_share,
        used=sleying.reed,
        choices=reed.choices,
    )
