"""What is printed: good to look at on every paper, and the same figures as the plan."""

import re
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree as ET

import pypdf
import pypdfium2
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cards.plan_json import plan_data
from cards.project import work_out
from cards.spec import read_spec
from layouts.drawing import Text
from layouts.folio import frame_of, pdf_file, svg_files
from layouts.paper import PaperTooSmall
from layouts.sheet_list import SHEETS, sheets_of
from tests.project.worked import outcome_of
from tests.sheets.looks import faults, flat
from tests.worked_specs import SPECS

TOWELS = Path(__file__).parents[2] / "specs" / "kitchen-towels.yaml"
PAPERS = ["A4", "Letter", "A5", "5 x 8 in", "Legal"]


def outcome(path):
    return work_out(read_spec(path))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_nothing_overlaps_and_nothing_is_small(path, sheet, paper):
    project = outcome(path).project
    frame = frame_of(project, paper)
    if sheet not in sheets_of(project):
        pytest.skip("this project has nothing to draw on it")
    for page in SHEETS[sheet](project, frame).pages:
        assert faults(page, frame) == []


def words_on(drawing):
    return [
        [mark.text for mark in flat(page.marks) if isinstance(mark, Text)] for page in drawing.pages
    ]


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_text_of_pdf_and_svg_is_that_of_the_drawing(path):
    project = outcome(path).project
    frame = frame_of(project)
    drawings = [draw(project, frame) for draw in sheets_of(project).values()]
    document = pypdfium2.PdfDocument(pdf_file(project, drawings, "x").data)
    pages = [words for drawing in drawings for words in words_on(drawing)]
    assert len(document) == len(pages)
    for page, words in zip(document, pages, strict=True):
        read = page.get_textpage().get_text_range()
        assert _letters(read) == _letters("".join(words))
    svgs = [file for drawing in drawings for file in svg_files(project, drawing, "x")]
    for file, words in zip(svgs, pages, strict=True):
        root = ET.fromstring(file.data)  # noqa: S314 -- our own file
        texts = ["".join(each.itertext()) for each in root.iter("{http://www.w3.org/2000/svg}text")]
        assert texts == words


def _letters(text):
    return sorted("".join(text.split()).replace("\x02", ""))


def metric(mm):
    return f"{mm / 10:.1f} cm"


def yards_or_metres(mm, units):
    """Format a warp length apart from the program's own figures."""
    if units == "metric":
        return f"{mm / 1000:.2f} m"
    whole, quarters = divmod(round(mm / 914.4 * 4), 4)
    return f"{whole} {['', '¼', '½', '¾'][quarters]} yd".replace("  ", " ")


def find_figures(plan, text):
    """Look every figure of a plan up in the text of its sheets, by their names."""
    warp, weft = plan["warp"], plan["weft"]
    card = text["warping-card"]
    for figure in (
        f"{warp['ends']}",
        yards_or_metres(warp["length_mm"], plan["units"]),
        f"Total {warp['ends']} ends",
    ):
        assert figure in card
    for share in warp["by_yarn"]:
        assert f"{share['ends']} ends" in card
        length = share["length_mm"]
        metres, yards = f"{round(length / 1000)} m", f"{round(length / 914.4)} yd"
        assert metres in card
        assert yards in card
    chart = text["threading-chart"]
    assert f"Total {warp['ends']} ends" in chart
    counted = re.search(r"Heddles on each shaft (.*?)(Notes|$)", chart)[1]
    for heddles in plan["loom"]["heddles"]:
        assert re.search(rf"\b{heddles}\b", counted)
    tally = text["pick-tally"]
    assert f"{weft['picks_per_piece']}" in tally
    for section in weft["sections"]:
        first, picks = section["first_pick"], section["picks"]
        assert f"{picks} picks, {first + 1} to {first + picks}" in tally
        end = section["start_mm"] + section["length_mm"]
        assert f"{end / 10:.1f} cm" in tally
    for tied in plan["loom"]["tie_up"]:
        assert f"{tied['treadle']}: {' '.join(str(shaft) for shaft in tied['rise'])}" in tally


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_figures_on_paper_are_those_of_the_plan(path, paper):
    """Read the PDF back with another library and look every figure of the plan up on it."""
    result = outcome(path)
    plan = plan_data(result)
    project = result.project
    frame = frame_of(project, paper)
    text = {}
    for name, draw in sheets_of(project).items():
        reader = pypdf.PdfReader(BytesIO(pdf_file(project, [draw(project, frame)], "x").data))
        text[name] = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    find_figures(plan, text)


