"""What was measured on a cloth, read back into the figures with which the next one is planned.

What was not measured is taken from the plan where the plan fixes it (the warp as it was wound, its
header and sample); else the figure cannot be known, and it is said why.
"""

from __future__ import annotations

from cards.calculation.measured import (
    Found,
    Sizes,
    WarpSpent,
    share_lost,
    warp_of_one_piece,
    weft_take_up,
)
from cards.calculation.warp import LoomLengths, Rates
from cards.project.measured_checks import check_found, check_measured
from cards.project.model import Totals, Warp, Weft
from cards.project.problems import Problems
from cards.project.rates import YarnAllowances
from cards.project.read_back import ReadBack
from cards.spec import Measured, Spec


def read_back(
    spec: Spec,
    warp: Warp,
    wefts: tuple[Weft, ...],
    totals: tuple[Totals, ...],
    cloth_width: float,
    allowed: tuple[Rates, LoomLengths, YarnAllowances],
    problems: Problems,
) -> ReadBack | None:
    """Return what was measured and what follows from it, None where nothing was measured.

    `wefts` are those of each kind of piece; what was measured of one piece is of the first kind.
    `cloth_width` is the planned width in mm, of one layer at the reed, of which the cloth draws in.
    """
    actual, weft = spec.measured, wefts[0]
    if actual is None:
        return None
    rates, lengths, extra = allowed
    spent = _spent(spec, actual, warp, weft, lengths)
    used = actual.warp_used
    if used is None and spent is not None:
        used = warp_of_one_piece(spent)
    sizes = _sizes(actual, warp, cloth_width, used)
    known = {total.yarn.key for total in totals}
    masses = {
        key: (each.before if each.before is not None else _bought(key, totals), each.after)
        for key, each in actual.yarns.items()
        if key in known
    }
    check_measured(spec, sizes, warp.length, masses, problems)
    found = (
        *_losses(sizes, rates, "" if spec.pieces else "waste, or the "),
        _weft(actual, warp, wefts, masses, extra),
        Found(
            ("loom", "waste"), "loom waste", "mm", lengths.waste, actual.waste,
            "measured" if actual.waste is not None else "not measured",
        ),
    )  # fmt: skip
    if not problems.has_errors:
        check_found(found, problems)
    return ReadBack(actual, used, masses, found)


def _spent(
    spec: Spec, actual: Measured, warp: Warp, weft: Weft, lengths: LoomLengths
) -> WarpSpent | None:
    """Return where the warp went; None without the waste, since nobody can know then."""
    if actual.waste is None or spec.pieces:
        return None  # pieces that are not alike share a warp unequally
    around, fringe = weft.around, spec.cloth.fringe
    return WarpSpent(
        length=_or(actual.warp_length, warp.length),
        waste=actual.waste,
        unwoven=_or(actual.unwoven, 0.0),
        header=_or(actual.header, lengths.header.value),
        sample=_or(actual.sample, lengths.sample.value),
        fringe=_or(actual.fringe, around.fringe),
        gap=_or(actual.gap, lengths.gap.value),
        pieces=weft.pieces,
        from_waste=fringe is not None and fringe.from_waste,
    )


def _or(measured: float | None, planned: float) -> float:
    return planned if measured is None else measured


def _sizes(actual: Measured, warp: Warp, cloth_width: float, used: float | None) -> Sizes:
    """Return the sizes; the width in the reed without what is opened there for a fold."""
    share = 1.0 if actual.width_in_reed is None else actual.width_in_reed / warp.width_in_reed
    return Sizes(
        reed=cloth_width * share * float(warp.widths),
        off_width=actual.off_loom.width,
        washed_width=actual.washed.width,
        used=used,
        woven=actual.woven,
        off_length=actual.off_loom.length,
        washed_length=actual.washed.length,
    )


def _losses(sizes: Sizes, rates: Rates, without: str) -> tuple[Found, ...]:
    """Return what was lost; `without` is what else would tell the warp used."""
    off_width = ("width off the loom", sizes.off_width)
    off_length = ("length off the loom", sizes.off_length)
    used = ("warp used" if sizes.used is not None else f"{without}warp used", sizes.used)
    return (
        share_lost(
            ("allowances", "take_up"), "take-up of the warp", rates.take_up, used, off_length
        ),
        share_lost(
            ("allowances", "relaxation"), "relaxation off the loom", rates.relaxation,
            ("length under tension", sizes.woven), off_length,
        ),
        share_lost(
            ("allowances", "draw_in"), "draw-in", rates.draw_in,
            ("width at the reed", sizes.reed), off_width,
        ),
        share_lost(
            ("allowances", "shrinkage", "length"), "shrinkage in length", rates.shrinkage_length,
            off_length, ("length washed", sizes.washed_length),
        ),
        share_lost(
            ("allowances", "shrinkage", "width"), "shrinkage in width", rates.shrinkage_width,
            off_width, ("width washed", sizes.washed_width),
        ),
    )  # fmt: skip


def _weft(
    actual: Measured,
    warp: Warp,
    wefts: tuple[Weft, ...],
    masses: dict[str, tuple[float, float]],
    extra: YarnAllowances,
) -> Found:
    """Return the take-up of the weft from the yarns of the weft, if all of them were weighed."""
    key, name, planned = ("allowances", "weft_take_up"), "take-up of the weft", extra.weft_take_up
    woven = {share.yarn.key: share.yarn for weft in wefts for share in weft.by_yarn}
    lacking = [yarn.name for yarn in woven.values() if yarn.key not in masses]
    if lacking:
        why = f"not known until {', '.join(lacking)} {'is' if len(lacking) == 1 else 'are'} weighed"
        return Found(key, name, "fraction", planned, None, why)
    stretch = _or(actual.warp_length, warp.length) / warp.length
    # The yarn of a warp that was there already was never weighed with the weft.
    wound = () if warp.state else warp.by_yarn
    in_warp = sum(share.need.length for share in wound if share.yarn.key in woven) * stretch
    used = [(masses[key], yarn.tex) for key, yarn in woven.items()]
    first = wefts[0]
    more = first.pieces * (_or(actual.picks, first.picks_each) - first.picks_each)
    picks = sum(weft.picks + weft.sample_picks for weft in wefts) + more
    bare = picks * _or(actual.width_in_reed, warp.width_in_reed)
    value = weft_take_up(
        [(before - after, tex) for (before, after), tex in used], in_warp, bare, extra.joins.value
    )
    warp_too = "no warp" if warp.state else "all ends wound as planned"
    why = f"weighed, with {extra.joins.value:.0%} for joins and {warp_too}"
    if value < 0:
        return Found(key, name, "fraction", planned, None, "less was weighed than lies straight")
    return Found(key, name, "fraction", planned, value, why)


def _bought(key: str, totals: tuple[Totals, ...]) -> float:
    """Return the grams of a yarn that there were, on hand and bought as planned."""
    need = next(each.need for each in totals if each.yarn.key == key)
    return need.on_hand + need.buy if need.left is None else need.left + need.mass
