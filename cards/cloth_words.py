"""What a cloth is, in words: its layers by name, its pieces, its folds."""

from __future__ import annotations

from collections.abc import Sequence

from cards.cloth.pieces import Piece

LAYER_LETTERS = "ABCDEFGH"


def layer_letter(lane: int) -> str:
    """Return the letter of a layer, A for the one that lies on top where the cards begin.

    >>> layer_letter(0), layer_letter(2)
    ('A', 'C')
    """
    return LAYER_LETTERS[lane] if lane < len(LAYER_LETTERS) else str(lane + 1)


def layer_name(place: int, layers: int) -> str:
    """Return where a layer lies, `place` counted from 0 at the top.

    >>> [layer_name(place, 3) for place in range(3)]
    ['top', 'middle', 'bottom']
    """
    if place == 0:
        return "top" if layers > 1 else "all"
    if place == layers - 1:
        return "bottom"
    return "middle" if layers == 3 else f"layer {place + 1}"


def exchange_words(after: Sequence[int], pick: int) -> str:
    """Return where layers change places; `after` has the lanes from the top down, then.

    >>> exchange_words((1, 0), 92)
    'after pick 92 B lies above A: the cloths are held together along that line'
    """
    order = [layer_letter(lane) for lane in after]
    if len(after) == 2:
        words = f"{order[0]} lies above {order[1]}"
    else:
        words = f"the layers lie {', '.join(order)} from the top"
    return f"after pick {pick} {words}: the cloths are held together along that line"


def listed(words: Sequence[str]) -> str:
    """Return words in a row, the last with `and`."""
    *some, last = words
    return f"{', '.join(some)} and {last}" if some else last


def piece_words(piece: Piece) -> str:
    """Return what a piece is.

    >>> piece_words(Piece("flat", (0, 1), ("left",)))
    'one cloth 2 widths wide, folded at the left'
    """
    if piece.kind == "odd":
        return f"something odd: {piece.note}"
    if piece.kind == "tube":
        return "a tube" if len(piece.layers) == 2 else f"a tube of {len(piece.layers)} layers"
    if len(piece.layers) == 1:
        return f"layer {piece.layers[0] + 1} for itself"
    return f"one cloth {len(piece.layers)} widths wide, folded at the {listed(piece.folds)}"


def pieces_words(pieces: Sequence[Piece], layers: int) -> str:
    """Return what all pieces of a stretch are together; `layers` is how many it has.

    >>> pieces_words([Piece("flat", (0,)), Piece("flat", (1,))], 2)
    '2 separate cloths'
    """
    if layers == 1:
        return "one cloth"
    if all(piece.kind == "flat" and len(piece.layers) == 1 for piece in pieces):
        return f"{layers} separate cloths"
    return listed([piece_words(piece) for piece in pieces])
