"""The bars of a dobby as they are pegged: a disc is a peg and raises its shaft, a ring is a hole.

Bars stand in groups that make up the repeat, so that the eye keeps its place. The shafts are named
above the holes and, where there is room, the pegs of each bar in figures beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import ceil

from cards.chain_steps import Bar, Chain
from cards.dobby_bars import BarPlan
from cards.tie_up_card import TieUpCard
from layouts.drawing import WHITE, Box, Disc, Figure, Mark
from layouts.sheets.bar_groups import Group, bar_groups, columned, not_larger
from layouts.sheets.dobby_words import chain_lines
from layouts.sheets.layer_key import layer_key
from layouts.sheets.page import PageFlow
from layouts.sheets.parts import (
    BOX,
    HAIR,
    INK,
    SOFT,
    Block,
    baseline,
    beside,
    heading_line,
    key_figures,
    leading,
    paragraph,
    stack,
    tick_box,
)
from layouts.sheets.tie_up_words import plural, shaft_list, ticked
from layouts.typeface import BODY, FIGURE, cap_height, label, measure

_NUMBER = 14.0
_ROW = 6.2
_GAP = 1.2
_GROUP_GAP = 3.0
_MOST_PITCH = 8.0
_FIGURE_PITCH = 6.3  # from number to number in one row
_HOLE = 0.75
_BESIDE = 5.0
_BETWEEN_COLUMNS = 8.0

# Trade fact: the way of the cylinder reverses the sequence, and with it the diagonal of a twill.
_CYLINDER = (
    "A peg raises its shaft. Work from bar 1 on. Turned the other way the cylinder gives the bars "
    "in reverse, and a twill then runs the other way: try a few picks first."
)


def draw_bars(flow: PageFlow, card: TieUpCard, plan: BarPlan) -> None:
    """Draw the pegging plan of a piece: its sections in weaving order, then every chain."""
    flow.add(key_figures(_key_figures(card, plan), flow.width))
    flow.add(paragraph(_CYLINDER, flow.width, BODY))
    if plan.picks_a_bar == 2:
        words = "A bar gives two picks: first its upper row of pegs, then its lower one."
        flow.add(paragraph(words, flow.width, BODY, "bold"))
    if card.layers:
        flow.gap(1.0)
        flow.add(layer_key(card.layers, flow.width))
    flow.gap(2.0)
    lines = [ticked(words, flow.width) for words in chain_lines(plan)]
    flow.keep([stack([heading_line("In weaving order", flow.width), *lines[:2]]), *lines[2:]])
    for chain in plan.chains:
        flow.gap(3.0)
        _draw_chain(flow, card, plan, chain)


def _key_figures(card: TieUpCard, plan: BarPlan) -> list[tuple[str, str]]:
    bars = sum(len(chain.bars) for chain in plan.chains)
    chains = len(plan.chains)
    found = [(str(bars), "bars" if bars > 1 else "bar"), (str(card.shafts), "shafts")]
    if chains > 1:
        found.insert(1, (str(chains), "chains"))
    if plan.picks_a_bar > 1:
        found.append((str(plan.picks_a_bar), "picks a bar"))
    return found


def _draw_chain(flow: PageFlow, card: TieUpCard, plan: BarPlan, chain: Chain) -> None:
    grid = _Grid.of(card.shafts, chain, flow.width)
    words = plural(len(chain.bars), "bar")
    title = f"Chain {chain.number}: {words}" if len(plan.chains) > 1 else f"The chain: {words}"
    opening = heading_line(title, flow.width, _pegged(plan, chain))
    room = flow.full_room - opening.height
    groups = not_larger(bar_groups(chain), grid.holds(room))
    while groups:
        columns = columned(groups, grid.columns, flow.room - opening.height, grid.height)
        if not columns:
            flow.turn()
            columns = columned(groups, grid.columns, flow.room - opening.height, grid.height)
            columns = columns or [groups[:1]]
        flow.add(stack([opening, grid.drawn(columns)]))
        groups = groups[sum(map(len, columns)) :]
        opening = Block(0.0, lambda x, y: ())
        if groups:
            flow.turn()


def _pegged(plan: BarPlan, chain: Chain) -> str:
    """Return why a pattern is pegged more than once, and what is left over on the last bar."""
    notes = []
    if chain.pegged > 1:
        times = "twice" if chain.pegged == 2 else f"{chain.pegged} times"
        words = f"The pattern of {plural(chain.once, 'pick')} is pegged {times}"
        reasons = []
        bare = -(-chain.once // plan.picks_a_bar)
        if chain.once % plan.picks_a_bar:
            reasons.append("its picks are odd and a bar gives two")
        if bare < plan.least_bars:
            reasons.append(f"the dobby needs {plan.least_bars} bars")
        notes.append(f"{words}: {' and '.join(reasons)}.")
    if chain.picks % plan.picks_a_bar:
        notes.append("The lower row of the last bar is not used: turn back to bar 1 after it.")
    return " ".join(notes)


@dataclass(frozen=True, slots=True)
class _Grid:
    """Where the holes of all bars of a chain stand, in mm from the left."""

    shafts: int
    rows: int  # rows of pegs of a bar
    pitch: float
    left: float
    figures: float  # width of the figures beside a bar, 0 without
    columns: int = 1

    @staticmethod
    def of(shafts: int, chain: Chain, width: float) -> _Grid:
        """Return the grid for a chain on a sheet `width` mm wide."""
        left = measure(str(max(88, len(chain.bars))), FIGURE, "bold") + BOX + 5.0
        lifts = [row for bar in chain.bars for row in bar.rows]
        rows = len(chain.bars[0].rows)
        figures = max(measure(_pegs(lift), _NUMBER, "bold") for lift in lifts) + _BESIDE
        pitch = (width - left - figures) / shafts
        if pitch < _FIGURE_PITCH:
            # The number of the last shaft is wider than the place of its hole.
            room = width - left - measure("8", _NUMBER, "bold")
            return _Grid(shafts, rows, min(_MOST_PITCH, room / shafts), left, 0.0)
        alone = _Grid(shafts, rows, min(_MOST_PITCH, pitch), left, figures)
        columns = int((width + _BETWEEN_COLUMNS) // (alone.width + _BETWEEN_COLUMNS))
        return replace(alone, columns=max(1, columns))

    @property
    def width(self) -> float:
        """Width of one column."""
        return self.left + self.shafts * self.pitch + self.figures

    def holds(self, room: float) -> int:
        """Return how many bars one column holds in `room` mm, below its head; one at least."""
        bar = self.rows * _ROW + _GAP
        return max(1, int((room - self.head().height) // bar))

    def height(self, groups: Sequence[Group]) -> float:
        """Return the height in mm of groups one below another, with their head."""
        bars = sum(map(len, groups))
        gaps = (len(groups) - 1) * (_GROUP_GAP - _GAP)
        return self.head().height + bars * (self.rows * _ROW + _GAP) + gaps

    def drawn(self, columns: Sequence[Sequence[Group]]) -> Block:
        """Return columns of groups side by side."""
        pitch = self.width + _BETWEEN_COLUMNS
        return beside([(at * pitch, self._column(some)) for at, some in enumerate(columns)])

    def _column(self, groups: Sequence[Group]) -> Block:
        ends = {group[-1].number for group in groups[:-1]}
        bars = [bar for group in groups for bar in group]
        return stack([self.head(), *(self.bar(bar, last=bar.number in ends) for bar in bars)])

    def x(self, shaft: int) -> float:
        """Return where the hole of a shaft stands."""
        return self.left + (shaft - 0.5) * self.pitch

    def head(self) -> Block:
        """Return the numbers of the shafts above their holes, in rows where they are close."""
        rows = min(self.shafts, ceil(_FIGURE_PITCH / self.pitch)) if self.shafts > 9 else 1
        height = leading(BODY) + rows * leading(_NUMBER) + 0.8

        def draw(x: float, y: float) -> Iterable[Mark]:
            at = y + baseline(BODY)
            yield label(x, at, "bar", BODY, "bold", colour=SOFT)
            yield label(x + self.left, at, "shafts", BODY, "bold", colour=SOFT)
            if self.figures:
                left = x + self.left + self.shafts * self.pitch + _BESIDE
                yield label(left, at, "pegs", BODY, "bold", colour=SOFT)
            top = y + leading(BODY) + baseline(_NUMBER)
            for shaft in range(1, self.shafts + 1):
                line = top + (shaft - 1) % rows * leading(_NUMBER)
                yield label(x + self.x(shaft), line, str(shaft), _NUMBER, "bold", "middle", INK)

        return Block(height, draw)

    def bar(self, bar: Bar, *, last: bool) -> Block:
        """Return one bar with its number and its box, and a gap behind the `last` of a group."""
        height = len(bar.rows) * _ROW

        def draw(x: float, y: float) -> Iterable[Mark]:
            middle = y + height / 2
            at = middle + cap_height(FIGURE) / 2
            yield label(x, at, str(bar.number), FIGURE, "bold", colour=INK)
            yield tick_box(x + self.left - BOX - 2.0, middle - BOX / 2)
            marks = tuple(self._pegged(bar, x, y))
            told = "; ".join(_pegs(row) for row in bar.rows)
            yield Figure(marks, f"Bar {bar.number}", f"pegs {told}")
            if self.figures:
                left = x + self.left + self.shafts * self.pitch + _BESIDE
                for place, row in enumerate(bar.rows):
                    line = y + (place + 0.5) * _ROW + cap_height(_NUMBER) / 2
                    yield label(left, line, _pegs(row), _NUMBER, "bold", colour=INK)

        return Block(height + (_GROUP_GAP if last else _GAP), draw)

    def _pegged(self, bar: Bar, x: float, y: float) -> Iterable[Mark]:
        height = len(bar.rows) * _ROW
        peg = min(2.1, 0.4 * self.pitch)
        yield Box(x + self.left, y, self.shafts * self.pitch, height, WHITE, HAIR, 0.3)
        for place, row in enumerate(bar.rows):
            middle = y + (place + 0.5) * _ROW
            for shaft in range(1, self.shafts + 1):
                if shaft in row:
                    yield Disc(x + self.x(shaft), middle, peg, INK, None)
                else:
                    hole = min(_HOLE, 0.25 * self.pitch)
                    yield Disc(x + self.x(shaft), middle, hole, None, SOFT, 0.2)


def _pegs(row: tuple[int, ...]) -> str:
    return shaft_list(row)
