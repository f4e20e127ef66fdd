"""The pattern booklet as it is printed: read back, looked at, counted."""

import re
from functools import cache
from io import BytesIO

import pypdf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cards.glossary import TERMS
from cards.plan_json import plan_data
from layouts.drawing import Figure, Path, Text
from layouts.folio import frame_of
from layouts.numbering import numbered_frame
from layouts.paper import PaperTooSmall
from layouts.pattern_booklet import CARD_PART, GLOSSARY, draw_pattern_booklet
from layouts.pattern_files import pattern_pdf, pattern_svgs
from tests.layouts.structure import Tagged
from tests.project.layered_specs import built
from tests.project.worked import outcome_of, project_of
from tests.sheets.looks import faults, flat
from tests.sheets.test_printed import PAPERS, random_specs
from tests.sheets.test_tagged import heard
from tests.worked_specs import SPECS, worked_out


def cases(papers):
    """Return every worked spec on every one of some papers."""
    found = [(path, paper) for path in SPECS for paper in papers]
    return pytest.mark.parametrize(
        ("path", "paper"), found, ids=[f"{path.stem}-{paper}" for path, paper in found]
    )


# Legal is a higher Letter: that is drawn at random below.
drawn = cases([paper for paper in PAPERS if paper != "Legal"])
# Files are read back on wide paper and on narrow paper.
names = cases(["A4", "5 x 8 in"])


@cache
def outcome(path):
    return worked_out(path)


@cache
def booklet(path, paper):
    project = outcome(path).project
    return draw_pattern_booklet(project, frame_of(project, paper), outcome(path).others)


@cache
def read(path, paper):
    """Return the texts of the pages of the PDF, as another library reads them."""
    data = pattern_pdf(outcome(path).project, booklet(path, paper), "x").data
    reader = pypdf.PdfReader(BytesIO(data))
    return reader, [" ".join(page.extract_text().split()) for page in reader.pages]


@drawn
def test_nothing_overlaps_and_nothing_is_small(path, paper):
    frame = frame_of(outcome(path).project, paper)
    for page in booklet(path, paper).pages:
        assert faults(page, frame) == []
        assert len([mark for mark in flat(page.marks) if isinstance(mark, Text)]) > 5


@names
def test_every_page_named_is_the_page_on_which_that_card_stands(path, paper):
    _, pages = read(path, paper)
    found = 0
    for text in pages:
        for title, listed in re.findall(
            r"\b((?:warping|threading|sley|tie-up|lever|treadle) (?:card|chart)|heddle count|pick tally|"
            r"pegging plan|heddle positions)(?: · [^,]+)?, pages? ((?:\d+, )*\d+)",
            text,
        ):
            for number in listed.split(", "):
                head = pages[int(number) - 1][:120].casefold()
                assert head.startswith(title), (title, number, head)
                assert "continued" not in head.split("·")[0]
                found += 1
    assert found >= 4


@names
def test_the_contents_name_the_page_on_which_each_part_begins(path, paper):
    _, pages = read(path, paper)
    drawings = booklet(path, paper).pages
    titles = [entry.title for page in drawings for entry in page.entries][1:]
    contents = " ".join(page for page in pages[1:4])
    at = {
        entry.title: place for place, page in enumerate(drawings, start=1) for entry in page.entries
    }
    for title in titles[1:]:
        assert re.search(rf"{re.escape(title)} {at[title]}\b", contents), title
        words = pages[at[title] - 1]
        if title != CARD_PART:  # the cards have titles of their own
            assert title.split(": ")[-1].casefold() in words.casefold()


@names
def test_pages_are_numbered_through(path, paper):
    reader, pages = read(path, paper)
    assert reader.page_labels == [str(number) for number in range(1, len(pages) + 1)]
    for number, page in enumerate(booklet(path, paper).pages[1:], start=2):
        low = max(
            (mark for mark in flat(page.marks) if isinstance(mark, Text)),
            key=lambda mark: (mark.y, mark.left),
        )
        assert low.text == str(number)


@names
def test_the_outline_has_the_parts_in_their_order(path, paper):
    reader, _ = read(path, paper)
    flat_outline = [
        item for each in reader.outline for item in (each if isinstance(each, list) else [each])
    ]
    listed = [(item.title, reader.get_destination_page_number(item)) for item in flat_outline]
    places = [place for _, place in listed]
    assert places == sorted(places)
    titles = [title for title, _ in listed]
    assert titles[:2] == ["Title page", "Contents"]
    assert titles[-1] == GLOSSARY
    for part in ("What you need", "The calculation in short", "Step by step", "Finishing"):
        assert part in titles


