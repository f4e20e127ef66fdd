"""Exercises and answers on paper: good to look at, large enough to write in, nothing given away."""

import re
from dataclasses import replace
from io import BytesIO
from xml.etree import ElementTree as ET

import numpy as np
import pypdf
import pytest

from cards.exercises import Answer, Picture, exercises_of
from cards.needs import Needs
from cards.pattern_text import pattern_of
from cards.spec import SpecExercise
from layouts.drawing import Box, Cells, Disc, Figure, Text
from layouts.exercises import (
    answer_drawings,
    answer_files,
    exercise_drawings,
    exercise_files,
    handout_drawing,
)
from layouts.folio import frame_of
from layouts.sheets import exercise as sheet
from layouts.variants import finished
from tests.sheets.looks import faults, flat
from tests.worked_specs import FOLDER, SPECS, worked_out

KINDS = ["threading", "drawdown", "tie-up", "treadling", "calculation", "colour", "threading error"]
PAPERS = ["A4", "Letter", "A5", "5 x 8 in", "Legal"]
SCARF, TOWELS = FOLDER / "twill-scarf.yaml", FOLDER / "kitchen-towels.yaml"
SVG = "{http://www.w3.org/2000/svg}"


def project_with(path, *kinds, **more):
    project = worked_out(path).project
    wanted = [SpecExercise.model_validate({"exercise": kind, **more}) for kind in kinds]
    return replace(project, exercises=tuple(wanted))


# Letter and Legal are much like A4: they are looked at with one spec.
ON_PAPER = [(path, paper) for path in SPECS for paper in ("A4", "A5", "5 x 8 in")]


@pytest.mark.parametrize(
    ("path", "paper"),
    [*ON_PAPER, (SCARF, "Letter"), (SCARF, "Legal")],
    ids=lambda each: getattr(each, "stem", each),
)
def test_nothing_overlaps_on_any_paper(path, paper):
    project = project_with(path, *KINDS)
    frame = frame_of(project, paper)
    drawings = [*exercise_drawings(project, frame), *answer_drawings(project, frame)]
    assert len(drawings) >= 2 * 5
    for drawing in drawings:
        for page in drawing.pages:
            assert faults(page, frame) == []


@pytest.mark.parametrize("kind", ["threading", "drawdown", "tie-up", "treadling"])
@pytest.mark.parametrize("blanks", ["1", "5"])
def test_exercises_in_part_are_good_to_look_at(kind, blanks):
    project = project_with(SCARF, kind, blanks=blanks)
    for paper in PAPERS:
        frame = frame_of(project, paper)
        for drawing in (*exercise_drawings(project, frame), *answer_drawings(project, frame)):
            for page in drawing.pages:
                assert faults(page, frame) == []


@pytest.mark.parametrize(
    "needs", [Needs(large_print=True), Needs(left_handed=True), Needs(grey=True)]
)
@pytest.mark.parametrize("path", [SCARF, TOWELS], ids=lambda path: path.stem)
def test_who_needs_it_otherwise_has_it_so(path, needs):
    project = project_with(path, *KINDS)
    frame = frame_of(project, "A4", needs)
    for drawing in (*exercise_drawings(project, frame), *answer_drawings(project, frame)):
        for page in drawing.pages:
            # A cell of 5 mm before it is enlarged is no box to tick, and may hold a letter.
            assert [each for each in faults(page, frame) if "box to tick" not in each] == []
        whole = finished(drawing, frame)
        assert all(round(page.width) == 210 for page in whole.pages)


def figures(drawing):
    found = {}
    for page in drawing.pages:
        for mark in page.marks:
            if isinstance(mark, Figure):
                found[mark.title] = mark
    return found


def places(figure):
    """Return the ink of a figure: middles of filled cells, discs and figures of ties."""
    found = set()
    for mark in figure.marks:
        if isinstance(mark, Cells):
            rows, columns = np.nonzero(mark.filled)
            xs = mark.x + (columns + 0.5) * mark.cell_width
            ys = mark.y + (rows + 0.5) * mark.cell_height
            found |= {(round(x, 1), round(y, 1)) for x, y in zip(xs, ys, strict=True)}
        elif isinstance(mark, Disc | Text):
            found.add((round(mark.x, 1), round(mark.y, 1)))
    return found