def test_paper_that_no_sheet_fits_is_refused():
    project = outcome(TOWELS).project
    with pytest.raises(PaperTooSmall, match="needs 88 × 110 mm"):
        frame_of(project, "100 x 150 mm")


names = st.sampled_from(
    ["s", "slate", "hand-dyed singles from the second flock, walnut over madder, lot nine", "Ωλ жΔ"]
)
groups = st.lists(st.integers(1, 8), min_size=1, max_size=9).map(
    lambda shafts: " ".join(map(str, shafts))
)


@st.composite
def random_specs(draw):
    """Return a spec with odd sizes: 8 to 1,500 ends, long names and none, any order and draft."""
    shafts = draw(st.sampled_from([4, 8, 16]))
    keys = ["slate", "sand", "plum"][: draw(st.integers(1, 3))]
    yarns = {}
    for key in keys:
        yarns[key] = {"fibre": "cotton", "size": "Ne 8/2"}
        if draw(st.booleans()):
            yarns[key]["name"] = draw(names)
    treadles = {str(n): f"{n} {n % shafts + 1}" for n in range(1, shafts + 1)}
    straight = " ".join(str(n) for n in range(1, shafts + 1))
    odd = draw(groups)
    threading = f"({straight}) x 2, ({odd}) x {draw(st.integers(1, 12))}, ({straight}) to fill"
    ends = draw(st.integers(8, 1500))
    order = None
    if len(keys) > 1:
        counts = draw(st.lists(st.integers(1, 60), min_size=1, max_size=12))
        listed = ", ".join(f"{n} {keys[at % len(keys)]}" for at, n in enumerate(counts))
        times = draw(st.integers(1, 70))
        order = f"({listed}) x {times}, ({keys[0]}) to fill"
    steps = draw(st.lists(st.integers(1, shafts), min_size=1, max_size=14))
    pressed = " ".join(map(str, steps))
    treadling = f"({pressed}) x {draw(st.integers(1, 30))}, {straight}"
    section = {"section": draw(names), "length": "fill"}
    return {
        "project": {"title": draw(names), "code": draw(st.sampled_from(["FW-1", "FERNHOLLOW-2026-0417-B"]))},
        "units": draw(st.sampled_from(["metric", "imperial"])),
        "yarns": yarns,
        "loom": {"action": draw(st.sampled_from(["rising", "sinking", "table"])), "shafts": str(shafts)},
        "cloth": {"width": f"{ends / 10:.1f} cm", "length": "90 cm", "pieces": str(draw(st.integers(1, 12)))},
        "sett": "8 per cm",
        "draft": {"threading": threading, "tie_up": treadles, "treadling": treadling},
        "warp_order": order,
        "weft_order": ", ".join(keys),
        "weave": [section, {"section": "end", "picks": "7", "note": draw(names)}],
        "conventions": draw(st.sampled_from(["american", {"first_end": "left"}])),
        "paper": draw(
            st.sampled_from(
                [{"binding": "left", "holes": "iso-838"}, {"binding": "top"}, {"binding": "right"}]
            )
        ),
    }  # fmt: skip


@settings(
    max_examples=80,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(random_specs(), st.sampled_from(PAPERS))
def test_odd_projects_are_good_to_look_at_too(spec, paper):
    result = outcome_of(**spec)
    if result.project is None:
        # An order may be longer than a small warp: then a finding says so.
        assert result.has_errors
        return
    frame = frame_of(result.project, paper)
    for draw in sheets_of(result.project).values():
        for page in draw(result.project, frame).pages:
            assert faults(page, frame) == []


@pytest.mark.parametrize("paper", PAPERS)
def test_a_long_repeat_of_many_lifts_goes_on_over_pages(paper):
    """A dobby of 24 shafts: lines of several rows, and a bracket that no page holds."""
    lifts = "; ".join(
        " ".join(str((start + step) % 24 + 1) for step in range(9 + start % 3))
        for start in range(70)
    )
    result = outcome_of(
        loom={"action": "dobby", "shafts": "24"},
        draft={
            "threading": f"({' '.join(map(str, range(1, 25)))}) to fill",
            "lifts": f"({lifts}) x 12",
        },
        weft_order="natural",
    )
    frame = frame_of(result.project, paper)
    for draw in sheets_of(result.project).values():
        for page in draw(result.project, frame).pages:
            assert faults(page, frame) == []
