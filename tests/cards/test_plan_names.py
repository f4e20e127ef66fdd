"""Figures by name: what a pattern may write is what the cards print, for every worked spec."""

import re
from dataclasses import replace

import pint
import pytest

from cards.named_figures import plan_names
from cards.plan_names import PlanFigure, PlanNames, plain_name
from layouts.drawing import Text
from layouts.folio import frame_of
from layouts.sheet_list import BY_PIECE, SHEETS, lacking
from tests.sheets.looks import flat
from tests.worked_specs import FOLDER, SPECS, worked_out

UNITS = ["metric", "imperial"]


def project_of(path, units=None):
    project = worked_out(path).project
    if units is None:
        return project
    further = tuple(replace(kind, units=units) for kind in project.further)
    return replace(project, units=units, further=further)


def words_on(project, sheet):
    """All that a sheet prints for every kind of piece, as one text."""
    marks = [
        mark.text
        for kind in (project.kinds if sheet in BY_PIECE else (project,))
        for page in SHEETS[sheet](kind, frame_of(kind)).pages
        for mark in flat(page.marks)
        if isinstance(mark, Text)
    ]
    return " ".join(" ".join(marks).split())


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_every_figure_is_printed_as_on_its_card(path, units):
    project = project_of(path, units)
    printed = {}
    for figure in plan_names(project).figures.values():
        if not figure.sheet or lacking(project, figure.sheet):
            continue
        if figure.sheet not in printed:
            printed[figure.sheet] = words_on(project, figure.sheet)
        text = re.escape(" ".join(figure.text.split()))
        # A number alone, and no part of a longer one.
        assert re.search(rf"(?<![\d.,]){text}(?!\d|[.,]\d)", printed[figure.sheet]), figure


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_most_figures_stand_on_a_card(path):
    figures = plan_names(project_of(path)).shown
    assert sum(bool(each.sheet) for each in figures) > 0.6 * len(figures)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_every_name_is_found_and_no_name_twice(path):
    names = plan_names(project_of(path))
    assert len({each.name for each in names.shown}) == len(names.shown)
    for figure in names.shown:
        assert names.find(figure.name) == figure
        assert names.find(figure.name.upper().replace("_", " - ")) == figure
        if figure.both:
            assert names.text(f"{figure.name}.both") == figure.both
            assert figure.both.startswith(f"{figure.text} (")


def test_units_agree_with_a_library_for_units():
    # The library pint is the source.
    units = pint.UnitRegistry()
    for path in SPECS:
        metric, imperial = (plan_names(project_of(path, each)) for each in UNITS)
        for figure in metric.shown:
            if figure.measure != "length":
                continue
            printed = units(figure.text).to("mm").magnitude
            assert printed == pytest.approx(
                figure.value, abs=501 if "yarn." in figure.name else 5.1
            )
            other = imperial.find(figure.name)
            assert other.value == figure.value


def test_kinds_of_pieces_have_figures_of_their_own():
    names = plan_names(project_of(FOLDER / "four-towels.yaml"))
    assert names.find("weft.picks_each") is None
    assert "piece.linen_weft.weft.picks_each" in names.unclear["weft.picks_each"]
    assert names.text("piece.linen weft.weft.picks each") == "602"
    # What all have alike needs no kind.
    assert names.text("cloth.width") == names.text("piece.point twill.cloth.width")
    assert names.text("warp.ends") == "420"


def test_sections_of_one_name_are_numbered_where_they_differ():
    names = plan_names(project_of(FOLDER / "kitchen-towels.yaml"))
    assert names.text("section.border.picks") == "76"
    assert names.unclear["section.border.to"] == ("section.border_1.to", "section.border_2.to")
    assert names.text("section.border 2.picks") == "76"


def test_names_that_cannot_be_told_apart_stand_for_nothing():
    figures = [PlanFigure(f"yarn.{key}.ends", key, "", "ends") for key in ("a-b", "a_b")]
    names = PlanNames.of_figures([(each, (each.name,)) for each in figures])
    assert names.text("yarn.a-b.ends") is None
    assert plain_name("yarn.a b.ends") in names.unclear
