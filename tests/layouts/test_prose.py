"""Prose: even lines, none too wide; what belongs together stays on one page."""

from itertools import combinations, pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from layouts.drawing import Box, Disc, Line, Text, flat
from layouts.paper import Frame, PaperTooSmall
from layouts.prose import Prose, Slice, fit_lines, page_of, room
from layouts.prose_flow import Measures, ProseFlow, measures_of
from layouts.prose_table import figure_table
from layouts.sheets.parts import Block
from layouts.typeface import BODY, measure, wrap

WORDS = st.lists(st.text("abcdefghijmnop", min_size=1, max_size=9), min_size=1, max_size=40).map(
    " ".join
)
A5 = Frame(148, 210)
# The machine may be slow; the lines are not.
quick = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])


@quick
@given(WORDS, st.floats(30, 150))
def test_lines_keep_every_word_in_order_and_none_is_too_wide(text, width):
    lines = fit_lines(text, width, BODY)
    assert " ".join(lines).split() == text.split()
    assert all(measure(line, BODY) <= width + 1e-6 for line in lines)


@quick
@given(WORDS, st.floats(30, 150))
def test_there_are_no_more_lines_than_when_each_is_filled(text, width):
    """The greedy way gives the fewest lines that there can be."""
    assert len(fit_lines(text, width, BODY)) == len(wrap(text, width, BODY))


def ragged(lines, width):
    return sum(((width - measure(line, BODY)) / width) ** 2 for line in lines[:-1])


@quick
@given(
    st.lists(st.text("abcdefim", min_size=1, max_size=8), min_size=2, max_size=11),
    st.floats(25, 70),
)
def test_of_all_ways_to_break_a_paragraph_the_most_even_is_taken(words, width):
    """Tried against every way there is, but for a last line that would be short."""
    fewest = len(wrap(" ".join(words), width, BODY))
    ways = []
    for places in combinations(range(1, len(words)), fewest - 1):
        marks = [0, *places, len(words)]
        lines = [" ".join(words[a:b]) for a, b in pairwise(marks)]
        if all(measure(line, BODY) <= width for line in lines):
            short = 0.6 if measure(lines[-1], BODY) < 0.16 * width else 0.0
            ways.append(ragged(lines, width) + short)
    lines = fit_lines(" ".join(words), width, BODY)
    short = 0.6 if measure(lines[-1], BODY) < 0.16 * width else 0.0
    assert ragged(lines, width) + short == pytest.approx(min(ways))


def test_the_last_line_is_no_word_alone():
    text = "Tie the warp on in small bunches from the middle outwards and even its tension now"
    greedy = wrap(text, 134, BODY)
    assert greedy[-1] == "now"
    assert len(fit_lines(text, 134, BODY)[-1].split()) > 1


def test_a_word_wider_than_a_line_is_broken_and_kept():
    word = "x" * 200
    lines = fit_lines(f"a {word} b", 40, BODY)
    assert "".join(lines).replace(" ", "") == f"a{word}b"
    assert all(measure(line, BODY) <= 40 for line in lines)


@pytest.mark.parametrize("number", [1, 9, 10, 64])
def test_lines_do_not_move_whatever_the_number_of_the_page_is(number):
    text = f"Look at the threading chart, page {page_of('chart')}, and at the sley card, page {page_of('sley')}."
    for width in range(40, 100, 3):
        before = Prose().lines(text, width, BODY)
        after = Prose({"chart": number, "sley": number}).lines(text, width, BODY)
        assert len(before) == len(after)
        assert [line.replace("88", str(number)) for line in before] == after


def test_a_number_stays_with_its_unit_and_its_page():
    text = f"Weave 12.5 cm (4 ⅞ in), 436 ends, 30 picks, see page {page_of('a')}"
    for width in range(36, 90, 2):
        for line in Prose().lines(text, width, BODY):
            assert not line.startswith(("cm", "(4", "⅞", "in)", "ends", "picks", "88"))


def flow_of(slices, frame=A5):
    flow = ProseFlow(frame, "A title")
    flow.part("A part", slices)
    return flow


def bodies(flow):
    """Return the texts of each page without its running head."""
    return [
        [mark for mark in flat(each.page.marks) if isinstance(mark, Text) and mark.size > 9.0]
        for each in flow.pages()
    ]


@pytest.mark.parametrize("above", range(0, 175, 3))
def test_no_line_of_a_paragraph_stands_alone_on_a_page(above):
    words = "the warp lies evenly over the beam and every end has its own place " * 9
    text = Prose().paragraph(words, 128.0)
    assert len(text) > 5
    flow = flow_of([room(float(above), keep=False), *text])
    marks = [mark.text for page in bodies(flow) for mark in page]
    assert " ".join(marks[1:]).split() == words.split()
    counts = [sum(mark.text != "A part" for mark in page) for page in bodies(flow)]
    assert 1 not in counts


