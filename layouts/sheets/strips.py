"""Strips of true size, to be cut out and pasted into a rule that is longer than the paper.

Every strip ends in a flap that goes under the next one, whose edge is laid on the line: so lengths
go on over a join without a gap. On a page that will be enlarged everything that is measured is
drawn so much smaller.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from layouts.drawing import Box, Disc, Mark
from layouts.sheets.parts import INK, SOFT, paragraph
from layouts.typeface import LABEL, NOTE, cap_height, label

# What a weaver does whose printer has changed the size.
TRUE_SIZE = (
    "If the rule is not {length} long, print again at 100 %, without fit to page; do not use this."
)

FLAP = 8.0
_CUT = 0.2
_FLAP_GREY = "#ececec"


@dataclass(frozen=True, slots=True)
class Strip:
    """A part of a long rule, from `start` to `stop` mm of it, true size."""

    number: int
    start: float
    stop: float
    last: bool

    @property
    def letter(self) -> str:
        """What the strip is called."""
        return letter_of(self.number)

    @property
    def first(self) -> bool:
        """Whether the rule begins with this strip."""
        return self.number == 0

    def holds(self, at: float) -> bool:
        """Whether a mark at `at` mm stands on it: on a join, on the strip that begins there."""
        return self.start <= at < self.stop or (self.last and at >= self.stop)


def letter_of(number: int) -> str:
    """Return the letter of a strip counted from 0: A to Z, then AA, AB and so on.

    >>> [letter_of(number) for number in (0, 25, 26, 52)]
    ['A', 'Z', 'AA', 'BA']
    """
    before, place = divmod(number, 26)
    return (letter_of(before - 1) if before else "") + chr(ord("A") + place)


def true_size_words(*, metric: bool) -> str:
    """Return what to do where the test rule at the foot of the page is not true."""
    return TRUE_SIZE.format(length="50 mm" if metric else "2 in")


def cut_line(x: float, y: float, width: float, height: float) -> Box:
    """Return the outline along which a strip is cut out."""
    return Box(x, y, width, height, None, SOFT, _CUT)


def flap(x: float, y: float, width: float, height: float, words: str = "") -> Iterable[Mark]:
    """Yield a flap, grey because it is covered, with what to do with it."""
    yield Box(x, y, width, height, _FLAP_GREY, None)
    text = paragraph(words, width - 2.0, NOTE, "bold", INK, "middle") if words else None
    if text is not None:
        yield from text.draw(x + 1.0, y + (height - text.height) / 2)


def badge(x: float, y: float, letter: str) -> Iterable[Mark]:
    """Yield the letter of a strip in a ring about (x, y)."""
    yield Disc(x, y, 3.0 + 0.8 * (len(letter) - 1), None, INK, 0.4)
    yield label(x, y + cap_height(LABEL) / 2, letter, LABEL, "bold", "middle", INK)


@dataclass(frozen=True, slots=True)
class Note:
    """Words at a mark of a rule: where they would stand along it, how long they are, how needed.

    All in mm of the page; the higher `need`, the later are they left out.
    """

    want: float
    length: float
    need: int


def spread(notes: Sequence[Note], low: float, high: float) -> list[float | None]:
    """Return where the words of each mark begin, in order and none upon another.

    Those that are needed least are left out where not all have room between `low` and `high`:
    None. `notes` are in the order of their marks.
    """
    kept = list(range(len(notes)))
    while sum(notes[place].length for place in kept) > high - low:
        kept.remove(min(reversed(kept), key=lambda place: notes[place].need))
    at: dict[int, float] = {}
    free = low
    for place in kept:
        at[place] = max(notes[place].want, free)
        free = at[place] + notes[place].length
    limit = high
    for place in reversed(kept):
        at[place] = min(at[place], limit - notes[place].length)
        limit = at[place]
    return [at.get(place) for place in range(len(notes))]
