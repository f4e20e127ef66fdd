"""The record of a project: planned figures at every stage, and the measured ones beside them."""

import pypdfium2
import pytest

from cards.project import work_out
from cards.record_sheet import record_sheet
from cards.spec import read_spec
from layouts.folio import folio_of, frame_of, pdf_file
from layouts.sheet_list import SHEETS
from tests.project.worked import project_of
from tests.worked_specs import FOLDER, SPECS

SCARF = FOLDER / "twill-scarf.yaml"


def project(path):
    return work_out(read_spec(path)).project


def stages(card, name):
    row = next(row for row in card.stages if row.name == name)
    return [None if kept is None else (kept.planned, kept.actual) for kept in row.stages]


def test_planned_at_every_stage_by_hand():
    """Plain cotton, 752 ends at 24 an inch: 31.33 in in the reed, × 0.93 and × 0.93 again.

    The woven part is 1,937 picks at 24 an inch: 80.71 in, × 0.97 and × 0.92.
    """
    card = record_sheet(project_of())
    assert stages(card, "width") == [
        ("31 ⅜ in", ""), ("", ""), ("29 ⅛ in", ""), ("27 ⅛ in", ""),
    ]  # fmt: skip
    assert stages(card, "length of one piece") == [
        None, ("80 ¾ in", ""), ("78 ¼ in", ""), ("72 in", ""),
    ]  # fmt: skip
    # 24, 24 ÷ 0.93 = 25.81, 24 ÷ 0.8649 = 27.75 ends; 24, 24 ÷ 0.97 = 24.74, ÷ 0.92 = 26.89 picks.
    assert [pair[0] for pair in stages(card, "ends per in")] == ["24", "", "25.8", "27.7"]
    assert [pair and pair[0] for pair in stages(card, "picks per in")] == [
        None, "24", "24.7", "26.9",
    ]  # fmt: skip


def test_what_was_measured_stands_beside_it():
    card = record_sheet(project(SCARF))
    assert [pair[1] for pair in stages(card, "width")] == ["9 ½ in", "", "8 ⅝ in", "8 in"]
    assert [pair and pair[1] for pair in stages(card, "length of one piece")] == [
        None, "76 ½ in", "73 in", "67 ¼ in",
    ]  # fmt: skip
    # 229 ends in 9 1/2 in are 24.1, in 8 in 28.6; 1,700 picks in 76 1/2 in are 22.2.
    assert [pair[1] for pair in stages(card, "ends per in")] == ["24.1", "", "26.6", "28.6"]
    assert stages(card, "picks per in")[1][1] == "22.2"
    real = {loss.name: loss.kept.actual for loss in (*card.losses, *card.lengths)}
    # (82 - 73) / 82, (76.5 - 73) / 76.5, (73 - 67.25) / 73, (8.625 - 8) / 8.625.
    assert real["take-up of the warp"] == "11 %"
    assert real["relaxation off the loom"] == "4.6 %"
    assert real["shrinkage in length"] == "7.9 %"
    assert real["shrinkage in width"] == "7.2 %"
    assert real["warp of one piece"] == "82 in"
    charcoal = card.yarns[0]
    assert (charcoal.before, charcoal.after, charcoal.used) == ("8 oz", "5.2 oz", "2.8 oz")


def test_threads_of_opened_cloth_are_those_of_one_layer():
    card = record_sheet(project(FOLDER / "double-width-throw.yaml"))
    # 768 ends of two layers in 77.2 cm, opened out to 130 cm: 5 and 5.9 ends to the cm.
    assert [pair[0] for pair in stages(card, "ends per cm")] == ["5", "", "5.4", "5.9"]
    assert "opened out" in card.sizes


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_it_is_the_last_of_a_folio_and_at_most_two_pages(path):
    found = project(path)
    if found is None:
        pytest.skip("no project")
    assert list(folio_of(found))[-1] == "record"
    assert len(SHEETS["record"](found, frame_of(found, "A4")).pages) <= 2


@pytest.mark.parametrize("paper", ["A4", "A5", "5 x 8 in"])
def test_every_figure_is_on_the_page(paper):
    scarf = project(SCARF)
    card = record_sheet(scarf)
    data = pdf_file(scarf, [SHEETS["record"](scarf, frame_of(scarf, paper))], "x").data
    text = " ".join(
        page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(data)
    ).split()
    text = "".join(text)
    kept = [each for row in card.stages for each in row.stages if each]
    kept += [loss.kept for loss in (*card.losses, *card.lengths)] + [card.hours, card.cost]
    for each in kept:
        assert "".join(each.planned.split()) in text
        assert "".join(each.actual.split()) in text
    for caution in card.cautions:
        assert "".join(caution.split()) in text
