"""Each card as data: what it says follows from the project, line by line."""

from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.pick_tally import pick_tally
from cards.project import work_out
from cards.spec import read_spec
from cards.threading_chart import threading_chart
from cards.warping_card import bout_marks, count_ties, warping_card
from tests.cards.test_counted import written_out
from tests.project.worked import project_of
from tests.worked_specs import SPECS


@pytest.fixture(params=SPECS, ids=lambda path: path.stem)
def project(request):
    return work_out(read_spec(request.param)).project


def test_the_warping_card_winds_every_end_in_order(project):
    card = warping_card(project)
    wound = [yarn.key for yarn in written_out(card.order)]
    assert wound == project.warp.order.values()
    assert card.bouts[0].first == 1
    assert card.bouts[-1].last == card.ends
    assert sum(bout.ends for bout in card.bouts) == card.ends
    assert sum(bout.width for bout in card.bouts) == pytest.approx(card.width)
    assert all(bout.trips * card.ends_a_trip == bout.ends for bout in card.bouts)


def test_the_threading_chart_threads_every_end_in_order(project):
    card = threading_chart(project)
    assert tuple(written_out(card.groups)) == project.draft.threading
    assert sum(card.heddles) == card.ends


def test_the_pick_tally_weaves_every_pick_in_order(project):
    card = pick_tally(project)
    picks = [pick for section in card.sections for pick in written_out(section.picks)]
    assert [pick.yarn.key for pick in picks] == list(project.draft.weft)
    tie_up = {tied.number: set(tied.rise) for tied in card.treadles}
    for pick, lift in zip(picks, project.draft.lifts, strict=True):
        raised = set().union(*(tie_up[each] for each in pick.shed)) if tie_up else set(pick.shed)
        assert raised == lift
    assert card.sections[-1].last == card.picks_each
    firsts = [section.first for section in card.sections]
    lasts = [section.last for section in card.sections]
    assert firsts == [1, *(last + 1 for last in lasts[:-1])]


def test_a_table_loom_is_told_what_to_raise():
    treadled = project_of()
    raised = project_of(loom={"action": "table", "shafts": "4"})
    card = pick_tally(raised)
    assert card.treadles == ()
    assert [pick.shed for pick in written_out(card.sections[0].picks)][:2] == [(1, 3), (2, 4)]
    assert [pick.shed for pick in written_out(pick_tally(treadled).sections[0].picks)][:2] == [
        (1,),
        (2,),
    ]


def test_a_sinking_loom_is_told_what_sinks():
    card = pick_tally(project_of(loom={"action": "sinking", "shafts": "4", "treadles": "4"}))
    assert card.action == "sinking"
    assert [tied.sink for tied in card.treadles] == [(2, 4), (1, 3)]


def test_the_author_grouping_is_kept():
    project = project_of(
        draft={
            "threading": "((1 2) x 3, (3 4) x 3) to fill",
            "tie_up": {"1": "1 3", "2": "2 4"},
            "treadling": "1 2",
        }
    )
    brackets = threading_chart(project).groups.brackets
    assert [(b.times, b.once) for b in brackets] == [(project.warp.ends // 12, 12), (3, 2), (3, 2)]


@given(
    st.integers(2, 2000),
    st.integers(4, 400),
    st.sampled_from([2, 4]),
    st.lists(st.integers(1, 2000), max_size=20),
)
def test_bouts_cover_the_warp_and_are_never_too_large(ends, largest, trip, stops):
    marks = bout_marks(ends, largest, trip, sorted(set(stops)))
    sizes = [after - before for before, after in pairwise(marks)]
    assert marks[0] == 0
    assert marks[-1] == ends
    assert all(0 < size <= largest for size in sizes)
    assert all(size % trip == 0 for size in sizes[:-1])
    # As few as can be: full bouts of whole round trips while more is left than a bout holds.
    left, fewest = ends, 1
    while left > largest:
        left -= largest // trip * trip
        fewest += 1
    assert len(sizes) == fewest


@given(st.floats(1.0, 200.0))
def test_count_ties_keep_to_the_raddle(group):
    ties = count_ties(group)
    assert max(ties) - min(ties) <= 1
    assert sum(ties) / len(ties) == pytest.approx(group, rel=0.1, abs=0.09)


def test_layers_stitched_together_keep_their_letters_on_the_tally():
    spec = Path(__file__).parents[1] / "bad_specs" / "layers-stitched-in-one-section.yaml"
    body, base = pick_tally(work_out(read_spec(spec)).project).sections
    assert set(body.layered.layers) == {(0,), (1,), (2,)}
    # A and B are woven as one there, above C.
    assert set(base.layered.layers) == {(0, 1), (2,)}
    (look,) = base.layered.checks
    assert (look.letters, look.below, look.shafts) == (("A+B",), "C", (1, 2, 4, 5))
