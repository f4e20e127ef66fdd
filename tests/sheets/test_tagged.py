"""What those hear who have a folio read to them: everything once, in the order of the page.

The structure is read back with pypdf, by the clauses of ISO 32000-1 and ISO 14289-1 (PDF/UA-1);
the file is checked by qpdf (through pikepdf) and by the checker of PDF/UA-1 in the package pdfua.
"""

from functools import cache
from io import BytesIO
from itertools import pairwise

import pdfua
import pikepdf
import pytest

from cards.needs import Needs
from layouts.drawing import Figure, Part, Picture, Text, flat
from layouts.extent import extent
from layouts.folio import frame_of, pdf_file
from layouts.sheet_list import sheets_of
from layouts.variants import finished, varied
from tests.layouts.structure import Tagged
from tests.worked_specs import FOLDER, SPECS, worked_out

UNHEARD = {"decoration", "page head", "page foot"}


@cache
def folio(path):
    """Return every sheet of a worked spec, and the PDF of them all."""
    project = worked_out(path).project
    frame = frame_of(project)
    drawings = [draw(project, frame) for draw in sheets_of(project).values()]
    return drawings, pdf_file(project, drawings, "x").data


@cache
def read(path):
    """Return the PDF of a worked spec as it is read back."""
    return Tagged(folio(path)[1])


def heard(marks):
    """Return the texts of marks that are not passed over, in their order."""
    for mark in marks:
        if isinstance(mark, Part) and mark.role in UNHEARD:
            continue
        if isinstance(mark, Part):
            yield from heard(mark.marks)
        elif isinstance(mark, Figure):
            yield from (each.text for each in flat(mark.marks) if isinstance(each, Text))
        elif isinstance(mark, Text):
            yield mark.text


def letters(text):
    return "".join(text.split())


@pytest.fixture(params=SPECS, ids=lambda path: path.stem)
def path(request):
    return request.param


def test_every_mark_is_in_the_tree_once_or_an_artifact(path):
    assert read(path).faults == []


def test_what_is_heard_is_what_is_drawn_in_its_order(path):
    drawings, tagged = folio(path)[0], read(path)
    sections = tagged.elements("/Sect")
    assert [each.title for each in sections] == [drawing.title for drawing in drawings]
    for drawing, section in zip(drawings, sections, strict=True):
        words = "".join(text for page in drawing.pages for text in heard(page.marks))
        assert letters(tagged.text_of(section)) == letters(words)


WHOLE = {"paragraph", "title", "heading", "subheading", "caption", "tick box", "item", "cell"}


def pieces(marks):
    """Return what is heard as one thing, in order: a paragraph, a figure, an item, a cell."""
    for mark in marks:
        if isinstance(mark, Part) and mark.role in UNHEARD:
            continue
        if isinstance(mark, Part) and mark.role not in WHOLE:
            yield from pieces(mark.marks)
        elif isinstance(mark, Part | Figure | Picture | Text):
            yield mark


def test_order_goes_down_the_page_and_then_to_the_next_column(path):
    """A piece that lies wholly above the one before it stands to the right of it."""
    for drawing in folio(path)[0]:
        for page in drawing.pages:
            boxes = [box for each in pieces(page.marks) if (box := extent([each]))]
            for before, after in pairwise(boxes):
                above, beside = after[3] <= before[1] + 0.5, after[0] >= before[2] - 0.5
                assert beside or not above, f"{page.name}: {before}, {after}"


def test_every_sheet_begins_with_one_title(path):
    for section in read(path).elements("/Sect"):
        heads = [each for each in section.walk() if each.type == "/H1"]
        assert len(heads) == 1
        assert section.kids[0] is heads[0]


def test_qpdf_finds_nothing_wrong(path):
    with pikepdf.open(BytesIO(folio(path)[1])) as pdf:
        assert pdf.check_pdf_syntax() == []


def test_a_checker_of_pdf_ua_finds_no_error(path):
    """Oracle: pdfua, which holds a file against those clauses of PDF/UA-1 that need no eye."""
    # The file does not claim to keep the whole standard.
    assert faults_of(folio(path)[1]) == {"UA-28-004"}


def faults_of(data):
    return {each.rule_id for each in pdfua.validate(BytesIO(data)).findings}


def test_that_checker_finds_what_is_missing_in_a_plain_file():
    from reportlab.pdfgen.canvas import Canvas

    plain = BytesIO()
    canvas = Canvas(plain)
    canvas.drawString(72, 72, "sett")
    canvas.save()
    # No structure tree, not marked as tagged, no language.
    assert {"UA-01-005", "UA-01-002", "UA-06-001"} <= faults_of(plain.getvalue())


def test_pictures_and_figures_say_what_they_show(path):
    drawings, _ = folio(path)
    for drawing in drawings:
        for page in drawing.pages:
            for figure in figures_of(page.marks):
                assert figure.title.strip(), f"{drawing.title}: a figure without a title"


def figures_of(marks):
    for mark in marks:
        if isinstance(mark, Figure | Picture):
            yield mark
        elif isinstance(mark, Part):
            yield from figures_of(mark.marks)


@pytest.mark.parametrize("needs", [{"large_print": True}, {"left_handed": True}, {"grey": True}])
def test_what_is_printed_for_other_needs_has_the_same_structure(needs):
    project = worked_out(FOLDER / "cushion-cover.yaml").project
    wanted = Needs(**needs)
    frame = varied(frame_of(project), wanted)
    drawings = [finished(draw(project, frame), frame) for draw in sheets_of(project).values()]
    assert Tagged(pdf_file(project, drawings, "x").data).faults == []
