"""The paper tools, cut out, pasted and laid against the plan: all of it read back from the files."""

import re
from itertools import pairwise

import pytest

from cards.measuring_ribbon import measuring_ribbon
from cards.needs import Needs
from cards.pick_tally import pick_tally
from cards.plan_json import plan_data
from layouts.drawing import Box, Figure, Line, Part, Path, Text
from layouts.folio import frame_of
from layouts.pdf import pdf_bytes
from layouts.sheet_list import BEAT_GAUGE, MEASURING_RIBBON, REED_RULER, SHEETS, folio_of
from layouts.sheets.strips import Note, spread
from layouts.svg import svg_text
from layouts.variants import finished
from tests.layouts import decode_pdf, decode_svg
from tests.sheets.looks import flat
from tests.worked_specs import FOLDER, SPECS, worked_out

INCH = 25.4  # exactly, by its definition of 1959
CLOSE = 0.01  # mm
TOOLS = (MEASURING_RIBBON, BEAT_GAUGE, REED_RULER)


def outcome(name):
    return worked_out(FOLDER / f"{name}.yaml")


def read(project, sheet, paper, form="pdf", needs=Needs()):  # noqa: B008 - it is frozen
    """Return the marks of every page of a sheet as it is printed."""
    frame = frame_of(project, paper, needs)
    drawing = finished(SHEETS[sheet](project, frame), frame)
    if form == "pdf":
        return decode_pdf.decode(pdf_bytes([drawing], title="x"))
    return [decode_svg.decode(svg_text(page, title="x")) for page in drawing.pages]


def figures(pages, words):
    """Return the figures of these words, in the order of the strips."""
    found = []

    def look(marks):
        for mark in marks:
            if isinstance(mark, Figure) and words in mark.title:
                found.append(mark.marks)
            elif isinstance(mark, Figure | Part):
                look(mark.marks)

    for page in pages:
        look(page)
    return found


def outline(marks):
    """Return the line along which a strip is cut out."""
    boxes = [mark for mark in marks if isinstance(mark, Box) and mark.fill is None]
    return max(boxes, key=lambda box: box.width * box.height)


def flaps(marks):
    """Return what is pasted under or pinned: large, filled, without an outline."""
    cut = outline(marks)
    boxes = [mark for mark in marks if isinstance(mark, Box) and mark.stroke is None]
    sides = (lambda box: box.width, cut.width), (lambda box: box.height, cut.height)
    return [box for box in boxes if any(abs(of(box) - whole) < CLOSE for of, whole in sides)]


class Pasted:
    """The strips of a ribbon pasted together: each with its lower edge on the line of the last."""

    def __init__(self, pages):
        self.lines, self.numbers, self.length = [], [], 0.0
        strips = figures(pages, "of the ribbon")
        for place, marks in enumerate(strips):
            cut = outline(marks)
            top, foot = cut.y, cut.y + cut.height
            for flap in flaps(marks):
                if abs(flap.y - top) < CLOSE and place + 1 < len(strips):
                    top = flap.y + flap.height
                elif place == 0 and flap.y > top:
                    foot = flap.y
            for mark in flat(marks):
                if isinstance(mark, Line) and abs(mark.x1 - cut.x) < CLOSE and mark.y1 == mark.y2:
                    self.lines.append((self.length + foot - mark.y1, mark.x2 - mark.x1, mark.width))
                if (
                    isinstance(mark, Text)
                    and re.fullmatch("[0-9]+", mark.text)
                    and mark.anchor == "end"
                ):
                    self.numbers.append((mark, self.length + foot - mark.y))
            self.length += foot - top

    def at(self, weight):
        """Return where lines of a weight are, in mm from the first pick."""
        return sorted(at for at, _, width in self.lines if abs(width - weight) < 1e-3)


def assert_places(found, expected):
    """Hold every place against its own, to a hundredth of a millimetre."""
    found = [at for place, at in enumerate(found) if not place or at - found[place - 1] > CLOSE]
    assert found == pytest.approx(expected, abs=CLOSE)


def planned(data):
    """Return where sections begin and the piece ends, by the plan."""
    sections = data["weft"]["sections"]
    last = sections[-1]
    return sorted({s["start_mm"] for s in sections} | {last["start_mm"] + last["length_mm"]})


@pytest.mark.parametrize("form", ["pdf", "svg"])
@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "5 x 8 in"])
@pytest.mark.parametrize(
    "name", ["kitchen-towels", "triple-width-banner", "class-mat", "four-towels"]
)
def test_sections_lie_on_the_pasted_ribbon_where_the_plan_has_them(name, paper, form):
    result = outcome(name)
    pasted = Pasted(read(result.project, MEASURING_RIBBON, paper, form))
    around = result.project.weft.around
    assert around.fringe == 0
    expected = planned(plan_data(result))
    between = around.gap if result.project.pieces > 1 else 0
    if between:
        expected.append(expected[-1] + between)
    assert_places(pasted.at(0.8), expected)


