"""Every mark that is drawn is read back from both files where it was drawn."""

from typing import get_args

import pytest
from hypothesis import HealthCheck, given, settings

from layouts import pdf, svg
from layouts.drawing import Drawing, Mark, Page
from tests.layouts import decode_pdf, decode_svg, strategies
from tests.layouts.compare import assert_same
from tests.layouts.samples import SAMPLES


def read_pdf(page):
    data = pdf.pdf_bytes([Drawing("Sheet", "sheet", (page,))], title="Folio")
    return decode_pdf.decode(data)[0]


def read_svg(page):
    return decode_svg.decode(svg.svg_text(page, title="Sheet"))


READERS = {
    "pdf": (pdf.WRITERS, decode_pdf.KINDS, read_pdf),
    "svg": (svg.WRITERS, decode_svg.KINDS, read_svg),
}


@pytest.mark.parametrize("name", READERS)
def test_every_kind_of_mark_is_written_and_read_back(name):
    writers, decoded, read = READERS[name]
    assert set(writers) == set(get_args(Mark)) == decoded
    for kind in writers:
        mark = SAMPLES[kind]
        assert_same([mark], read(Page(210, 297, (mark,), "Page")))


@pytest.mark.parametrize("name", READERS)
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(page=strategies.pages)
def test_geometry_is_that_of_the_drawing(name, page):
    assert_same(page.marks, READERS[name][2](page))


@pytest.mark.parametrize("name", READERS)
def test_a_character_without_a_glyph_is_refused_by_name(name):
    from layouts.drawing import Text

    page = Page(210, 297, (Text(10, 10, "漢", 12, 4.2),), "Page")
    with pytest.raises(ValueError, match=r"U\+6F22"):
        READERS[name][2](page)


@pytest.mark.parametrize("name", READERS)
@pytest.mark.parametrize("place", [float("nan"), float("inf")])
def test_a_place_that_is_no_number_is_refused(name, place):
    from layouts.drawing import Line

    with pytest.raises(ValueError, match="not a place on paper"):
        READERS[name][2](Page(210, 297, (Line(0, 0, place, 1),), "Page"))


@pytest.mark.parametrize("name", READERS)
def test_a_colour_that_would_fetch_something_is_refused(name):
    from layouts.drawing import Box

    page = Page(210, 297, (Box(0, 0, 9, 9, fill="url(http://localhost/)"),), "Page")
    with pytest.raises(ValueError, match="is not a colour"):
        READERS[name][2](page)