FIELDS = {
    "threading": "Threading",
    "drawdown": "Drawdown",
    "tie-up": "Tie-up",
    "treadling": "Treadling",
}


@pytest.mark.parametrize("kind", FIELDS)
def test_what_is_asked_as_a_whole_is_empty_on_paper(kind):
    project = project_with(SCARF, kind)
    frame = frame_of(project, "A4")
    (asked,) = exercise_drawings(project, frame)
    (solved,) = answer_drawings(project, frame)
    for name in FIELDS.values():
        assert bool(places(figures(asked)[name])) == (name != FIELDS[kind])
        assert places(figures(solved)[name])


@pytest.mark.parametrize("kind", FIELDS)
def test_cells_to_write_in_are_six_millimetres_on_every_paper(kind):
    project = project_with(SCARF, kind)
    for paper, needs in [*((each, Needs()) for each in PAPERS), ("A4", Needs(large_print=True))]:
        frame = frame_of(project, paper, needs)
        drawing = finished(exercise_drawings(project, frame)[0], frame)
        figure = figures(drawing)[FIELDS[kind]]
        frames = [mark for mark in figure.marks if isinstance(mark, Box) and mark.line_width > 0.8]
        (outer,) = frames
        given = exercises_of(project)[0].given
        field = getattr(given, kind.replace("-", "_"))
        rows, columns = field.asked.shape
        assert outer.width / columns >= 6.0 - 1e-9
        assert outer.height / rows >= 6.0 - 1e-9


@pytest.mark.parametrize("kind", KINDS)
def test_a_sheet_of_an_exercise_knows_nothing_of_its_answer(kind):
    """With another answer in its place the very same pages are drawn."""
    project = project_with(TOWELS, kind)
    (made,) = exercises_of(project)
    frame = frame_of(project)
    other = replace(made, answer=Answer(made.given, ("something else",)))
    one, two = (sheet.draw_exercise(project, each, frame) for each in (made, other))
    assert repr(one) == repr(two)
    assert repr(sheet.draw_answer(project, made, frame)) != repr(
        sheet.draw_answer(project, other, frame)
    )


def text_of(files):
    """Return all that files hold: text and streams of a PDF, decompressed, and SVG as it is."""
    parts = []
    for file in files:
        if file.name.endswith(".svg"):
            parts.append(file.data.decode())
            continue
        reader = pypdf.PdfReader(BytesIO(file.data), strict=True)
        assert not reader.attachments
        parts += [page.extract_text() for page in reader.pages]
        parts.append(repr(reader.metadata))
        for number in range(1, len(reader.xref_objStm) + len(reader.xref[0]) + 1):
            found = reader.get_object(number)
            data = found.get_data() if isinstance(found, pypdf.generic.StreamObject) else b""
            parts.append(data.decode("latin-1") if data else repr(found))
    return "\n".join(parts)


def test_files_of_exercises_hold_no_result_no_spec_and_no_hint():
    project = project_with(SCARF, "calculation", "threading error")
    frame = frame_of(project)
    held = text_of(exercise_files(project, frame, "x"))
    (sums,) = [each for each in exercises_of(project) if each.kind == "calculation"]
    results = [line.result for line in sums.answer.shown.lines]
    assert len(results) > 5
    for result in results:
        assert result not in held
        assert result in "".join(page_text(answer_files(project, frame, "x", "pdf")))
    (error,) = [each for each in exercises_of(project) if each.kind == "threading error"]
    for remark in error.answer.remarks:
        assert remark not in held
    spec = SCARF.read_text("utf-8")
    for hint in ("(1 2 3 4 3 2) to fill", "treadling:", "point twill", project.info.summary):
        assert hint in spec
        assert hint not in held


def page_text(files):
    for file in files:
        for page in pypdf.PdfReader(BytesIO(file.data)).pages:
            yield " ".join(page.extract_text().split())


