"""The slips of a draft that one small change mends, and the draft after it is mended."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cards.draft.written import WrittenDraft


@dataclass(frozen=True, slots=True)
class EndSlip:
    """An end (from 0) is drawn on one shaft and should be on another."""

    end: int
    shaft: int
    should_be: int

    @property
    def words(self) -> str:
        """What is wrong, counted as weavers do, from 1."""
        return f"end {self.end + 1} is on shaft {self.shaft} and should be on {self.should_be}"


@dataclass(frozen=True, slots=True)
class TieSlip:
    """A treadle is tied to a shaft and should not be, or is not `tied` and should be."""

    treadle: int
    shaft: int
    tied: bool

    @property
    def words(self) -> str:
        """What is wrong, counted as weavers do, from 1."""
        if self.tied:
            return f"treadle {self.treadle} raises shaft {self.shaft} and should not"
        return f"treadle {self.treadle} does not raise shaft {self.shaft} and should"


@dataclass(frozen=True, slots=True)
class LiftSlip:
    """A lift raises a shaft and should not, or leaves it down (`raised` is false) and should not.

    `picks` are those of the repeat (from 0) at which it does so.
    """

    picks: tuple[int, ...]
    shaft: int
    raised: bool

    @property
    def words(self) -> str:
        """What is wrong, counted as weavers do, from 1."""
        listed = ", ".join(str(pick + 1) for pick in self.picks[:5])
        listed += ", ..." if len(self.picks) > 5 else ""
        several = len(self.picks) > 1
        if self.raised:
            verb = "raise" if several else "raises"
            told = f"{verb} shaft {self.shaft} and should not"
        else:
            verb = "do" if several else "does"
            told = f"{verb} not raise shaft {self.shaft} and should"
        return f"pick{'s' * several} {listed} {told}"


@dataclass(frozen=True, slots=True)
class PickSwap:
    """Two picks of the repeat (from 0) stand in each other's place."""

    pick: int
    other: int

    @property
    def words(self) -> str:
        """What is wrong, counted as weavers do, from 1."""
        return f"picks {self.pick + 1} and {self.other + 1} are exchanged"


Slip = EndSlip | TieSlip | LiftSlip | PickSwap


def mended(draft: WrittenDraft, slip: Slip) -> WrittenDraft:
    """Return the draft without the slip."""
    match slip:
        case EndSlip(end, _, should_be):
            threading = (*draft.threading[:end], should_be, *draft.threading[end + 1 :])
            return replace(draft, threading=threading)
        case TieSlip(treadle, shaft):
            tied = tuple(sorted({*draft.tie_up.get(treadle, ())} ^ {shaft}))
            return replace(draft, tie_up={**draft.tie_up, treadle: tied})
        case LiftSlip(picks, shaft):
            lifts = list(draft.lifts)
            for pick in picks:
                lifts[pick] ^= {shaft}
            return replace(draft, lifts=tuple(lifts))
        case PickSwap(one, two):
            return replace(
                draft,
                lifts=_exchanged(draft.lifts, one, two),
                treadling=_exchanged(draft.treadling, one, two),
            )


def _exchanged(picks: tuple[frozenset[int], ...], one: int, two: int) -> tuple[frozenset[int], ...]:
    if not picks:
        return picks
    changed = list(picks)
    changed[one], changed[two] = changed[two], changed[one]
    return tuple(changed)
