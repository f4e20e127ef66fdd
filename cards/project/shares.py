"""What each yarn does and needs: in the warp, in the weft, and both together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from cards.calculation.workings import Workings
from cards.calculation.yarn_need import (
    need_of,
    record_need,
    warp_yarn_length,
    weft_yarn_length,
)
from cards.project.model import ProjectYarn, Totals, WovenSection, YarnShare
from cards.project.rates import YarnAllowances
from cards.sequence import Sequence


def threads_by_yarn(sequence: Sequence[str]) -> Counter[str]:
    """Return how many threads of each yarn a complete sequence has."""
    return Counter(sequence.values())


def warp_shares(
    yarns: tuple[ProjectYarn, ...],
    order: Sequence[str],
    floating: int,
    length: float,
    extra: YarnAllowances,
    work: Workings,
) -> tuple[YarnShare, ...]:
    """Return the warp by yarn, in the order of the yarns in the spec.

    Every yarn of the warp has its own spare ends, since any of them may break; the floating
    selvedges are of the yarns at the edges.
    """
    ends = threads_by_yarn(order)
    every = order.values()
    edges = Counter((every[0], every[-1]) if floating else ())
    work.begin("yarn")
    spare = int(work.known("spare ends of each yarn", extra.spare_ends, "ends"))
    shares = []
    for yarn in yarns:
        if not ends[yarn.key]:
            continue
        more = spare + edges[yarn.key]
        need = need_of(
            warp_yarn_length(ends[yarn.key] + more, length),
            yarn.tex,
            extra.buy_margin.value,
            yarn.put_up,
        )
        work.worked(
            f"{yarn.name}: warp",
            "(ends + spare ends + floating selvedges) × warp length",
            (
                ("ends", ends[yarn.key], "ends"),
                ("spare ends", spare, "ends"),
                ("floating selvedges", edges[yarn.key], "ends"),
                ("warp length", length, "mm"),
            ),
            need.length,
            "mm of yarn",
            of=yarn.key,
        )
        shares.append(YarnShare(yarn, ends[yarn.key], more, need, edges[yarn.key]))
    return tuple(shares)


def weft_shares(
    yarns: tuple[ProjectYarn, ...],
    sections: tuple[WovenSection, ...],
    pieces: int,
    sample_picks: int,
    width: float,
    extra: YarnAllowances,
    work: Workings,
) -> tuple[YarnShare, ...]:
    """Return the weft of all pieces by yarn; the sample is woven in the proportions of a piece."""
    each: Counter[str] = Counter()
    for section in sections:
        each += threads_by_yarn(section.weft)
    work.begin("yarn")
    taken = work.known("take-up of the weft", extra.weft_take_up, "fraction")
    joins = work.known("joins and bobbin ends", extra.joins, "fraction")
    one = work.worked(
        "weft of one pick",
        "width in the reed × (1 + take-up) × (1 + joins)",
        (
            ("width in the reed", width, "mm"),
            ("take-up", taken, "fraction"),
            ("joins", joins, "fraction"),
        ),
        weft_yarn_length(1, width, taken, joins),
        "mm",
    )
    in_piece = each.total()
    shares = []
    for yarn in yarns:
        if not each[yarn.key]:
            continue
        picks = pieces * each[yarn.key]
        sampled = sample_picks * each[yarn.key] / in_piece
        length = weft_yarn_length(picks + sampled, width, taken, joins)
        need = need_of(length, yarn.tex, extra.buy_margin.value, yarn.put_up)
        if sample_picks:
            work.worked(
                f"{yarn.name}: picks of the sample",
                "picks of the sample × picks of this yarn ÷ picks of one piece",
                (
                    ("picks of the sample", sample_picks, "picks"),
                    ("picks of this yarn", each[yarn.key], "picks"),
                    ("picks of one piece", in_piece, "picks"),
                ),
                sampled,
                "picks",
                note="the sample is woven in the proportions of a piece",
                of=yarn.key,
            )
        work.worked(
            f"{yarn.name}: weft",
            "(picks + picks of the sample) × weft of one pick",
            (
                ("picks", picks, "picks"),
                ("picks of the sample", sampled, "picks"),
                ("weft of one pick", one, "mm"),
            ),
            length,
            "mm of yarn",
            of=yarn.key,
        )
        shares.append(YarnShare(yarn, picks, round(sampled), need))
    return tuple(shares)


def totals_of(
    yarns: tuple[ProjectYarn, ...],
    warp: tuple[YarnShare, ...],
    wefts: Mapping[str, tuple[YarnShare, ...]],
    extra: YarnAllowances,
    work: Workings,
) -> tuple[Totals, ...]:
    """Return warp and weft of each yarn together: packages are whole ones of the sum.

    `warp` is empty where it is wound already: what is on hand then lies beside it. `wefts` are by
    the name of each kind of piece.
    """
    work.begin("in all")
    margin = work.known("buying margin", extra.buy_margin, "fraction")
    totals = []
    for yarn in yarns:
        shares = (*warp, *(share for weft in wefts.values() for share in weft))
        parts = [share.need.length for share in shares if share.yarn is yarn]
        length = sum(parts)
        if not length:
            continue
        if len(parts) > 1:
            _record_length(yarn, warp, wefts, work)
        need = need_of(length, yarn.tex, margin, yarn.put_up, yarn.on_hand)
        record_need(yarn.name, need, yarn.tex, margin, yarn.put_up, work, yarn.key)
        totals.append(Totals(yarn, need))
    return tuple(totals)


def _record_length(
    yarn: ProjectYarn,
    warp: tuple[YarnShare, ...],
    wefts: Mapping[str, tuple[YarnShare, ...]],
    work: Workings,
) -> None:
    """Write the length of a yarn as the sum of its warp and of the weft of each kind of piece."""
    several = len(wefts) > 1
    parts = [("warp", share.need.length) for share in warp if share.yarn is yarn]
    told = []
    for place, (kind, weft) in enumerate(wefts.items(), start=1):
        name = f"weft {place}" if several else "weft"
        own = [(name, share.need.length) for share in weft if share.yarn is yarn]
        parts += own
        told += [f"{name} is that of {kind}" for _ in own if several]
    work.worked(
        f"{yarn.name}: length",
        " + ".join(name for name, _ in parts),
        tuple((name, length, "mm of yarn") for name, length in parts),
        sum(length for _, length in parts),
        "mm of yarn",
        note=", ".join(told),
        of=yarn.key,
    )
