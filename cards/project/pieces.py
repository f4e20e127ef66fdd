"""Pieces that are not alike on one warp: each kind is the spec with what differs put in.

They share ends, threading, reed, treadles and the length of the warp; each kind has its own length,
shrinkage, sections and weft. Waste, header and sample are needed once.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import islice

from cards.project.amounts import Amounts, Woven
from cards.project.problems import Path, Problems, Stopped
from cards.project.reckoning import Reckoning
from cards.project.shares import totals_of
from cards.project.ties import Sections, Ties
from cards.project.treadles import settle_treadles
from cards.spec import Allowances, PieceKind, Shrinkage, Spec
from cards.spec.models import PieceAllowances


@dataclass(frozen=True, slots=True)
class Reckoned:
    """A spec reckoned through: its first kind of piece, and the further ones on the same warp."""

    first: Reckoning
    taken: Amounts
    further: tuple[tuple[Reckoning, Amounts], ...]

    @property
    def amounts(self) -> tuple[Amounts, ...]:
        """What each kind of piece takes, the first one first."""
        return (self.taken, *(amounts for _, amounts in self.further))


def first_kind(spec: Spec, problems: Problems) -> Reckoning:
    """Return the reckoning of the first kind of piece, or of all pieces where they are alike."""
    return _kind(spec, 0, problems) if spec.pieces else Reckoning(spec, problems)


def reckon(spec: Spec, first: Reckoning) -> Reckoned:
    """Return what a spec takes in all; `first` is the reckoning that `first_kind` gives.

    Raises Stopped where something makes it impossible.
    """
    others = [_kind(spec, place, first.problems) for place in range(1, len(spec.pieces))]
    woven = first.weave()
    further = [_woven_on(other, woven) for other in others]
    (own, *rest), ties = _pressed(first, [woven, *further])
    more = sum(
        _takes(first, piece.piece, other, each)
        for piece, other, each in zip(spec.pieces[1:], others, further, strict=True)
    )
    last = further[-1].fringe if further else None
    taken = first.amounts(woven, own, ties, more, last)
    amounts = [
        other.amounts_on(taken, each, pressed)
        for other, each, pressed in zip(others, further, rest, strict=True)
    ]
    names = [piece.piece for piece in spec.pieces] or [""]
    wefts = {name: each.weft.by_yarn for name, each in zip(names, (taken, *amounts), strict=True)}
    wound = () if taken.warp.state else taken.warp.by_yarn
    totals = totals_of(taken.yarns, wound, wefts, first.extra, first.work)
    kinds = zip(others, (replace(each, totals=totals) for each in amounts), strict=True)
    return Reckoned(first, replace(taken, totals=totals), tuple(kinds))


def tried(spec: Spec, problems: Problems) -> Amounts | None:
    """Return what a changed spec would take, None where nothing comes of it; nobody is told why."""
    first = first_kind(spec, problems.apart())
    with suppress(Stopped):
        taken = reckon(spec, first).taken
        return None if first.problems.has_errors else taken
    return None


def _kind(spec: Spec, place: int, problems: Problems) -> Reckoning:
    moved = problems.moved(_moved(spec.pieces[place], place))
    return Reckoning(piece_spec(spec, place), moved)


def piece_spec(spec: Spec, place: int) -> Spec:
    """Return the spec of one kind of piece; it still knows of the others."""
    piece = spec.pieces[place]
    size = {
        key: getattr(piece, key) for key in ("length", "hem") if getattr(piece, key) is not None
    }
    changes = {
        key: getattr(piece, key) for key in ("picks", "weft_order", "weave") if getattr(piece, key)
    }
    cloth = spec.cloth.model_copy(update={"pieces": piece.number, **size})
    allowances = _merged(spec.allowances, piece.allowances)
    return spec.model_copy(update={"cloth": cloth, "allowances": allowances, **changes})


def _merged(base: Allowances, own: PieceAllowances | None) -> Allowances:
    """Return the allowances of all pieces with those put in that one kind of piece has."""
    if own is None:
        return base
    keys = ("take_up", "relaxation", "draw_in")
    changes = {key: getattr(own, key) for key in keys if getattr(own, key) is not None}
    if own.shrinkage is not None:
        known = base.shrinkage or Shrinkage.model_construct(length=None, width=None)
        sides = {key: getattr(own.shrinkage, key) for key in ("length", "width")}
        sides = {key: each for key, each in sides.items() if each is not None}
        changes["shrinkage"] = known.model_copy(update=sides)
    return base.model_copy(update=changes)


# What a kind of piece names itself, and where in the spec it stands that this is put in.
_PUT_IN: tuple[tuple[str, Path], ...] = (
    ("length", ("cloth", "length")),
    ("hem", ("cloth", "hem")),
    ("picks", ("picks",)),
    ("weft_order", ("weft_order",)),
    ("weave", ("weave",)),
    ("allowances", ("allowances",)),
)


def _moved(piece: PieceKind, place: int) -> dict[Path, Path]:
    return {path: ("pieces", place, key) for key, path in _PUT_IN if getattr(piece, key)}


def _woven_on(other: Reckoning, first: Woven) -> Woven:
    """Return a further kind of piece woven on the ends of the first one."""
    woven = other.weave(first.ends)
    if woven.ends.threading.values() == first.ends.threading.values():
        return replace(woven, ends=first.ends)
    raise other.problems.stop(
        "piece-on-other-ends",
        f"this kind of piece takes another threading: {woven.ends.number} ends instead of "
        f"{first.ends.number}, or the same in another order",
        f"try `given: {{ends: {woven.ends.number}}}` for all, or join and bind its layers as in "
        "the others: pieces on one warp share its threading",
        "weave",
    )


def _pressed(first: Reckoning, kinds: list[Woven]) -> tuple[list[Sections], Ties]:
    """Return the sections of each kind as they are woven: one tie-up serves all of them."""
    sections = tuple(section for kind in kinds for section in kind.sections)
    threading = tuple(kinds[0].ends.threading.values())
    tie_up = first.spec.draft.tie_up or {}
    pressed, ties = settle_treadles(first.spec, sections, tie_up, threading, first.problems)
    left = iter(pressed)
    return [tuple(islice(left, len(kind.sections))) for kind in kinds], ties


def _takes(first: Reckoning, name: str, other: Reckoning, woven: Woven) -> float:
    """Return the warp in mm that all pieces of a further kind take, with fringes and gaps."""
    pieces, gap = other.spec.cloth.pieces, first.lengths.gap.value
    first.work.begin("warp")
    return first.work.worked(
        f"warp of the pieces '{name}'",
        "pieces × (warp used + 2 × one fringe + gap)",
        (
            ("pieces", pieces, "pieces"),
            ("warp used", woven.used, "mm"),
            ("one fringe", woven.fringe, "mm"),
            ("gap", gap, "mm"),
        ),
        pieces * (woven.used + 2 * woven.fringe + gap),
        "mm",
    )
