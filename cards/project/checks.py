"""Findings about a project as worked out: sett, width, warp, size."""

from __future__ import annotations

from cards.calculation.warp import Rates
from cards.project.ends import finished_width_wanted
from cards.project.model import Sett, Warp
from cards.project.problems import Problems
from cards.spec import Spec

# A true sett further off than this makes another cloth.
_SETT_TOLERANCE = 0.02

# A finished width further off than this is not the cloth that was asked for.
_WIDTH_TOLERANCE = 0.02


def check_allowances(rates: Rates, problems: Problems) -> None:
    """Warn of a relaxation that is more than the whole take-up, of which it is a part."""
    if rates.relaxation.value > rates.take_up.value:
        problems.warning(
            "relaxation-over-take-up",
            f"the relaxation ({rates.relaxation.value:.0%}) is more than the take-up "
            f"({rates.take_up.value:.0%}), of which it is a part",
            "give both, measured on the same cloth",
            "allowances",
        )


def check_width(spec: Spec, warp: Warp, sett: Sett, problems: Problems) -> None:
    """Warn of a cloth that is not as wide as asked for, and of ends that are not at the sett."""
    wanted = finished_width_wanted(spec)
    if wanted is not None:
        off = warp.finished_width / wanted - 1
        if abs(off) > _WIDTH_TOLERANCE:
            wide = "wider" if off > 0 else "narrower"
            problems.warning(
                "width-off",
                f"{warp.ends} ends make the finished cloth {abs(off):.1%} {wide} than asked for",
                "change the ends, the sett or the width; or leave it so if you know it",
                "cloth",
                "width" if spec.cloth.width is not None else "circumference",
            )
    apart = warp.ends / warp.width_in_reed / sett.ends_total - 1
    if warp.width_given and abs(apart) > _SETT_TOLERANCE:
        problems.warning(
            "sett-off",
            f"{warp.ends} ends in the width given are {abs(apart):.1%} "
            f"{'closer' if apart > 0 else 'more open'} than the sett",
            "correct the ends, the width in the reed or the sett",
            "given",
            "width_in_reed",
        )


def check_warp_length(given: float, bare: float, needed: float, problems: Problems) -> None:
    """Hold a warp that is wound already against what the pieces need, without and with margin."""
    figures = problems.figures
    if given < bare:
        problems.error(
            "warp-too-short",
            f"the warp given is {figures.long(bare - given)} shorter than the pieces need",
            "weave fewer or shorter pieces, leave the sample out, or wind a longer warp",
            "given",
            "warp_length",
        )
    elif given < needed:
        problems.warning(
            "warp-without-margin",
            f"the warp given leaves {figures.width(given - bare)} for mistakes",
            "weave with care, or weave less",
            "given",
            "warp_length",
        )


def check_size(ends: int, picks: int, problems: Problems) -> None:
    """Refuse a drawdown that no loom weaves and no machine holds."""
    if ends * picks > MOST_CROSSINGS:
        raise problems.stop(
            "too-large",
            f"{ends} ends and {picks} picks are more than can be worked out",
            "is the width, the length, the sett or the density of the picks mistyped?",
            "cloth",
        )


# Crossings of ends and picks in one piece: 4,000 ends and 25,000 picks.
MOST_CROSSINGS = 100_000_000
