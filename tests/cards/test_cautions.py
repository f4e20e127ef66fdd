"""What to take care of: where it matters, short, and no promise that anything is safe."""

import re
from dataclasses import replace

import pytest

from cards.cautions import RECORD, TALLY, TIE_UP, WARPING, caution_on, cautions_of
from cards.pick_tally import pick_tally
from cards.warping_card import warping_card
from layouts.folio import frame_of
from layouts.paper import PaperTooSmall
from layouts.sheets.pick_tally import draw_pick_tally
from layouts.sheets.warping_card import draw_warping_card
from tests.cards.test_plan_names import words_on
from tests.worked_specs import FOLDER, SPECS, worked_out


def project_of(path):
    return worked_out(path).project


def topics(name):
    return [each.topic for each in cautions_of(project_of(FOLDER / f"{name}.yaml"))]


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_every_caution_is_short_and_promises_nothing(path):
    for each in cautions_of(project_of(path)):
        assert len(each.words) <= 120
        assert each.words[-1] in ".?"
        assert not re.search(r"\bsafe\b|\bharmless\b|certif", each.words, re.IGNORECASE)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_cautions_stand_on_the_sheets_where_they_matter(path):
    project = project_of(path)
    assert caution_on(project, RECORD) in words_on(project, RECORD)
    assert caution_on(project, TALLY, "tension") in words_on(project, TALLY)
    assert caution_on(project, TIE_UP) in words_on(project, TIE_UP)


def test_only_what_matters_for_the_project():
    assert "infants" in topics("throw-three-ways")
    assert "infants" not in topics("kitchen-towels")
    assert "under the loom" not in topics("two-runners")  # a table loom
    assert "under the loom" in topics("kitchen-towels")
    fulls = {name: " ".join(caution_on(project_of(FOLDER / f"{name}.yaml"), RECORD).split())
             for name in ("kitchen-towels", "throw-three-ways")}  # fmt: skip
    assert "Fulling" not in fulls["kitchen-towels"]  # cotton
    assert "Fulling" in fulls["throw-three-ways"]  # fine wool


@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "5 x 8 in"])
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_a_caution_before_the_notes_takes_no_page(path, paper):
    project = project_of(path)
    frame = frame_of(project, paper)
    for draw, card, key in (
        (draw_warping_card, warping_card(project), "caution"),
        (draw_pick_tally, pick_tally(project), "posture"),
    ):
        try:
            without = draw(replace(card, **{key: ""}), frame)
        except PaperTooSmall:
            continue
        assert len(draw(card, frame).pages) == len(without.pages)


def test_on_most_paper_there_is_room_for_the_cautions_of_winding():
    shown = [
        caution_on(project, WARPING) in words_on(project, WARPING)
        for project in map(project_of, SPECS)
    ]
    assert sum(shown) > 0.6 * len(shown)