@names
def test_figures_on_paper_are_those_of_the_plan(path, paper):
    plan = plan_data(outcome(path))
    _, pages = read(path, paper)
    text = " ".join(pages)
    warp = plan["warp"]
    assert f"Wind {warp['ends']} ends" in text or "pattern:" in path.read_text()
    for mm in (warp["width_in_reed_mm"],):
        assert f"{mm / 10:.1f} cm" in text
    assert f"{warp['length_mm'] / 1000:.2f} m" in text
    for yarn in plan["yarns"]:
        assert f"{round(yarn['length_mm'] / 1000)} m" in text.replace(" ", " ")
    for kind in plan["pieces"] or [plan]:
        assert f"{kind['weft']['picks_per_piece']}" in text


@names
def test_exactly_the_words_that_are_used_are_explained(path, paper):
    """Each word explained stands elsewhere in the booklet, or in an explanation."""
    pages = booklet(path, paper).pages
    first = next(
        at for at, page in enumerate(pages) if GLOSSARY in [entry.title for entry in page.entries]
    )
    words = [" ".join(m.text for m in flat(page.marks) if isinstance(m, Text)) for page in pages]
    explained = [
        term for term in TERMS
        if any(isinstance(m, Text) and m.text == term.word and m.weight == "bold"
               for page in pages[first:] for m in flat(page.marks))
    ]  # fmt: skip
    assert len(explained) > 15
    body = "\n".join([*words, *(term.meaning for term in explained)])
    for term in TERMS:
        if term in explained:
            others = "\n".join(
                [*words[: first + 1], *(each.meaning for each in explained if each != term)]
            )
            assert term.used_in(others), term.word
        else:
            assert not term.used_in(body), term.word


def cloth_paths(page):
    """Return title, and the boxes of each colour, of every finished cloth on a page."""
    for figure in page.marks:
        if isinstance(figure, Figure) and figure.title.startswith("The finished cloth"):
            boxes = []
            for mark in figure.marks:
                if isinstance(mark, Path) and mark.fill is not None:
                    points = [step[1:] for step in mark.steps if step[0] != "Z"]
                    for at in range(0, len(points), 4):
                        xs = [x for x, _ in points[at : at + 4]]
                        ys = [y for _, y in points[at : at + 4]]
                        boxes.append((min(xs), min(ys), max(xs), max(ys), mark.fill))
            yield figure, boxes


@pytest.mark.parametrize("paper", PAPERS)
def test_the_cloth_on_the_title_page_is_drawn_to_its_scale(paper):
    """The towels: 436 ends in stripes, and sections of 40, 76, 440 and 76 picks.

    Counted by hand from the spec: (24, then ten times 12 4 12 8, then 12 4 12 24) ends; borders
    24 12 4 12 24 picks. The hems of 36 picks are turned under.
    """
    path = next(each for each in SPECS if each.stem == "kitchen-towels")
    plan = plan_data(outcome(path))
    ((figure, boxes),) = cloth_paths(booklet(path, paper).pages[0])
    scale = int(figure.title.rsplit(" ", 1)[1])
    left, right = min(box[0] for box in boxes), max(box[2] for box in boxes)
    assert (right - left) * scale == pytest.approx(plan["warp"]["finished_width_mm"])
    stripes = [24, *[12, 4, 12, 8] * 10, 12, 4, 12, 24]
    edges = [sum(stripes[:at]) / 436 for at in range(len(stripes) + 1)]
    middle = [
        box
        for box in boxes
        if box[3] - box[1] > 0.5 * (max(b[3] for b in boxes) - min(b[1] for b in boxes))
    ]
    found = sorted({*(box[0] for box in middle), right})
    assert [(x - left) / (right - left) for x in found] == pytest.approx(edges)
    top, bottom = min(box[1] for box in boxes), max(box[3] for box in boxes)
    finished = [each["finished_mm"] for each in plan["weft"]["sections"]]
    length = sum(finished) - 2 * 40.0
    assert (bottom - top) * scale == pytest.approx(length)
    # The hem sections are 36 picks of 8 to the centimetre, a hair longer or shorter than the hem.
    before = finished[0] - 40.0
    rows = [before]
    for picks in (24, 12, 4, 12, 24):
        rows.append(rows[-1] + finished[1] * picks / 76)
    found = sorted({(bottom - box[3]) * scale for box in boxes} | {length})
    for row in rows:
        assert min(abs(row - each) for each in found) < 0.01


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_every_picture_has_the_sizes_of_the_plan(path):
    plan = plan_data(outcome(path))
    widths = {each["finished_width_mm"] for each in plan["pieces"] or [plan["warp"]]}
    shown = [found for page in booklet(path, "A4").pages[:3] for found in cloth_paths(page)]
    assert shown
    for figure, boxes in shown:
        scale = int(figure.title.rsplit(" ", 1)[1])
        width = (max(box[2] for box in boxes) - min(box[0] for box in boxes)) * scale
        assert min(abs(width - each) for each in widths) < 0.01