@pytest.mark.parametrize("paper", ["A4", "A3"])
def test_large_print_enlarges_words_and_not_lengths(paper):
    result = outcome("kitchen-towels")
    pasted = Pasted(read(result.project, MEASURING_RIBBON, paper, needs=Needs(large_print=True)))
    assert_places(pasted.at(1.6), planned(plan_data(result)))


def test_a_fringe_is_on_the_ribbon_and_the_whole_is_imperial():
    result = outcome("twill-scarf")
    pasted = Pasted(read(result.project, MEASURING_RIBBON, "Letter"))
    expected = planned(plan_data(result))
    (fringe,) = [s for s in result.project.steps if s.name == "one fringe on the loom"]
    assert_places(pasted.at(0.8), [*expected, expected[-1] + fringe.value])
    ticks = [at for at, _, width in pasted.lines if abs(width - 0.2) < 1e-3]
    quarters = sorted({round(at / INCH * 4) for at in ticks})
    assert quarters == list(range(int(pasted.at(0.8)[-1] / INCH * 4) + 1))
    assert all(abs(at / INCH * 4 - round(at / INCH * 4)) * INCH / 4 < CLOSE for at in ticks)


@pytest.mark.parametrize("paper", ["A4", "Letter", "A5"])
def test_every_centimetre_is_ticked_and_numbered_across_all_joins(paper):
    pasted = Pasted(read(outcome("double-width-throw").project, MEASURING_RIBBON, paper, "svg"))
    end = pasted.at(0.8)[-1]
    halves = sorted({round(at / 5) for at, _, width in pasted.lines if abs(width - 0.2) < 1e-3})
    assert halves == list(range(int(end / 5) + 1))
    numbers = {int(mark.text): at + 0.72 * mark.size * 25.4 / 72 / 2 for mark, at in pasted.numbers}
    assert sorted(numbers) == list(range(1, int(end / 10) + 1))
    # That of a join stands a little above it, every other one beside its tick.
    off = [abs(at - number * 10) for number, at in numbers.items()]
    assert max(off) < 2.5
    assert sum(each > 0.15 for each in off) < len(
        figures(
            read(outcome("double-width-throw").project, MEASURING_RIBBON, paper, "svg"),
            "of the ribbon",
        )
    )


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_ribbon_and_tally_agree(path):
    project = worked_out(path).project
    for kind in project.kinds:
        tally, ribbon = pick_tally(kind), measuring_ribbon(kind)
        marks = {(mark.words, mark.picks): mark.at for mark in ribbon.marks}
        for section in tally.sections:
            assert marks[section.name, section.first - 1] == section.start
        assert marks["piece ends", tally.picks_each] == pytest.approx(tally.sections[-1].end)
        assert ribbon.piece_length == tally.piece_length
        # Whatever is marked, the picks so far are those of its length at the beat of its section.
        for mark in ribbon.marks:
            for section in tally.sections:
                if mark.picks is not None and section.start <= mark.at < section.end:
                    woven = section.first - 1 + (mark.at - section.start) * section.picks_per_mm
                    assert abs(mark.picks - woven) <= 0.5 + 1e-6
        ats = [mark.at for mark in ribbon.marks]
        assert ats == sorted(ats)


def test_colours_of_the_weft_are_marked_where_they_change():
    """By hand: a border of 24 slate, 12 natural, 4 madder, 12 natural, 24 slate at 8 to the cm."""
    ribbon = measuring_ribbon(outcome("kitchen-towels").project)
    found = [
        (round(mark.at, 3), "".join(yarn.letter for yarn in mark.yarns))
        for mark in ribbon.marks
        if mark.yarns
    ]
    assert found[:7] == [
        (0, "N"),
        (45, "S"),
        (75, "N"),
        (90, "M"),
        (95, "N"),
        (110, "S"),
        (140, "N"),
    ]


def test_layers_are_looked_between_every_ten_centimetres():
    ribbon = measuring_ribbon(outcome("double-width-throw").project)
    looks = [mark.at for mark in ribbon.marks if mark.look]
    assert looks == [100 * number for number in range(1, 20)]


def lines_of(paths):
    """Return the upright places of all level strokes, and their lengths."""
    found = []
    for path in paths:
        for one, other in zip(path.steps[::2], path.steps[1::2], strict=True):
            assert one[0] == "M"
            assert other[0] == "L"
            found.append((one[1], one[2], other[1], other[2]))
    return found


