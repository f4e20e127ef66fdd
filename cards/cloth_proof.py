"""What was looked at in the draft of a kind of cloth, and what was found, in words.

Only what is really looked at is told: the draft, never the cloth on the loom.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cards.cloth_words import listed
from cards.figures import count
from cards.project.cloth import ClothStretch

_MOST_PICKS = 3


@dataclass(frozen=True, slots=True)
class Proof:
    """The proof of a kind of cloth: a verdict, what was looked at, and the faults one by one."""

    verdict: str
    looked_at: tuple[str, ...]
    faults: tuple[str, ...]


def proof_of(stretches: Sequence[ClothStretch], ends: int, letters: Sequence[str]) -> Proof:
    """Return the proof of stretches that are alike; `letters` are those of their layers."""
    turns = sum(len(each.path.before) for each in stretches)
    folds = sum(int(each.path.passing.sum()) for each in stretches)
    faults = _faults(stretches, letters)
    looked = [_sorted(stretches, ends, letters)]
    missed = sum(fault.kind == "edge missed" for each in stretches for fault in each.faults)
    doubled = sum(fault.kind == "doubled" for each in stretches for fault in each.faults)
    bad = sum(len(each.faults) for each in stretches)
    if folds:
        looked.append(_told_of_folds(folds, doubled, bad - missed - doubled))
    if turns > folds:
        looked.append(_told_of_edges(turns - folds, missed))
    return Proof(_verdict(turns, bad - missed, missed), tuple(looked), faults)


def _verdict(turns: int, at_folds: int, missed: int) -> str:
    found = []
    if at_folds:
        found.append(f"{_number(at_folds, 'fold')} with a fault")
    if missed:
        found.append(f"{missed} that leave{'s' * (missed == 1)} the last end out")
    return f"{_number(turns, 'turn')} of the weft looked at, {listed(found or ['no fault'])}"


def _sorted(stretches: Sequence[ClothStretch], ends: int, letters: Sequence[str]) -> str:
    crossings = ends * sum(each.picks for each in stretches)
    words = f"{_number(crossings, 'crossing')} of ends and picks: "
    if len(letters) == 1:
        return f"{words}they bind all threads together into one cloth."
    return f"{words}they part into {len(letters)} layers, and nothing binds one to another."


def _told_of_folds(folds: int, doubled: int, long: int) -> str:
    most = "more ends than the weave has within its layers"
    found = []
    if doubled:
        found.append(f"at {doubled} of them two ends side by side weave alike")
    if long:
        found.append(f"at {long} of them the weft floats over {most}")
    told = listed(found) if found else f"at none does the weft float over {most}"
    return f"{_number(folds, 'fold')}: {told}."


def _told_of_edges(turns: int, missed: int) -> str:
    words = f"{_number(turns, 'turn')} at open edges: "
    if missed:
        return f"{words}at {missed} of them the weft leaves the last end out."
    return f"{words}at each the weft takes the last end with it."


def _faults(stretches: Sequence[ClothStretch], letters: Sequence[str]) -> tuple[str, ...]:
    """Return faults of one kind, side and place together, with the picks of the first ones."""
    kinds: dict[tuple[str, str, tuple[int, int], int], list[int]] = {}
    for stretch in stretches:
        for fault in stretch.faults:
            key = (fault.kind, fault.side, fault.layers, fault.threads)
            kinds.setdefault(key, []).append(stretch.first_pick + fault.pick + 1)
    return tuple(
        f"{_what(kind, layers, threads, letters)} at the {side}, after {_picks(picks)}"
        for (kind, side, layers, threads), picks in kinds.items()
    )


def _what(kind: str, layers: tuple[int, int], threads: int, letters: Sequence[str]) -> str:
    one, two = (letters[layer] for layer in layers)
    if kind == "edge missed":
        return f"The weft misses the last end of {one}"
    if kind == "doubled":
        return f"Two ends side by side weave alike where the weft goes from {one} to {two}"
    return f"The weft floats over {threads} ends where it goes from {one} to {two}"


def _picks(picks: Sequence[int]) -> str:
    first = [str(pick) for pick in picks[:_MOST_PICKS]]
    more = len(picks) - len(first)
    word = "pick" if len(picks) == 1 else "picks"
    if more:
        return f"{word} {', '.join(first)} and {more} more"
    return f"{word} {listed(first)}"


def _number(number: int, word: str) -> str:
    return f"{count(number)} {word}{'' if number == 1 else 's'}"
