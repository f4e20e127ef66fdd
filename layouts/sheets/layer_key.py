"""The key of the layers on the loom cards: their marks and shafts, and how to look between them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cards.cloth.weft_path import other_side
from cards.layer_marks import LayerCheck, LayerMark
from layouts.drawing import Mark
from layouts.sheets.layer_mark import TAG, layer_tag
from layouts.sheets.parts import Block, beside, paragraph, rows_of, stack, tick_box
from layouts.typeface import BODY, measure

_BETWEEN = 8.0


def layer_key(marks: Sequence[LayerMark], width: float) -> Block:
    """Return every layer with its mark, its name, shafts and ends, as many in a row as fit."""
    items = [_item(mark, width) for mark in marks]
    rows = rows_of([each for each, _ in items], width, least_gap=_BETWEEN)
    pitch = max(each for each, _ in items) + _BETWEEN
    fits = all(pitch * len(row) - _BETWEEN <= width for row in rows)
    blocks = []
    for row in rows:
        lefts = [place * pitch for place in range(len(row))]
        if not fits:
            lefts = [
                sum(items[each][0] + _BETWEEN for each in row[:place]) for place in range(len(row))
            ]
        blocks.append(beside([(at, items[each][1]) for at, each in zip(lefts, row, strict=True)]))
    return stack(blocks)


def _item(mark: LayerMark, width: float) -> tuple[float, Block]:
    shafts = " ".join(str(shaft) for shaft in mark.shafts)
    where = f"{mark.name} layer: " if mark.name else ""
    yarns = " and ".join(yarn.letter for yarn in mark.yarns)
    words = f"{where}shafts {shafts}, {mark.ends} ends, warp {yarns}"
    text = paragraph(words, width - TAG - 2.0, BODY)

    def draw(x: float, y: float) -> Iterable[Mark]:
        yield from layer_tag(mark.lane, x + TAG / 2 + 0.3, y + TAG / 2 + 0.2)
        yield from text.draw(x + TAG + 2.0, y + 0.3)

    wide = TAG + 2.0 + min(measure(words, BODY), width - TAG - 2.0)
    return wide, Block(max(TAG + 0.8, text.height) + 0.8, draw)


def check_words(check: LayerCheck, often: str) -> str:
    """Return how to look under some layers every so `often`: what to raise, and what to see."""
    shafts = " ".join(str(shaft) for shaft in check.shafts)
    letters = " and ".join(check.letters) if len(check.letters) < 3 else ", ".join(check.letters)
    words = f"Every {often} raise {letters} whole: shafts {shafts}"
    if check.treadles:
        plural = "s" if len(check.treadles) > 1 else ""
        words += f" (treadle{plural} {' and '.join(map(str, check.treadles))})"
    return (
        f"{words}. No thread may pass between {check.letters[-1]} and {check.below}{_but(check)}."
    )


def _but(check: LayerCheck) -> str:
    """Return where threads pass between two layers all the same."""
    if not check.folds:
        return ""
    if len(check.folds) > 1:
        return " but at the folds"
    (fold,) = check.folds
    return f" but at the fold: look in from the {other_side(fold)}"


# A weaver's account of double weave: a mirror under the cloth, a look in every few inches.
_UNDERNEATH = "Look underneath too, with a mirror: no float may hang there."


def layer_checks(checks: Sequence[LayerCheck], often: str, width: float) -> Block:
    """Return the looks between the layers and underneath, each with a box to tick."""
    words = [check_words(each, often) for each in checks]
    words[-1] = f"{words[-1]} {_UNDERNEATH}"
    rows = [paragraph(each, width - 9.0, BODY) for each in words]

    def draw(x: float, y: float) -> Iterable[Mark]:
        for row in rows:
            yield tick_box(x, y)
            yield from row.draw(x + 9.0, y + 0.3)
            y += max(row.height, 5.4) + 0.8

    return Block(sum(max(row.height, 5.4) + 0.8 for row in rows), draw)