def test_answers_are_headed_so_and_bear_the_numbers_of_the_exercises():
    project = project_with(SCARF, "calculation", "tie-up", "threading error")
    frame = frame_of(project)
    asked = list(page_text(exercise_files(project, frame, "x", "pdf")))
    told = list(page_text(answer_files(project, frame, "x", "pdf")))
    assert len(asked) == len(told) == 3
    for number, (one, two) in enumerate(zip(asked, told, strict=True), start=1):
        assert one.startswith(f"Exercise {number} ")
        assert two.startswith(f"Answers · Exercise {number} ")
        assert "Answers" not in one


def test_svg_pages_say_the_same_words_as_the_pdf():
    project = project_with(SCARF, "threading error")
    files = exercise_files(project, frame_of(project), "x", "svg")
    assert [file.name for file in files] == ["x-exercise-1-1.svg"]
    root = ET.fromstring(files[0].data)  # noqa: S314 -- our own file
    words = " ".join("".join(each.itertext()) for each in root.iter(f"{SVG}text"))
    assert "Find the error in the threading" in words
    assert not re.search(r"End \d+", words)


def test_colours_are_told_by_letters_on_the_answer_sheet():
    project = project_with(TOWELS, "colour")
    (made,) = exercises_of(project)
    (drawing,) = answer_drawings(project, frame_of(project))
    cloth = figures(drawing)["The cloth in its colours"]
    letters = [mark.text for mark in flat(cloth.marks) if isinstance(mark, Text)]
    shown = made.answer.shown
    assert isinstance(shown, Picture)
    up = shown.drawdown.marks
    wanted = [
        (shown.warp[end] if up[pick, end] else shown.weft[pick]).letter
        for pick in range(up.shape[0])
        for end in range(up.shape[1])
    ]
    assert sorted(letters) == sorted(wanted)
    assert len(set(letters)) > 1


def test_an_exercise_of_a_written_task_has_its_words():
    project = project_with(SCARF, "drawdown", words="Draw what the shed does.")
    frame = frame_of(project)
    (text,) = page_text(exercise_files(project, frame, "x", "pdf"))
    assert "Draw what the shed does." in text
    assert "Work out from" not in text


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_a_handout_takes_one_page_or_two_of_a4(path):
    """A pattern text may be longer than what the plan has to say."""
    written = worked_out(path).project
    plain = replace(written, pattern=None)
    for project, paper in ((plain, "A4"), (plain, "Letter"), (written, "A4")):
        drawing = handout_drawing(project, frame_of(project, paper))
        assert len(drawing.pages) <= (2 if project.pattern is None else 3)
        boxes = [
            mark
            for page in drawing.pages
            for mark in flat(page.marks)
            if isinstance(mark, Box) and mark.width == mark.height == 5.0
        ]
        assert len(boxes) >= 8


def test_a_handout_has_the_words_of_the_pattern_and_the_figures_of_the_plan():
    project = worked_out(TOWELS).project
    text = pattern_of(project)
    drawing = handout_drawing(project, frame_of(project))
    words = [
        mark.text for page in drawing.pages for mark in flat(page.marks) if isinstance(mark, Text)
    ]
    held = " ".join(words)
    for wanted in (text.aim, *text.skills, *text.materials, *text.cautions):
        assert wanted.split(". ")[0][:40] in held
    assert f"{project.warp.ends}" in words
    steps = [step for stage in text.stages for step in stage.steps]
    boxes = [
        mark
        for page in drawing.pages
        for mark in flat(page.marks)
        if isinstance(mark, Box) and mark.width == mark.height == 5.0
    ]
    assert len(boxes) == len(steps) + len(text.finishing)
    # Laws on selling are no matter of a student's.
    assert "law on labels" not in held


def test_an_empty_grid_is_drawn_where_there_is_room():
    project = replace(worked_out(SCARF).project, pattern=None)
    drawing = handout_drawing(project, frame_of(project, "A4"))
    words = [
        mark.text for page in drawing.pages for mark in flat(page.marks) if isinstance(mark, Text)
    ]
    assert words.count("A draft of your own") == 1
