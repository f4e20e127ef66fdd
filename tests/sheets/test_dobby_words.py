"""What the pegging plan says, done word by word: the chain is turned bar by bar through a piece."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.tie_up_card import tie_up_card
from layouts.sheets.bar_groups import bar_groups
from layouts.sheets.dobby_words import chain_lines
from tests.project.looms import SPECS, on_loom
from tests.project.worked import project_of

BEGIN = re.compile(r"(?:Put on chain (\d+) and begin|Begin) at bar (\d+)\.")
GO_ON = re.compile(r"go on (?:from|with (the lower row) of) bar (\d+)")
LEAVE = re.compile(r"leave the lower row of bar (\d+) unwoven, ")
TURN = re.compile(r"turn the chain on from bar (\d+) to bar (\d+): (\d+) bars?")
CHANGE = re.compile(r"take off chain (\d+), put on chain (\d+) and begin at bar (\d+)")
AGAIN = "Before the next piece: "


class Loom:
    """A dobby whose weaver does what the lines say, and nothing else."""

    def __init__(self, plan):
        self.chains = {each.number: each.bars for each in plan.chains}
        self.each = plan.picks_a_bar
        self.chain, self.bar, self.lower = None, None, False
        self.lifts = []

    def do(self, words):
        """Do a step with the chain."""
        words = words[0].lower() + words[1:-1] if words[0].isupper() else words
        left = LEAVE.match(words)
        if left:
            assert (int(left[1]), True) == (self.bar, self.lower)
            self.lower = False
            words = words[left.end() :]
        elif not GO_ON.fullmatch(words):
            assert not self.lower
        if found := GO_ON.fullmatch(words):
            assert (int(found[2]), bool(found[1])) == (self.bar, self.lower)
        elif found := TURN.fullmatch(words):
            start, stop, bars = map(int, found.groups())
            assert start == self.bar
            assert 1 <= bars <= len(self.chains[self.chain])
            for _ in range(bars):
                self.turn()
            assert self.bar == stop
        else:
            off, on, bar = map(int, CHANGE.fullmatch(words).groups())
            assert off == self.chain != on
            self.chain, self.bar = on, bar

    def turn(self):
        self.bar = self.bar % len(self.chains[self.chain]) + 1

    def pick(self):
        self.lifts.append(self.chains[self.chain][self.bar - 1].rows[self.lower])
        self.lower = not self.lower and self.each == 2
        if not self.lower:
            self.turn()

    def weave(self, words):
        """Weave a section as its line says; return how many picks that are."""
        before = len(self.lifts)
        chain = re.match(r"chain (\d+), ", words)
        if chain:
            assert int(chain[1]) == self.chain
            words = words[chain.end() :]
        turns = re.match(r"(\d+) whole turns?(?: from (the lower row of )?bar (\d+))?", words)
        if turns:
            assert (int(turns[3] or 1), bool(turns[2])) == (self.bar, self.lower)
            rows = sum(len(bar.rows) for bar in self.chains[self.chain])
            for _ in range(int(turns[1]) * rows):
                self.pick()
            words = words[turns.end() :].removeprefix(", then ")
        if words:
            self.bars(words)
        return len(self.lifts) - before

    def bars(self, words):
        spans, *halves = words.split(", ")
        found = []
        for span in spans.split(" and "):
            first, last = re.fullmatch(r"bars? (\d+)(?: to (\d+))?", span).groups()
            found += range(int(first), int(last or first) + 1)
        rows = [(bar, row) for bar in found for row in range(self.each)]
        for half in halves:
            bar, where = re.fullmatch(
                r"of bar (\d+) (first only the lower|at the end only the upper) row", half
            ).groups()
            gone = rows.pop(0) if where.startswith("first") else rows.pop()
            assert gone[0] == int(bar)
        for bar, row in rows:
            assert (bar, row) == (self.bar, int(self.lower))
            self.pick()


def check_words(project):
    plan = tie_up_card(project).bars
    loom = Loom(plan)
    first, *lines = chain_lines(plan)
    chain, bar = BEGIN.fullmatch(first).groups()
    assert (chain is None) == (len(plan.chains) == 1)
    loom.chain, loom.bar = int(chain or 1), int(bar)
    begun = loom.chain, loom.bar, loom.lower
    pieces = project.weft.pieces
    steps, again = (lines, None) if pieces == 1 else (lines[:-1], lines[-1])
    for place, section in enumerate(project.weft.sections):
        if place:
            loom.do(steps[2 * place - 1])
        name, words = steps[2 * place].split(": ", maxsplit=1)
        start, stop = section.first_pick + 1, section.first_pick + section.picks
        span = f"pick {start}" if start == stop else f"picks {start} to {stop}"
        assert name == f"{section.name}, {span}"
        assert loom.weave(words) == section.picks
    assert len(steps) == 2 * len(project.weft.sections) - 1
    assert [frozenset(lift) for lift in loom.lifts] == list(project.draft.lifts)
    if again is not None:
        assert again.startswith(AGAIN)
        loom.do(again.removeprefix(AGAIN).removesuffix("."))
        assert (loom.chain, loom.bar, loom.lower) == begun


@pytest.mark.parametrize(("picks_a_bar", "least"), [(1, 1), (2, 1), (1, 8), (2, 12), (2, 21)])
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_worked_specs_are_woven_as_the_lines_say(path, picks_a_bar, least):
    check_words(on_loom(path, "dobby", picks_a_bar=picks_a_bar, least_bars=least))


def woven(sections, picks_a_bar, least, pieces=1):
    """Return a project of sections, each so many picks of a repeat of lifts."""
    weave = [
        {"section": f"part {number}", "picks": str(picks), "lifts": lifts}
        for number, (picks, lifts) in enumerate(sections, start=1)
    ]
    return project_of(
        loom={
            "action": "dobby",
            "shafts": "4",
            "picks_a_bar": str(picks_a_bar),
            "least_bars": str(least),
        },
        draft={"threading": "(1 2 3 4) to fill", "lifts": "1; 2"},
        weft_order="natural",
        cloth={"width": "4 in", "length": "72 in", "pieces": str(pieces)},
        weave=weave,
    )


REPEATS = ["1; 2", "2; 1", "1", "1; 2; 3", "2; 3; 1", "1; 2; 3; 4", "1; 2; 1; 3; 4", "1; 2; 2 3"]


@settings(max_examples=120, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 23), st.sampled_from(REPEATS)), min_size=1, max_size=6),
    st.integers(1, 2),
    st.sampled_from([1, 3, 8]),
    st.integers(1, 3),
)
def test_any_sections_are_woven_as_the_lines_say(sections, picks_a_bar, least, pieces):
    check_words(woven(sections, picks_a_bar, least, pieces))


def test_a_chain_by_hand():
    """Twill of 4 on bars of two picks: 5 picks end on half a bar, 3 more and the twill goes on."""
    project = woven([(5, "1; 2; 3; 4"), (7, "2; 3; 4; 1"), (4, "3; 4; 1; 2"), (4, "1; 3")], 2, 1, 2)
    assert chain_lines(tie_up_card(project).bars) == [
        "Put on chain 1 and begin at bar 1.",
        "part 1, picks 1 to 5: chain 1, 1 whole turn, then bar 1, of bar 1 at the end only the upper row",
        "Go on with the lower row of bar 1.",
        "part 2, picks 6 to 12: chain 1, 1 whole turn from the lower row of bar 1, then bars 1 to 2, of bar 1 first only the lower row",
        "Turn the chain on from bar 1 to bar 2: 1 bar.",
        "part 3, picks 13 to 16: chain 1, 1 whole turn from bar 2",
        "Take off chain 1, put on chain 2 and begin at bar 1.",
        "part 4, picks 17 to 20: chain 2, 2 whole turns",
        "Before the next piece: take off chain 2, put on chain 1 and begin at bar 1.",
    ]


def test_edges_are_woven_from_the_chain_of_the_body():
    spec = next(path for path in SPECS if path.stem == "twill-scarf")
    plan = tie_up_card(on_loom(spec, "dobby")).bars
    (chain,) = plan.chains
    assert len(chain.bars) == 80
    edge, _, last = plan.sections
    assert (edge.start.bar, edge.ends.bar) == (1, 8)
    assert last.step.kind == "go on"


@pytest.mark.parametrize(("repeat", "size"), [(3, 3), (4, 4), (5, 5), (6, 6), (8, 4), (10, 5)])
def test_bars_stand_in_groups_that_make_up_the_repeat(repeat, size):
    lifts = "; ".join(["1"] * (repeat - 1) + ["2"])
    (chain,) = tie_up_card(woven([(4 * repeat, lifts)], 1, 12)).bars.chains
    groups = bar_groups(chain)
    assert {len(group) for group in groups} == {size}
    assert [bar for group in groups for bar in group] == list(chain.bars)


@pytest.mark.parametrize("repeat", range(1, 40))
def test_no_bar_stands_alone(repeat):
    lifts = "; ".join(["1"] * (repeat - 1) + ["2"])
    (chain,) = tie_up_card(woven([(4 * repeat, lifts)], 1, 8)).bars.chains
    groups = bar_groups(chain)
    assert all(3 <= len(group) <= 6 for group in groups)
    ends = {group[-1].number for group in groups}
    # A gap stands at the end of every repeat, or every few whole repeats.
    assert repeat < 3 or ends >= set(range(repeat, len(chain.bars) + 1, repeat))
    assert repeat > 2 or all(end % repeat == 0 for end in ends)
