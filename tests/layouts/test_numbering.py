"""One numbering through sheets that are bound together."""

import pytest

from cards.project import work_out
from cards.spec import read_spec
from layouts.drawing import Text, flat
from layouts.drawn import drawn_sheets
from layouts.folio import frame_of
from layouts.numbering import STRIP, numbered, numbered_frame
from tests.worked_specs import SPECS


@pytest.mark.parametrize("paper", ["A4", "A5", "5 x 8 in"])
def test_numbers_run_on_and_touch_nothing(paper):
    project = work_out(read_spec(SPECS[0])).project
    assert project is not None
    frame = numbered_frame(frame_of(project, paper))
    sheets = drawn_sheets(project, frame, ["warping-card", "pick-tally"])
    pages = [page for sheet in numbered(sheets, frame, 7, "the whole") for page in sheet.pages]
    assert len(pages) == sum(len(sheet.pages) for sheet in sheets)
    for number, page in enumerate(pages, start=7):
        words, last = [mark for mark in flat(page.marks) if isinstance(mark, Text)][-1:-3:-1]
        assert (words.text, last.text) == ("the whole", str(number))
        top = page.height - frame.bottom
        assert top < last.y < top + STRIP
        others = [mark.y for mark in flat(page.marks) if isinstance(mark, Text)][:-2]
        assert max(others) <= top
