"""What is wrong with a draft, held against the cloth that it is expected to make.

Grave are threads that do not hang together in the layers expected, and layers that are not joined
as expected. The finer blemishes are looked for when there is none of these: a weave of which one
crossing alone makes it uneven, an order of the layers that breaks at a place, neighbours in a layer
that weave alike where it hardly ever has that, and floats at a fold. An end on a shaft of the wrong
layer weaves in that layer, so the layers are still parted: it shows only as a gap in one and a
crowd in the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from cards.cloth.continuity import find_faults, fold_faults
from cards.cloth.layers import Layer
from cards.cloth.pieces import Piece, find_pieces
from cards.cloth.weft_path import Numbers, WeftPath
from cards.draft.regularity import (
    ALONG_WARP,
    ALONG_WEFT,
    breaks_of_round,
    rare,
    round_breaks,
)
from cards.draft.thread_classes import Cells, ThreadClasses, classes_of
from cards.draft.woven_kinds import Parted, WovenKinds, part, present, weave
from cards.draft.written import Expected, WrittenDraft

Kind = Literal[
    "lone",
    "layers",
    "pieces",
    "uneven",
    "end order",
    "ends alike",
    "pick order",
    "picks alike",
    "fold",
]

# With one of these the draft does not make the cloth expected.
GRAVE: Final = frozenset({"lone", "layers", "pieces"})

# Kinds of picks are weighed by their picks, in parts of so many, to find what floats are regular.
WEIGHTS: Final = 80

# At most so many threads are listed for one blemish.
MOST_LISTED: Final = 50


@dataclass(frozen=True, slots=True)
class Blemish:
    """What is wrong, at which ends and picks of the repeat (from 0); `words` counts from 1."""

    kind: Kind
    words: str
    ends: tuple[int, ...] = ()
    picks: tuple[int, ...] = ()


def blemishes(draft: WrittenDraft, expected: Expected) -> tuple[Blemish, ...]:
    """Return all that is wrong with a draft; nothing if it makes the cloth expected.

    Raises ValueError when a shuttle comes from a side at which it does not lie.
    """
    return tuple(Judge(expected).blemishes(classes_of(draft)))


class Judge:
    """Finds the blemishes of many drafts that differ little, and keeps what they have in common."""

    def __init__(self, expected: Expected) -> None:
        self._expected = expected
        self._parted: dict[tuple[int, bytes, bytes], tuple[Cells, Parted]] = {}
        self._woven: dict[int, WovenKinds] = {}
        self._pieces: dict[bytes, Blemish | None] = {}

    def parted(self, threads: ThreadClasses) -> Parted:
        """Return the layers of the kinds of threads."""
        kinds, shafts = present(threads)
        key = id(threads.raised), kinds.tobytes(), shafts.tobytes()
        if key not in self._parted:
            # The array is kept with it, so that no other can be given its identity.
            self._parted[key] = threads.raised, part(threads.raised, kinds, shafts)
        return self._parted[key][1]

    def woven(self, threads: ThreadClasses) -> WovenKinds:
        """Return what the kinds of threads weave."""
        parted = self.parted(threads)
        if id(parted) not in self._woven:
            self._woven[id(parted)] = weave(threads.raised, parted)
        return self._woven[id(parted)]

    def blemishes(self, threads: ThreadClasses) -> Iterator[Blemish]:
        """Yield what is wrong with a draft, the cheapest to find first."""
        parted = self.parted(threads)
        yield from _lone(threads, parted)
        several = len(parted.layers)
        if several != self._expected.layers:
            words = f"{several} layer{'s' * (several != 1)} instead of {self._expected.layers}"
            yield Blemish("layers", words)
        if parted.lone or several != self._expected.layers:
            return
        woven = self.woven(threads)
        wrong = self._joined(threads, woven)
        if wrong:
            yield wrong
            return
        yield from _uneven(threads, woven)
        yield from _end_order(threads, woven)
        yield from _ends_alike(threads, woven)
        yield from _pick_order(threads, woven)
        yield from _picks_alike(threads, woven)
        yield from _folds(threads, woven)

    def rounds(self, threads: ThreadClasses) -> tuple[int, int]:
        """Return after how many ends and picks the layers come again in their order; 0: never."""
        row, column = _orders(threads, self.woven(threads))
        return round_breaks(row, ALONG_WEFT)[1], round_breaks(column, ALONG_WARP)[1]

    def irregularities(self, threads: ThreadClasses, rounds: tuple[int, int]) -> int:
        """Return the breaks of some rounds and the neighbours alike, rare or not, of a draft.

        A change that adds to them, and so only makes them common, is no mend.
        """
        woven = self.woven(threads)
        breaks = sum(map(breaks_of_round, _orders(threads, woven), rounds))
        pairs = _end_pairs(threads, woven), _pick_pairs(threads, woven)
        return breaks + sum(int(np.count_nonzero(each.alike)) for each in pairs)

    def _joined(self, threads: ThreadClasses, woven: WovenKinds) -> Blemish | None:
        """Return what is wrong with the pieces; it depends on the sorts of turns alone."""
        if self._expected.pieces is None:
            return None
        of_pick = woven.layer_of_kind[threads.kind_of]
        leaves, enters = of_pick[threads.before], of_pick[threads.after]
        sort = (leaves * len(woven.layers) + enters) * 2 + threads.at_right
        key = np.flatnonzero(np.bincount(sort)).tobytes()
        if key not in self._pieces:
            turns = np.unique(sort, return_index=True)[1]
            path = WeftPath(
                of_pick,
                threads.plan,
                threads.before[turns],
                threads.after[turns],
                threads.at_right[turns],
            )
            self._pieces[key] = _pieces(find_pieces(path), self._expected)
        return self._pieces[key]


@dataclass(frozen=True, slots=True, eq=False)
class _Pairs:
    """Threads that follow each other in one layer: shape (pairs,)."""

    first: Numbers
    second: Numbers
    layer: Numbers
    alike: Numbers


def _pairs(layer: Numbers, like: Numbers, stop: int) -> _Pairs:
    """Return the pairs of threads whose first one lies before `stop`."""
    order = np.argsort(layer.astype(np.int16), kind="stable")  # small numbers sort in linear time
    first, second = order[:-1], order[1:]
    within = (layer[first] == layer[second]) & (first < stop)
    first, second = first[within], second[within]
    return _Pairs(first, second, layer[first], like[first] == like[second])


def _end_pairs(threads: ThreadClasses, woven: WovenKinds) -> _Pairs:
    shafts = threads.shaft_of
    return _pairs(woven.layer_of_shaft[shafts], woven.shaft_like[shafts], len(shafts))


def _pick_pairs(threads: ThreadClasses, woven: WovenKinds) -> _Pairs:
    """Return each pick of the repeat with the one that follows it, perhaps in the next repeat."""
    kinds = threads.kind_of
    return _pairs(woven.layer_of_kind[kinds], woven.pick_like[kinds], threads.repeat)


def _orders(threads: ThreadClasses, woven: WovenKinds) -> tuple[Numbers, Numbers]:
    """Return the layer of each end, and of each pick of the repeat."""
    of_repeat = threads.kind_of[: threads.repeat]
    return woven.layer_of_shaft[threads.shaft_of], woven.layer_of_kind[of_repeat]


def _rarely_alike(pairs: _Pairs, slip: int) -> Iterator[tuple[int, int, int]]:
    """Yield layer, first and second thread of pairs that are alike where the layer rarely has it.

    `slip` is how many pairs one slip makes alike.
    """
    for layer in np.unique(pairs.layer[pairs.alike]).tolist():
        here = pairs.layer == layer
        alike = here & pairs.alike
        if rare(int(alike.sum()), int(here.sum()), slip):
            for one, two in zip(
                pairs.first[alike].tolist(), pairs.second[alike].tolist(), strict=True
            ):
                yield layer, one, two


def _lone(threads: ThreadClasses, parted: Parted) -> Iterator[Blemish]:
    for layer in parted.lone:
        ends = np.flatnonzero(np.isin(threads.shaft_of, layer.ends))
        picks = np.flatnonzero(np.isin(threads.kind_of[: threads.repeat], layer.picks))
        name, places = ("end", ends) if len(ends) else ("pick", picks)
        never = f"never interlace{'s' * (len(places) == 1)}"
        words = f"{name}{'s' * (len(places) > 1)} {_listed(places)} {never}"
        yield Blemish("lone", words, _some(ends), _some(picks))


def _pieces(pieces: tuple[Piece, ...], expected: Expected) -> Blemish | None:
    if _as_expected(pieces, expected):
        return None
    told = next((piece.note for piece in pieces if piece.note), "")
    one = f"the layers make one {pieces[0].kind} piece"
    told = told or (one if len(pieces) == 1 else f"the layers make {len(pieces)} pieces")
    meant = {"tube": "one tube is", "folded": "one flat cloth is"}
    return Blemish(
        "pieces", f"{told}, and {meant.get(expected.pieces or '', 'a cloth of each is')} expected"
    )


def _as_expected(pieces: tuple[Piece, ...], expected: Expected) -> bool:
    if expected.pieces == "separate":
        return len(pieces) == expected.layers and all(piece.kind == "flat" for piece in pieces)
    kind = "tube" if expected.pieces == "tube" else "flat"
    return len(pieces) == 1 and pieces[0].kind == kind


def _uneven(threads: ThreadClasses, woven: WovenKinds) -> Iterator[Blemish]:
    for kind, shaft in woven.odd:
        picks = np.flatnonzero(woven.pick_like[threads.kind_of[: threads.repeat]] == kind)
        layer = int(woven.layer_of_kind[kind]) + 1
        words = f"pick{'s' * (len(picks) > 1)} {_listed(picks)} and shaft {shaft} make the weave of"
        yield Blemish("uneven", f"{words} layer {layer} uneven", picks=_some(picks))


def _end_order(threads: ThreadClasses, woven: WovenKinds) -> Iterator[Blemish]:
    places, length = round_breaks(_orders(threads, woven)[0], ALONG_WEFT)
    for end in places.tolist():
        words = f"the order of the layers breaks at end {end + 1}"
        yield Blemish("end order", words, ends=(end - length, end))


def _pick_order(threads: ThreadClasses, woven: WovenKinds) -> Iterator[Blemish]:
    places, length = round_breaks(_orders(threads, woven)[1], ALONG_WARP)
    for pick in places.tolist():
        words = f"the order of the layers breaks at pick {pick + 1}"
        yield Blemish("pick order", words, picks=(pick - length, pick))


def _ends_alike(threads: ThreadClasses, woven: WovenKinds) -> Iterator[Blemish]:
    for layer, one, two in _rarely_alike(_end_pairs(threads, woven), ALONG_WEFT):
        words = f"ends {one + 1} and {two + 1}, neighbours in layer {layer + 1}, weave alike"
        yield Blemish("ends alike", words, ends=(one, two))


def _picks_alike(threads: ThreadClasses, woven: WovenKinds) -> Iterator[Blemish]:
    for layer, one, following in _rarely_alike(_pick_pairs(threads, woven), ALONG_WARP):
        two = following % threads.repeat
        words = f"picks {one + 1} and {two + 1}, neighbours in layer {layer + 1}, weave alike"
        yield Blemish("picks alike", words, picks=(one, two))


def _folds(threads: ThreadClasses, woven: WovenKinds) -> Iterator[Blemish]:
    """Yield the faults at folds, each sort of turn once: of two kinds of picks at a side."""
    before, after = threads.kind_of[threads.before], threads.kind_of[threads.after]
    sort = (before * len(threads.raised) + after) * 2 + threads.at_right
    passing = woven.layer_of_kind[before] != woven.layer_of_kind[after]
    turns = np.flatnonzero(passing)[np.unique(sort[passing], return_index=True)[1]]
    if not len(turns):
        return
    path = WeftPath(
        woven.layer_of_kind,
        threads.plan,
        before[turns],
        after[turns],
        threads.at_right[turns],
    )
    cells = threads.raised[:, threads.shaft_of]
    for fault in fold_faults(find_faults(cells, _weighed(threads, woven), path)):
        at = (before == fault.pick) & passing & (threads.at_right == (fault.side == "right"))
        picks = np.unique(np.concatenate((threads.before[at], threads.after[at])) % threads.repeat)
        words = f"the weft floats past {fault.threads} ends at the {fault.side} fold"
        yield Blemish("fold", words, picks=_some(picks))


def _weighed(threads: ThreadClasses, woven: WovenKinds) -> list[Layer]:
    """Return the layers with their ends and, in place of picks, kinds of picks.

    A kind stands so often as its picks have a share in the cloth, for the regular floats are found
    by counting.
    """
    of_end = woven.layer_of_shaft[threads.shaft_of]
    counts = np.bincount(threads.kind_of, minlength=len(threads.raised))
    parts = np.maximum(1, np.round(counts * WEIGHTS / counts.sum())).astype(np.intp)
    return [
        Layer(
            tuple(np.flatnonzero(of_end == place).tolist()),
            tuple(np.repeat(layer.picks, parts[list(layer.picks)]).tolist()),
        )
        for place, layer in enumerate(woven.layers)
    ]


def _some(places: Numbers) -> tuple[int, ...]:
    return tuple(places[:MOST_LISTED].tolist())


def _listed(places: Numbers) -> str:
    return ", ".join(str(place + 1) for place in places[:5]) + (", ..." if len(places) > 5 else "")