def test_the_words_of_pdf_and_svg_are_the_same():
    path = SPECS[0]
    files = pattern_svgs(outcome(path).project, booklet(path, "A4"), "x")
    _, pages = read(path, "A4")
    assert [file.name for file in files] == [
        f"x-{number}.svg" for number in range(1, len(pages) + 1)
    ]
    for file, words in zip(files, pages, strict=True):
        texts = re.findall(r"<text[^>]*>([^<]*)</text>", file.data.decode())
        assert letters("".join(texts).replace("&amp;", "&")) == letters(words)


def letters(text):
    return sorted("".join(text.split()))


def test_the_same_spec_gives_the_same_bytes():
    path = SPECS[0]
    project = outcome(path).project
    again = draw_pattern_booklet(project, frame_of(project, "A5"), outcome(path).others)
    one, other = (pattern_pdf(project, each, "x").data for each in (again, booklet(path, "A5")))
    assert one == other


def good(project, paper, others=()):
    frame = frame_of(project, paper)
    made = draw_pattern_booklet(project, frame, others)
    for page in made.pages:
        assert faults(page, frame) == []
    return made


@settings(
    max_examples=8,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(random_specs(), st.sampled_from(PAPERS))
def test_odd_projects_make_good_booklets_too(spec, paper):
    result = outcome_of(**spec)
    if result.project is None:
        assert result.has_errors
        return
    try:
        good(result.project, paper)
    except PaperTooSmall:
        frame = numbered_frame(frame_of(result.project, paper))
        assert frame.content[2] < 110 or frame.content[3] < 190


LONG = "The seventh towel of a set for the long table under the window that looks over the estuary, in four weaves"


@pytest.mark.parametrize("paper", ["A4", "5 x 8 in"])
def test_long_texts_find_room(paper):
    title = " ".join([LONG] * 2)[:200]
    project = project_of(
        project={"title": title, "summary": "A good plain cloth. " * 60, "maker": LONG[:60]},
        yarns={
            key: {"name": f"{LONG[:70]} {key}", "fibre": "cotton", "size": "Ne 8/2", "put_up": "8 oz"}
            for key in ("natural", "slate", "plum")
        },
        warp_order="24 slate, 4 plum, (natural) to fill",
        weft_order="natural",
        pattern={
            "aim": "To weave evenly. " * 40,
            "skills": ["A long sentence on what is learned by it. " * 6] * 5,
            "steps": [{"stage": f"Stage {n} with a long name", "do": ["Do this with care. " * 20] * 4} for n in range(7)],
            "cautions": ["Mind your fingers. " * 12] * 3,
        },
    )  # fmt: skip
    made = good(project, paper)
    words = [m.text for page in made.pages for m in flat(page.marks) if isinstance(m, Text)]
    assert sum("Do this with care." in each for each in words)
    assert " ".join(words).count("Do this") == 7 * 4 * 20


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_a_wide_warp_makes_a_booklet(paper):
    wide = {"width": "150 cm", "length": "200 cm"}
    project = project_of(units="metric", cloth=wide, sett="8 per cm", picks="8 per cm")
    assert project.warp.ends > 1200
    good(project, paper)


def test_eight_layers_make_a_booklet():
    cloth = {"width": "40 cm", "length": "20 cm"}
    good(built(8, 16, double_weave={"join": "left"}, cloth=cloth), "A4")


def test_small_paper_is_refused_in_words():
    project = project_of()
    with pytest.raises(PaperTooSmall):
        draw_pattern_booklet(project, frame_of(project, "110 x 130 mm"))


@names
def test_every_mark_is_heard_once_or_passed_over(path, paper):
    data = pattern_pdf(outcome(path).project, booklet(path, paper), "x").data
    tagged = Tagged(data)
    assert tagged.faults == []
    words = "".join(text for page in booklet(path, paper).pages for text in heard(page.marks))
    read_aloud = "".join(tagged.text_of(each) for each in tagged.elements("/Sect"))
    assert "".join(read_aloud.split()) == "".join(words.split())
