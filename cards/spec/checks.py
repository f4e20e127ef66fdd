"""Checks across the fields of a spec that need nothing worked out.

Each looks at one thing that can be wrong while every single value is right.
"""

from __future__ import annotations

from cards.sequence import Sequence
from cards.spec.class_checks import check_class
from cards.spec.cost_checks import check_prices
from cards.spec.draft_checks import check_draft
from cards.spec.findings import Finding
from cards.spec.loom_checks import check_further_looms, check_loom
from cards.spec.paper_checks import check_paper
from cards.spec.parts import Parts
from cards.spec.pattern_checks import check_pattern
from cards.spec.photograph_checks import check_photographs
from cards.spec.piece_checks import check_pieces
from cards.spec.places import Step
from cards.spec.quoting import shortened
from cards.spec.sley_checks import check_sley
from cards.spec.words import suggestion

_MOST_YARNS = 200  # looked up in one order, lest a hostile one take for ever


def check(parts: Parts) -> list[Finding]:
    """Return every finding across the fields of what could be read."""
    _check_yarns(parts)
    check_prices(parts)
    _check_wound_warp(parts)
    _check_letters(parts)
    _check_orders(parts)
    if parts.loom is not None:
        check_loom(parts, parts.loom, "loom")
    check_further_looms(parts)
    _check_sections(parts)
    check_pieces(parts)
    check_paper(parts)
    check_sley(parts)
    check_draft(parts)
    check_pattern(parts)
    check_photographs(parts)
    check_class(parts)
    return parts.findings


def _check_yarns(parts: Parts) -> None:
    if parts.yarns is None:
        return
    if not parts.yarns and parts.sound("yarns"):
        parts.tell("error", "no-yarns", "there is no yarn", "add one under `yarns`", "yarns")
    for name, yarn in parts.yarns.items():
        known = (yarn.size, yarn.label, yarn.wraps)
        if known == (None, None, None) and parts.sound("yarns", name):
            message = f"yarn '{name}' has neither size nor label"
            mend = (
                "add `size: Ne 8/2` or `label: 590 m per 100 g`, or `wraps: 14 per cm` "
                "for an estimate"
            )
            parts.tell_key("error", "no-size", message, mend, "yarns", name)


def _check_wound_warp(parts: Parts) -> None:
    given = parts.given
    if given is None or given.warp is None or given.warp_length is not None:
        return
    if parts.sound("given", "warp_length"):
        there = "wound already" if given.warp == "wound" else given.warp
        message = f"the warp is {there}, and its length is missing"
        parts.tell("error", "no-warp-length", message, "add `warp_length: 4 m`", "given", "warp")


def _check_letters(parts: Parts) -> None:
    taken: dict[str, str] = {}
    for name, yarn in (parts.yarns or {}).items():
        if yarn.letter is None:
            continue
        # Capitals aside: S and s are one letter at arm's length.
        first = taken.setdefault(yarn.letter.casefold(), name)
        if first != name:
            message = f"the letter {yarn.letter} stands for both '{first}' and '{name}'"
            mend = "give one of them another letter, or leave it out"
            parts.tell("error", "letter-clash", message, mend, "yarns", name, "letter")


def _check_orders(parts: Parts) -> None:
    _check_order(parts, parts.warp_order, "warp_order")
    _check_order(parts, parts.weft_order, "weft_order")
    for position, section in enumerate(parts.weave):
        _check_order(parts, section.weft, "weave", position, "weft")
    for number, piece in enumerate(parts.pieces):
        _check_order(parts, piece.weft_order, "pieces", number, "weft_order")
    if parts.selvedges is not None and parts.selvedges.yarn is not None:
        _check_yarn(parts, parts.selvedges.yarn, 0, "selvedges", "yarn")


def _check_order(parts: Parts, order: Sequence[str] | None, *path: Step) -> None:
    told: set[str] = set()
    for run in order.runs() if order is not None else ():
        if run.value not in told and len(told) < _MOST_YARNS:
            told.add(run.value)
            _check_yarn(parts, run.value, run.offset, *path)


def _check_yarn(parts: Parts, name: str, offset: int, *path: Step) -> None:
    known = parts.places.keys("yarns")  # also those whose own values were refused
    if not known or name in known:
        return
    message = f"there is no yarn '{shortened(name)}'"
    parts.tell("error", "unknown-yarn", message, suggestion(name, known), *path, offset=offset)


def _check_sections(parts: Parts) -> None:
    filling: dict[tuple[Step, ...], str] = {}
    for position, section in enumerate(parts.weave):
        piece = parts.where(("weave", position))[:-1]
        lengths = [
            key for key in ("length", "picks", "repeats") if getattr(section, key) is not None
        ]
        if len(lengths) > 1:
            message = (
                f"section '{shortened(section.section)}' has both {lengths[0]} and {lengths[1]}"
            )
            mend = "keep one of them"
            parts.tell_key("error", "two-lengths", message, mend, "weave", position, lengths[1])
        if section.length == "fill":
            if piece in filling:
                names = f"'{shortened(filling[piece])}' and '{shortened(section.section)}'"
                message = f"sections {names} both fill the piece"
                mend = "give one of them a length, picks or repeats"
                parts.tell("error", "two-fills", message, mend, "weave", position, "length")
            filling.setdefault(piece, section.section)