@pytest.mark.parametrize("above", range(100, 172, 2))
def test_a_heading_stands_with_what_follows(above):
    flow = ProseFlow(A5, "A title")
    flow.part("First", [room(float(above), keep=False), *Prose().paragraph("one line", 100.0)])
    flow.part("Second", Prose().paragraph("wind the warp " * 40, 128.0))
    for page in bodies(flow):
        texts = [mark.text for mark in page]
        assert texts[-1] != "Second"


def test_a_caption_is_on_the_page_of_its_figure():
    picture = Block(60.0, lambda x, y: (Box(x, y, 50, 60),))
    for above in range(60, 180, 4):
        figure = Prose().captioned(picture, "Figure 1. A caption.", 128.0)
        flow = flow_of([room(float(above), keep=False), figure])
        for each in flow.pages():
            boxes = any(isinstance(mark, Box) for mark in flat(each.page.marks))
            words = any(
                isinstance(mark, Text) and mark.text.startswith("Figure")
                for mark in flat(each.page.marks)
            )
            assert boxes == words


def test_no_page_is_turned_for_free_room_at_the_end():
    flow = flow_of([room(150.0, keep=False), *Prose().paragraph("one line", 100.0)])
    flow.add([room(flow.room + 1.0, keep=False)])
    assert len(flow.pages()) == 1


def test_text_hangs_from_its_box_or_its_dot():
    for slices, kind in (
        (Prose().ticked(["wind the warp " * 20, "thread"], 100.0), Box),
        (Prose().bullets(["wind the warp " * 20, "thread"], 100.0), Disc),
    ):
        marks = list(flat(mark for each in slices for mark in each.block.draw(10.0, 0.0)))
        texts = [mark for mark in marks if isinstance(mark, Text)]
        assert len({mark.x for mark in texts}) == 1
        signs = [mark for mark in marks if isinstance(mark, kind)]
        assert len(signs) == 2
        assert all(mark.x < texts[0].x - 2.0 for mark in signs)


def test_what_no_page_can_hold_is_refused():
    with pytest.raises(PaperTooSmall, match="mm more between the margins"):
        flow_of([Slice(Block(400.0, lambda x, y: ()))])


def test_lines_are_of_a_readable_length():
    """45 to 90 characters is what typographers call readable (common practice, no source)."""
    text = "the warp lies evenly over the beam, and each end has a place of its own there " * 6
    for frame in (Frame(210, 297), Frame(215.9, 279.4), Frame(148, 210), Frame(127, 203.2)):
        lines = Prose().lines(text, measures_of(frame).text, BODY)
        longest = max(len(line) for line in lines)
        assert 45 <= longest <= 90


ROWS = [
    ("width", ("54.5 cm", "21 ½ in", "given")),
    ("warp", ("4.00 m", "4.37 yd", "worked out")),
    ("ends", ("1248", "–", "assumed")),
    ("fringe", ("⅜ in", "0.9 cm", "given")),
]


def test_figures_of_a_table_are_aligned_at_their_point():
    slices = figure_table(Prose(), ("figure", "metric", "imperial", "from"), ROWS, 140.0)
    marks = [
        mark
        for each in slices
        for mark in flat(each.block.draw(0.0, 0.0))
        if isinstance(mark, Text)
    ]
    texts = {mark.text: mark for mark in marks}
    points = [
        texts[text].x + measure(whole, BODY)
        for text, whole in (("54.5 cm", "54"), ("4.00 m", "4"), ("1248", "1248"), ("⅜ in", ""))
    ]
    assert points == pytest.approx([points[0]] * 4)


@pytest.mark.parametrize("width", [60, 85, 107, 140])
def test_a_table_is_never_wider_than_it_may_be(width):
    slices = figure_table(Prose(), ("figure", "metric", "imperial", "from"), ROWS, float(width))
    for each in slices:
        for mark in flat(each.block.draw(0.0, 0.0)):
            right = mark.left + mark.width if isinstance(mark, Text) else mark.x2
            assert isinstance(mark, Text | Line)
            assert right <= width + 1e-6


def test_a_table_longer_than_a_page_has_its_head_again():
    rows = [(f"row {number}", ("1 cm", "2 in", "given")) for number in range(60)]
    slices = figure_table(Prose(), ("figure", "metric", "imperial", "from"), rows, 120.0)
    pages = bodies(flow_of(slices))
    assert len(pages) > 1
    for page in pages:
        assert [mark.text for mark in page].count("metric") == 1


def test_a_block_beside_text_begins_on_its_first_line_and_stays_with_it():
    measures = Measures(38.0, 120.0)
    aside = Block(20.0, lambda x, y: (Box(x, y, 38, 20),))
    slices = measures.aside(aside, Prose().paragraph("wind the warp " * 30, 120.0))
    height = 0.0
    for each in slices:
        height += each.block.height
        if not each.keep:
            break
    assert height >= 20.0
