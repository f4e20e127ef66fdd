"""Checks of kinds of pieces that are not alike on one warp."""

from __future__ import annotations

from cards.spec.parts import Parts
from cards.spec.quoting import shortened

_MOST_PIECES = 100  # of all kinds together, as many as may be alike


def check_pieces(parts: Parts) -> None:
    """Tell what is wrong with the kinds of pieces by themselves."""
    names: dict[str, int] = {}
    for place, piece in enumerate(parts.pieces):
        first = names.setdefault(piece.piece.casefold(), place)
        if first != place:
            message = f"two kinds of pieces are called '{shortened(piece.piece)}'"
            mend = "give one of them another name, or say `number: 2`"
            parts.tell("error", "piece-twice", message, mend, "pieces", place, "piece")
    _check_number(parts)
    _check_lengths(parts)


def _check_number(parts: Parts) -> None:
    if not parts.pieces or parts.cloth is None:
        return
    if parts.cloth.pieces is not None and parts.places.has("cloth", "pieces"):
        message = "the number of pieces stands in the cloth and under `pieces`"
        mend = "keep `pieces`, and give each kind its `number`"
        parts.tell_key("error", "two-piece-counts", message, mend, "cloth", "pieces")
    number = sum(piece.number for piece in parts.pieces)
    if number > _MOST_PIECES:
        message = f"there are {number} pieces of all kinds; {_MOST_PIECES} are the most"
        parts.tell("error", "too-many-pieces", message, "weave them on several warps", "pieces")


def _check_lengths(parts: Parts) -> None:
    if parts.cloth is None or parts.cloth.length is not None or not parts.sound("cloth"):
        return
    for place, piece in enumerate(parts.pieces):
        if piece.length is None and parts.sound("pieces", place):
            message = f"the length of '{shortened(piece.piece)}' is missing"
            mend = "add `length: 66 cm` to it, or to the cloth for all pieces"
            parts.tell("error", "no-length", message, mend, "pieces", place)
