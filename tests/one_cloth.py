"""One layered cloth, the same all along: one repeat of its draft, for tests.

Pieces whose sections differ are built by `layered_piece`; this asks it for a single section.
"""

from __future__ import annotations

from dataclasses import dataclass

from cards.cloth.continuity import find_faults, fold_faults
from cards.cloth.layers import Layer, layers
from cards.cloth.pieces import Piece, find_pieces
from cards.cloth.weft_path import Side, follow, side_at
from cards.draft.course import CourseSection, picks_of_repeat
from cards.draft.drawdown import drawdown
from cards.draft.join_plan import Join, JoinError, JoinPlan, plan_of
from cards.draft.layer_threading import Arrangement
from cards.draft.layer_weave import PLAIN, LayerWeave, Shed
from cards.draft.layered_piece import LayeredPiece, build_piece
from cards.draft.piece_search import (
    MOST_SHAFTS,
    DoubleWeaveError,
    PieceWanted,
    SectionWanted,
    names_of,
)

__all__ = ["DoubleWeave", "DoubleWeaveError", "Wanted", "build"]


@dataclass(frozen=True, slots=True)
class Wanted:
    """A layered cloth that is asked for; `ends` are those of all layers.

    `join`: the side of the first fold, the others alternate; `tube` for two layers; or `none`; or
    a plan of one's own. The rest is as in PieceWanted.
    """

    ends: int
    layers: int = 2
    join: Join | JoinPlan = "none"
    start: Side = "right"
    first_end: Side = "right"
    arrangement: Arrangement = "straight"
    weaves: tuple[LayerWeave, ...] = (PLAIN,)
    ratio: tuple[int, ...] = ()
    shafts: int = MOST_SHAFTS
    keep_ends: bool = False


@dataclass(frozen=True, slots=True)
class DoubleWeave:
    """A layered draft, one repeat of its picks; layers and shuttles from 0, shafts from 1.

    `threading` and `end_layers` are by end, first end first. `lifts`, `pick_layers`, `shuttles` and
    `sides` (from which the shuttle comes) are by pick. `shafts` has those of each layer; `pieces`
    is the cloth; `chosen` says what was chosen, and why.
    """

    threading: tuple[int, ...]
    end_layers: tuple[int, ...]
    shafts: tuple[tuple[int, ...], ...]
    lifts: tuple[Shed, ...]
    pick_layers: tuple[int, ...]
    shuttles: tuple[int, ...]
    sides: tuple[Side, ...]
    pieces: tuple[Piece, ...]
    chosen: tuple[str, ...]


def build(wanted: Wanted) -> DoubleWeave:
    """Return the draft of a layered cloth.

    Raises DoubleWeaveError when what is asked for makes no cloth, needs more shafts than there are,
    or when the weave cannot run on over every fold and edge.
    """
    try:
        plan = plan_of(wanted.layers, wanted.join) if isinstance(wanted.join, str) else wanted.join
    except JoinError as error:
        raise DoubleWeaveError(error.why, error.mend) from None
    ratio = wanted.ratio or (1,) * wanted.layers
    weaves = wanted.weaves * (wanted.layers if len(wanted.weaves) == 1 else 1)
    cycles = [len(weave.lifts) for weave in weaves]
    sound = len(ratio) == len(cycles) == wanted.layers and min(ratio) > 0
    repeat = picks_of_repeat(plan, ratio, cycles) if sound else 1
    section = CourseSection(2 * repeat, plan, ("weft",) * wanted.layers, ratio=wanted.ratio)
    piece = build_piece(
        PieceWanted(
            ends=wanted.ends,
            layers=wanted.layers,
            sections=(SectionWanted("cloth", section, tuple(range(wanted.layers))),),
            start=wanted.start,
            first_end=wanted.first_end,
            arrangement=wanted.arrangement,
            weaves=wanted.weaves,
            ratio=wanted.ratio,
            shafts=wanted.shafts,
            keep_ends=wanted.keep_ends,
        )
    )
    return _proved(wanted, piece, repeat, names_of(weaves))


def _proved(wanted: Wanted, piece: LayeredPiece, repeat: int, names: str) -> DoubleWeave:
    """Analyse two repeats of the draft; refuse one that is not the cloth asked for.

    This also finds a weave that falls apart in itself.
    """
    cells = drawdown(piece.threading, piece.lifts)
    course, every = piece.course, range(wanted.layers)
    asked = tuple(
        Layer(_places(piece.end_layers, layer), _places(course.layers.tolist(), layer))
        for layer in every
    )
    if layers(cells) != asked:
        raise DoubleWeaveError(
            f"{names} does not hang together in every layer",
            "each layer needs a weave that binds all its ends and picks",
        )
    path = follow(course.layers, course.plan(wanted.first_end))
    pieces = find_pieces(path)
    faults = fold_faults(find_faults(cells, asked, path))
    if faults or any(each.kind == "odd" for each in pieces):
        raise DoubleWeaveError(
            f"the cloth has {len(faults)} faults at its folds", "plain weave would have none"
        )
    return DoubleWeave(
        threading=piece.threading,
        end_layers=piece.end_layers,
        shafts=piece.shafts,
        lifts=piece.lifts[:repeat],
        pick_layers=tuple(course.layers[:repeat].tolist()),
        shuttles=tuple(course.shuttles[:repeat].tolist()),
        sides=tuple(side_at(right) for right in course.from_right[:repeat].tolist()),
        pieces=pieces,
        chosen=piece.chosen,
    )


def _places(values: tuple[int, ...] | list[int], wanted: int) -> tuple[int, ...]:
    return tuple(place for place, value in enumerate(values) if value == wanted)