def gauges_of(project, paper="A4", form="pdf", needs=Needs()):  # noqa: B008
    """Return the places of the picks of every slip, in mm from its foot, by its large figure."""
    found = []
    for marks in figures(read(project, BEAT_GAUGE, paper, form, needs), " per "):
        texts = [mark for mark in flat(marks) if isinstance(mark, Text)]
        value = max(texts, key=lambda text: text.size).text
        strokes = lines_of([mark for mark in flat(marks) if isinstance(mark, Path)])
        foot = max(y for _, y, _, _ in strokes)
        places = sorted(foot - y for _, y, _, _ in strokes)
        tens = sorted(foot - y for x1, y, x2, _ in strokes if x2 - x1 > 16.9)
        found.append((value, places, tens))
    return found


@pytest.mark.parametrize("form", ["pdf", "svg"])
@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "5 x 8 in"])
@pytest.mark.parametrize(
    "name", ["kitchen-towels", "double-width-throw", "twill-scarf", "class-mat"]
)
def test_a_gauge_has_a_line_for_every_pick_of_the_plan(name, paper, form):
    result = outcome(name)
    sett = plan_data(result)["sett"]
    unit = 10 if result.project.units == "metric" else INCH
    on_loom = {sett["picks_total_per_100mm"] / 100, sett["picks_layer_per_100mm"] / 100}
    rate = next(
        each["value"]
        for each in plan_data(result)["allowances"]
        if each["name"] == "relaxation off the loom"
    )
    expected = on_loom | {each / (1 - rate) for each in on_loom}
    gauges = gauges_of(result.project, paper, form)
    assert len(gauges) == len(expected)
    for value, places, tens in gauges:
        per_mm = min(expected, key=lambda each: abs(each - float(value) / unit))
        assert float(value) == pytest.approx(per_mm * unit, abs=0.005)
        for number, at in enumerate(places):
            assert abs(at - number / per_mm) < CLOSE
        for number, at in enumerate(tens):
            assert abs(at - number * 10 / per_mm) < CLOSE
        assert places[-1] > 25


def test_large_print_leaves_a_gauge_as_it_is():
    project = outcome("kitchen-towels").project
    large = gauges_of(project, "A4", needs=Needs(large_print=True))
    for (value, places, _), (same, others, _) in zip(gauges_of(project), large, strict=True):
        assert value == same
        both = min(len(places), len(others))
        assert both > 20
        assert others[:both] == pytest.approx(places[:both], abs=CLOSE)


def test_what_differs_in_beat_has_a_gauge_of_its_own():
    """By hand: 8 and 7 picks to the cm, and 3 % shorter off the loom."""
    values = [value for value, _, _ in gauges_of(outcome("four-towels").project)]
    assert values == ["8", "7", "8.25", "7.22"]


class Rule:
    """The strips of a ruler pasted together, each with its left edge on the line of the last."""

    def __init__(self, pages, name):
        self.ticks, self.heavy, self.numbers, self.length = [], [], [], 0.0
        strips = figures(pages, f"of the {name}")
        for place, marks in enumerate(strips):
            cut = outline(marks)
            wide = cut.width
            for flap in flaps(marks):
                wide -= flap.width
                assert place + 1 < len(strips)
            for mark in flat(marks):
                if isinstance(mark, Path) and mark.fill is None:
                    for x1, y1, _, y2 in lines_of([mark]):
                        assert y1 == pytest.approx(cut.y, abs=CLOSE)
                        self.ticks.append((self.length + x1 - cut.x, y2 - y1))
                if (
                    isinstance(mark, Line)
                    and mark.x1 == mark.x2
                    and abs(mark.y1 - cut.y) < CLOSE
                    and mark.width > 0.6
                ):
                    self.heavy.append(self.length + mark.x1 - cut.x)
                if isinstance(mark, Text):
                    self.numbers.append((self.length + mark.left + mark.width / 2 - cut.x, mark))
            self.length += wide

    @property
    def places(self):
        """The places of the ticks, each once: that at a join stands on both strips."""
        found = sorted(at for at, _ in self.ticks)
        return [at for place, at in enumerate(found) if not place or at - found[place - 1] > CLOSE]


