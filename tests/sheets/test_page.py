"""What no page holds is refused, and the paper that is named for it does."""

import re

import pytest

from cards.project import work_out
from cards.spec import read_source
from layouts.folio import frame_of
from layouts.paper import PaperTooSmall
from layouts.sheet_list import SHEETS
from tests.sheets.looks import faults

EIGHT = """
loomfolio: 1
project: {title: Eight layers}
yarns: {slate: {name: slate, fibre: cotton, size: Ne 8/2}}
loom: {action: table, shafts: 16, width: 90 cm, reed: 80 per 10 cm, waste: 70 cm}
cloth: {width: 60 cm, length: 40 cm}
sett: 4 per cm
picks: 4 per cm
draft: {double_weave: {layers: 8, join: left, start: right, warps: slate, wefts: slate}}
"""


def test_a_part_that_no_page_holds_is_refused_with_the_paper_that_would_do():
    project = work_out(read_source(EIGHT.encode(), "eight.yaml")).project
    tally = SHEETS["pick-tally"]
    with pytest.raises(PaperTooSmall, match="part of the sheet 'Pick tally'") as refused:
        tally(project, frame_of(project, "A5"))
    high = int(re.search(r"(\d+) mm high, would do", str(refused.value))[1])
    frame = frame_of(project, f"148 x {high} mm")
    assert [fault for page in tally(project, frame).pages for fault in faults(page, frame)] == []
    with pytest.raises(PaperTooSmall):
        tally(project, frame_of(project, f"148 x {high - 8} mm"))
