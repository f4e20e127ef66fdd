"""What a cloth really lost, from what was measured on the loom, off it and after washing.

Every loss is a fraction of the larger, earlier size, as in planning: draw-in of the width at the
reed, relaxation of the length under tension, take-up of the straightened warp (ASTM D3883),
shrinkage of the relaxed cloth. So the figures read back are those to plan the next cloth with.
Lengths of cloth are all of the same stretch: the woven part of one piece, hems flat.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from cards.calculation.workings import Known, Unit


@dataclass(frozen=True, slots=True)
class Sizes:
    """What was measured of one piece in mm, None where nothing was.

    `reed` is the width of which the cloth draws in, `used` the warp of the piece, straightened.
    """

    reed: float | None
    off_width: float | None
    washed_width: float | None
    used: float | None
    woven: float | None
    off_length: float | None
    washed_length: float | None


@dataclass(frozen=True, slots=True)
class WarpSpent:
    """Where the warp went, in mm. `waste` is counted as that of a loom is.

    So the outer fringes are in it where they come out of it (`from_waste`), else not.
    """

    length: float
    waste: float
    unwoven: float
    header: float
    sample: float
    fringe: float
    gap: float
    pieces: int
    from_waste: bool


@dataclass(frozen=True, slots=True)
class Found:
    """One figure read back: where it stands in a spec, what it came to beside what was planned.

    `value` is None where it cannot be known, and `why` says why, or else what it was reckoned from.
    """

    key: tuple[str, ...]
    name: str
    unit: Unit
    planned: Known
    value: float | None
    why: str


def lost(earlier: float, later: float) -> float:
    """Return the fraction of the earlier size that was lost; below nought where it grew.

    >>> lost(12.5, 10)
    0.2
    """
    return (earlier - later) / earlier


def warp_of_one_piece(spent: WarpSpent) -> float:
    """Return the mm of warp that one piece took: the warp less all else, shared among the pieces.

    Below nought where the rest is more than the warp.
    """
    outer = max(0.0, 2 * spent.fringe - spent.waste) if spent.from_waste else 2 * spent.fringe
    fringes = 2 * (spent.pieces - 1) * spent.fringe + outer
    rest = spent.waste + spent.unwoven + spent.header + spent.sample + fringes
    return (spent.length - rest - (spent.pieces - 1) * spent.gap) / spent.pieces


def share_lost(
    key: tuple[str, ...],
    name: str,
    planned: Known,
    earlier: tuple[str, float | None],
    later: tuple[str, float | None],
) -> Found:
    """Return what was lost between two sizes, each with its name; nought where it grew."""
    missing = [what for what, size in (earlier, later) if size is None]
    if earlier[1] is None or later[1] is None:
        why = f"not known without the {' and the '.join(missing)}"
        return Found(key, name, "fraction", planned, None, why)
    why = f"({earlier[0]} − {later[0]}) ÷ {earlier[0]}"
    value = lost(earlier[1], later[1])
    if value < 0:
        why += f"; it grew by {-value:.1%}"
    return Found(key, name, "fraction", planned, max(0.0, value), why)


def weft_take_up(
    masses: Iterable[tuple[float, float]], warp: float, bare: float, joins: float
) -> float:
    """Return the take-up of the weft from what all its yarns weighed.

    `masses` are the grams used of each yarn with its tex; `warp` is the mm of them in the warp,
    `bare` picks times width in the reed in mm, `joins` the fraction allowed for bobbin ends, which
    cannot be told apart by weighing. Below nought where less was used than lies straight.
    """
    length = sum(1e6 * mass / tex for mass, tex in masses)
    return (length - warp) / bare / (1 + joins) - 1