@pytest.mark.parametrize("form", ["pdf", "svg"])
@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "5 x 8 in"])
@pytest.mark.parametrize(
    "name", ["kitchen-towels", "triple-width-banner", "twill-scarf", "throw-three-ways"]
)
def test_every_wire_of_the_reed_is_in_its_place_on_the_pasted_ruler(name, paper, form):
    result = outcome(name)
    sley = plan_data(result)["sley"]
    rule = Rule(read(result.project, REED_RULER, paper, form), "reed ruler")
    pitch = 100 / sley["reed_per_100mm"]
    wires = rule.places
    assert len(wires) == sley["dents"] + 1
    for number, at in enumerate(wires):
        assert abs(at - number * pitch) < CLOSE
    assert abs(wires[-1] - sley["width_mm"]) < CLOSE
    assert min(abs(at - sley["width_mm"] / 2) for at in rule.heavy) < CLOSE


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_the_dents_and_ends_on_the_ruler_are_those_of_the_plan(paper):
    result = outcome("triple-width-banner")
    sley = plan_data(result)["sley"]
    rule = Rule(read(result.project, REED_RULER, paper), "reed ruler")
    ends, so_far = [], 0
    for each, dents in sley["per_dent"]:
        for _ in range(dents):
            so_far += each
            ends.append(so_far)
    width = sley["width_mm"]
    told = [(at, mark) for at, mark in rule.numbers if re.fullmatch("[0-9]+", mark.text)]
    dents = {int(mark.text): at for at, mark in told if mark.weight == "bold"}
    counts = sorted(int(mark.text) for _, mark in told if mark.weight == "regular")
    assert sorted(dents) == list(range(10, sley["dents"] + 1, 10))
    assert counts == [ends[dent - 1] for dent in sorted(dents)]
    pitch = 100 / sley["reed_per_100mm"]
    # The first end is at the right; a figure at the end of a strip is moved in by half of itself.
    assert max(abs(width - dent * pitch - at) for dent, at in dents.items()) < 4


@pytest.mark.parametrize("form", ["pdf", "svg"])
@pytest.mark.parametrize("paper", ["A4", "A5"])
@pytest.mark.parametrize("name", ["kitchen-towels", "twill-scarf"])
def test_every_space_of_the_raddle_has_its_ends(name, paper, form):
    """By hand: spaces of 2 cm at 8 ends to the cm hold 16, of 1 in at 24 to the inch 24."""
    project = outcome(name).project
    spacing, full = (20, 16) if name == "kitchen-towels" else (INCH, 24)
    rule = Rule(read(project, REED_RULER, paper, form), "raddle ruler")
    ends = project.warp.ends
    spaces = -(-ends // full)
    assert len(rule.places) == spaces + 1
    for number, at in enumerate(rule.places):
        assert abs(at - number * spacing) < CLOSE
    bold = [
        int(m.text)
        for _, m in sorted(rule.numbers, key=lambda each: each[0])
        if m.weight == "bold" and m.text.isdigit()
    ]
    last = ends - full * (spaces - 1)
    assert bold == [last] + [full] * (spaces - 1)
    so_far = sorted(
        int(m.text) for _, m in rule.numbers if m.weight == "regular" and m.text.isdigit()
    )
    assert so_far == sorted({*range(full, ends, full), ends})


@pytest.mark.parametrize("sheet", TOOLS)
@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "5 x 8 in"])
@pytest.mark.parametrize("name", ["kitchen-towels", "twill-scarf"])
def test_every_page_proves_its_size_and_says_what_to_do(name, paper, sheet):
    project = outcome(name).project
    length = 50 if project.units == "metric" else 2 * INCH
    for page in read(project, sheet, paper):
        words = " ".join(mark.text for mark in flat(page) if isinstance(mark, Text))
        assert "print again at 100 %" in words
        assert "do not use this" in words
        level = [abs(m.x2 - m.x1) for m in flat(page) if isinstance(m, Line) and m.y1 == m.y2]
        assert any(abs(each - length) < CLOSE for each in level)


@pytest.mark.parametrize("sheet", TOOLS)
def test_tools_are_printed_for_those_who_ask(sheet):
    assert sheet not in folio_of(outcome("kitchen-towels").project)


def test_a_loom_without_a_reed_has_no_ruler_for_it():
    from layouts.sheet_list import sheets_of

    assert REED_RULER in sheets_of(outcome("kitchen-towels").project)


@pytest.mark.parametrize("crowd", [1, 3, 8])
def test_words_that_crowd_are_moved_apart_and_kept_in_order(crowd):
    notes = [Note(40 + number / 10, 5.0, 3) for number in range(crowd)]
    places = spread(notes, 0.0, 60.0)
    assert None not in places
    assert all(two - one >= 5.0 - 1e-9 for one, two in pairwise(places))
    assert places[0] >= 0
    assert places[-1] + 5 <= 60 + 1e-9


def test_words_without_room_are_left_out_the_least_needed_first():
    notes = [Note(10, 5.0, 3), Note(10, 5.0, 1), Note(10, 5.0, 2), Note(10, 5.0, 1)]
    assert [place is None for place in spread(notes, 0.0, 12.0)] == [False, True, False, True]
