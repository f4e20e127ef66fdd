"""The tie-up card on paper: its pictures read back, and how far its cords keep from one another."""

from collections import defaultdict
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.loom.pressing import Treadle
from cards.sequence import Run, Sequence
from cards.spec import parse_paper_size
from cards.tie_up_card import tie_up_card
from layouts.drawing import Box, Disc, Figure, Text, unparted
from layouts.folio import frame_of
from layouts.paper import frame_for
from layouts.sheet_list import SHEETS
from tests.project.looms import LOOMS, SPECS, on_loom
from tests.project.worked import project_of
from tests.sheets.looks import faults, flat, mark_box, overlap, text_box
from tests.sheets.tie_up_read import pictures, table

SHEET = "tie-up-card"
PAPERS = ["A4", "A5", "Letter"]
# Cords nearer than this would run into one another on the floor, and a gap less wide not be seen.
LEAST_BETWEEN_CORDS = 3.4
LEAST_GAP = 0.5
# In more parts nobody would find a cord under a loom.
MOST_PARTS = 4


def drawing_of(project, paper, orientation="portrait"):
    frame = frame_for(parse_paper_size(paper), orientation)
    return SHEETS[SHEET](project, frame), frame


def check_page_marks(project, drawing, frame):
    for page in drawing.pages:
        assert faults(page, frame) == []
    loom = project.loom
    check_table(drawing, loom)
    found = pictures(drawing)
    assert len(found) <= MOST_PARTS
    if not found:
        words = " ".join(words_on(drawing))
        assert "No picture" in words
        return
    tied = defaultdict(lambda: {"rise": set(), "sink": set()})
    both = loom.action == "countermarch"
    upper = "sink" if loom.rise_lamms == "lower" else "rise"
    number = 0
    for picture in found:
        check_apart(picture)
        check_order(picture, loom)
        for cord in picture.cords:
            tied[cord.treadle][cord.way].add(cord.shaft)
            number += 1
            assert bool(cord.line.dash) == (both and cord.way == "sink")
            if both:
                assert cord.lamms == (0 if cord.way == upper else 1)
            else:
                assert cord.lamms == 0
    assert number == sum(each.cords for each in loom.tied)
    for each in loom.tied:
        assert tied[each.number] == {"rise": set(each.rise), "sink": set(each.sink)}
    boards = {treadle for picture in found for _, treadle in picture.treadles}
    free = {treadle for picture in found for _, treadle in picture.free}
    assert boards == {each.number for each in loom.tied}
    assert boards | free == set(range(1, max(loom.treadles or 0, *boards) + 1))


def check_table(drawing, loom):
    """The table has every cord, with a picture or without."""
    ways = {
        "rising": ("rise",),
        "sinking": ("sink",),
        "countermarch": ("sink", "rise") if loom.rise_lamms == "lower" else ("rise", "sink"),
    }
    found = table(drawing)
    assert set(found) == {each.number for each in loom.tied}
    for each in loom.tied:
        lists, cords = found[each.number]
        assert cords == each.cords
        for way, shafts in zip(ways[loom.action], lists, strict=False):
            assert shafts == [str(shaft) for shaft in getattr(each, way)] or (
                shafts == ["none"] and not getattr(each, way)
            )


def words_on(drawing):
    return [
        mark.text for page in drawing.pages for mark in flat(page.marks) if isinstance(mark, Text)
    ]


def check_apart(picture):
    """No cord comes near another, a lamm that it is not tied to, or a number that is not its own."""
    lines = [cord.line for cord in picture.cords]
    for one, other in combinations(lines, 2):
        assert abs(one.x1 - other.x1) >= LEAST_BETWEEN_CORDS
    for line in lines:
        top, bottom = sorted((line.y1, line.y2))
        for piece in picture.pieces:
            middle = piece.y + piece.height / 2
            if top + 0.01 < middle < bottom:
                left, right = line.x1 - line.width / 2, line.x1 + line.width / 2
                assert right + LEAST_GAP <= piece.x or piece.x + piece.width <= left - LEAST_GAP
    for line in picture.lines:
        top, bottom = sorted((line.y1, line.y2))
        box = line.x1 - line.width / 2, top, line.x1 + line.width / 2, bottom
        for text in picture.texts:
            assert not overlap(box, text_box(text)), (line, text)


def check_order(picture, loom):
    """Lamms from the top down hang from the back to the front; treadles lie as they are numbered."""
    sets = defaultdict(list)
    for _, lamms, shaft in picture.rows:
        sets[lamms].append(shaft)
    assert len(sets) == (2 if loom.action == "countermarch" else 1)
    for shafts in sets.values():
        assert shafts == sorted(shafts, reverse=loom.shaft_1 == "front")
    # Free treadles that are drawn as one lie at the same place.
    right = loom.treadle_1 == "right"
    lying = sorted(
        picture.treadles + picture.free, key=lambda each: (each[0], -each[1] if right else each[1])
    )
    numbers = [treadle for _, treadle in lying]
    assert numbers == sorted(numbers, reverse=right)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("action", LOOMS)
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_worked_specs_are_read_back_on_five_looms(path, action, paper):
    project = on_loom(path, action)
    drawing, frame = drawing_of(project, paper)
    if project.loom.tied:
        check_page_marks(project, drawing, frame)
    else:
        check_hand_raised(project, drawing, frame)


def check_hand_raised(project, drawing, frame):
    """Read what is black on the pictures: levers of a table loom, pegs of a dobby."""
    for page in drawing.pages:
        assert faults(page, frame) == []
    figures = [
        mark for page in drawing.pages for mark in unparted(page.marks) if isinstance(mark, Figure)
    ]
    lifts = [frozenset(lift) for figure in figures for lift in read_black(figure)]
    assert list(dict.fromkeys(lifts)) == list(dict.fromkeys(project.draft.lifts))


def read_black(figure):
    """Return the shafts of black discs: by the number in them, or by their place among holes."""
    discs = [mark for mark in flat(figure.marks) if isinstance(mark, Disc)]
    texts = [mark for mark in flat(figure.marks) if isinstance(mark, Text)]
    if not texts:
        rows = defaultdict(list)
        for disc in discs:
            rows[round(disc.y, 3)].append(disc)
        for _, row in sorted(rows.items()):
            row.sort(key=lambda disc: disc.x)
            yield {at for at, disc in enumerate(row, start=1) if disc.fill is not None}
        return
    up = set()
    for text in texts:
        (disc,) = (
            each
            for each in discs
            if abs(each.x - text.left - text.width / 2) < 0.01 and abs(each.y - text.y) < 3
        )
        if disc.fill == text.colour:
            raise AssertionError("a number cannot be read")
        if disc.fill != "#ffffff":
            up.add(int(text.text))
    lower = {disc.y for disc in discs if disc.fill == "#ffffff"}
    upper = {disc.y for disc in discs if disc.fill != "#ffffff"}
    assert not lower & upper
    yield up


PLAIN = project_of()


def loom_of(action, shafts, ties, treadles, **more):
    """Return a project on a loom with those ties, each treadle pressed alone, one after another.

    `ties` are the shafts that rise. What cloth that makes is of no matter for the picture, so it is
    not worked out: the cloth of the project is a plain one on two shafts.
    """
    every = set(range(1, shafts + 1))
    tied = []
    for number, tie in ties.items():
        rise = tuple(sorted(tie)) if action != "sinking" else ()
        sink = tuple(sorted(every - tie)) if action != "rising" else ()
        tied.append(Treadle(number, rise, sink))
    loom = replace(
        PLAIN.loom,
        heddles=(1,) * shafts,
        action=action,
        shafts=shafts,
        treadles=treadles,
        tied=tuple(tied),
        **more,
    )
    ends, picks = len(PLAIN.draft.threading), len(PLAIN.draft.lifts)
    sheds = [frozenset({number}) for number in ties]
    draft = replace(
        PLAIN.draft,
        shafts=shafts,
        threading=tuple(end % 2 + 1 for end in range(ends)),
        lifts=tuple(frozenset({pick % 2 + 1}) for pick in range(picks)),
        treadling=tuple(sheds),
    )
    woven = replace(PLAIN.weft.sections[0], sheds=Sequence(tuple(map(Run, sheds))))
    weft = replace(PLAIN.weft, sections=(woven,))
    return replace(PLAIN, loom=loom, draft=draft, weft=weft)


@st.composite
def looms(draw):
    shafts = draw(st.integers(2, 24))
    treadles = draw(st.integers(1, 24))
    used = draw(st.sets(st.integers(1, treadles), min_size=1, max_size=treadles))
    tie = st.sets(st.integers(1, shafts), min_size=1, max_size=shafts - 1)
    ties = {number: draw(tie) for number in sorted(used)}
    more = {
        "treadles": treadles,
        "shaft_1": draw(st.sampled_from(["front", "back"])),
        "treadle_1": draw(st.sampled_from(["left", "right"])),
        "rise_lamms": draw(st.sampled_from(["lower", "upper"])),
    }
    action = draw(st.sampled_from(["rising", "sinking", "countermarch"]))
    return loom_of(action, shafts, ties, **more)


@settings(max_examples=60, deadline=None)
@given(looms(), st.sampled_from(PAPERS), st.sampled_from(["portrait", "landscape"]))
def test_any_tie_up_is_read_back_from_its_pictures(project, paper, orientation):
    drawing, frame = drawing_of(project, paper, orientation)
    check_page_marks(project, drawing, frame)


@st.composite
def hand_raised(draw):
    """Return a project that raises any lifts on a loom without treadles."""
    action = draw(st.sampled_from(["table", "direct", "dobby", "rigid heddle"]))
    shafts = draw(st.integers(2, 40))
    lift = st.frozensets(st.integers(1, shafts), max_size=shafts)
    repeat = draw(st.lists(lift, min_size=1, max_size=60))
    lifts = tuple(repeat * draw(st.integers(1, 3)))
    loom = replace(
        PLAIN.loom,
        action=action,
        shafts=shafts,
        heddles=(1,) * shafts,
        tied=(),
        picks_a_bar=draw(st.integers(1, 2)),
        least_bars=draw(st.sampled_from([1, 8, 30])),
    )
    sheds = Sequence(tuple(map(Run, lifts)))
    woven = replace(PLAIN.weft.sections[0], sheds=sheds, picks=len(lifts), by_treadle=False)
    draft = replace(PLAIN.draft, shafts=shafts, lifts=lifts, treadling=())
    weft = replace(PLAIN.weft, sections=(woven,))
    return replace(PLAIN, loom=loom, draft=draft, weft=weft)


@settings(max_examples=60, deadline=None)
@given(hand_raised(), st.sampled_from(PAPERS), st.sampled_from(["portrait", "landscape"]))
def test_any_lifts_are_read_back_from_levers_and_pegs(project, paper, orientation):
    drawing, frame = drawing_of(project, paper, orientation)
    if project.loom.action in ("table", "dobby"):
        check_hand_raised(project, drawing, frame)
    for page in drawing.pages:
        assert faults(page, frame) == []


def cyclic(shafts, treadles):
    """Ties that all differ: half the shafts, each treadle one shaft on."""
    half = range(shafts // 2)
    return {n: {(n + step) % shafts + 1 for step in half} for n in range(1, treadles + 1)}


@pytest.mark.parametrize("action", ["rising", "sinking", "countermarch"])
@pytest.mark.parametrize("paper", PAPERS)
def test_a_loom_of_four_shafts_and_six_treadles_is_one_picture(paper, action):
    project = loom_of(action, 4, cyclic(4, 6), treadles=6)
    drawing, _ = drawing_of(project, paper)
    assert len(pictures(drawing)) == (2 if paper == "A5" and action == "countermarch" else 1)


def test_a_treadle_is_in_one_picture_where_the_page_is_high_enough():
    project = loom_of("rising", 12, cyclic(12, 10), treadles=10)
    drawing, _ = drawing_of(project, "A4")
    found = pictures(drawing)
    assert all(len(picture.rows) == 12 for picture in found)
    treadles = [treadle for picture in found for _, treadle in picture.treadles]
    assert treadles == list(range(1, 11))


def test_many_lamms_are_drawn_in_parts_that_are_named():
    project = loom_of("countermarch", 20, cyclic(20, 3), treadles=3)
    drawing, frame = drawing_of(project, "A5", "portrait")
    check_page_marks(project, drawing, frame)
    assert pictures(drawing)
    words = words_on(drawing)
    assert any("of 20 cords" in word for word in words)
    assert any(word.startswith("Treadle") and "· shaft" in word for word in words)


@pytest.mark.parametrize(("shafts", "treadles"), [(16, 14), (8, 10), (24, 24)])
@pytest.mark.parametrize("paper", PAPERS)
def test_the_smallest_paper_that_draws_the_cords_is_named(paper, shafts, treadles):
    """Look for it by printing on every paper, from the smallest on."""
    project = loom_of("countermarch", shafts, cyclic(shafts, treadles), treadles=treadles)
    drawing, _ = drawing_of(project, paper)
    if pictures(drawing):
        return
    words = " ".join(words_on(drawing))
    # The project is written in inches, so Letter comes before A4.
    for size in ("A5", "Letter", "A4", "A3"):
        for orientation in ("portrait", "landscape"):
            if pictures(drawing_of(project, size, orientation)[0]):
                assert f"{size} {orientation} draws them" in words
                return
    assert "Neither" in words


def test_treadles_of_few_cords_keep_no_places_for_the_other_shafts():
    """Eight treadles of two cords each on eight shafts are one picture, all cords in it."""
    project = project_of(**SKELETON)
    drawing, frame = drawing_of(project, "A4")
    check_page_marks(project, drawing, frame)
    assert len(pictures(drawing)) == 1


def test_two_layers_on_six_treadles_are_one_picture_on_a5():
    path = next(path for path in SPECS if path.stem == "two-layer-sampler")
    project = on_loom(path, "rising", treadles=6)
    drawing, frame = drawing_of(project, "A5")
    check_page_marks(project, drawing, frame)
    assert len(pictures(drawing)) == 1


def test_many_free_treadles_take_no_page_of_their_own():
    project = loom_of("rising", 8, cyclic(8, 5), treadles=24)
    for paper in PAPERS:
        drawing, frame = drawing_of(project, paper)
        check_page_marks(project, drawing, frame)
        assert all(picture.cords for picture in pictures(drawing))


@pytest.mark.parametrize("action", LOOMS)
@pytest.mark.parametrize("paper", ["114 x 203 mm", "120 x 131 mm", "5 x 8 in"])
def test_narrow_paper_is_good_to_look_at_too(paper, action):
    project = on_loom(next(path for path in SPECS if path.stem == "triple-width-banner"), action)
    drawing, frame = drawing_of(project, paper)
    for page in drawing.pages:
        assert faults(page, frame) == []


def test_paper_too_small_for_a_picture_still_has_the_table():
    project = loom_of("countermarch", 4, cyclic(4, 4), treadles=4)
    frame = frame_of(project, "120 x 131 mm")
    drawing = SHEETS[SHEET](project, frame)
    assert pictures(drawing) == []
    for page in drawing.pages:
        assert faults(page, frame) == []
    words = " ".join(
        mark.text for page in drawing.pages for mark in flat(page.marks) if isinstance(mark, Text)
    )
    assert "No picture: on this paper" in words
    assert "A5 portrait draws them" in words
    assert "16 cords in all" in words


def words_of(project, paper="A4"):
    drawing, _ = drawing_of(project, paper)
    return " ".join(words_on(drawing))


def test_a_countermarch_is_confirmed_and_a_torn_one_is_not_to_be_woven():
    project = loom_of("countermarch", 4, cyclic(4, 4), treadles=4)
    words = words_of(project)
    assert "Confirm on your loom before tying all" in words
    assert "every shaft is moved, and none both ways" in words
    torn = (Treadle(1, (1, 2), (2, 3, 4)), *project.loom.tied[1:])
    words = words_of(replace(project, loom=replace(project.loom, tied=torn)))
    assert "none both ways" not in words
    assert "Do not weave this" in words


def test_how_sure_presses_of_two_treadles_are_is_said_as_it_is_known():
    spec = next(path for path in SPECS if path.stem == "two-layer-sampler")
    project = on_loom(spec, "rising", treadles=6)
    for proved, said in (("easiest", "proved"), ("best found", "before it was sure")):
        words = words_of(replace(project, loom=replace(project.loom, proved=proved)))
        assert "Treadles pressed together" in words
        assert said in words
    other = words_of(replace(project, loom=replace(project.loom, proved="best found")))
    assert "proved" not in other


def test_the_boxes_to_tick_are_two_a_treadle():
    project = loom_of("rising", 4, cyclic(4, 4), treadles=6)
    drawing, _ = drawing_of(project, "A4")
    boxes = [
        mark
        for page in drawing.pages
        for mark in flat(page.marks)
        if isinstance(mark, Box) and mark.width == mark.height == 5.0
    ]
    assert len(boxes) == 8
    lefts = {round(mark_box(box)[0], 3) for box in boxes}
    assert len(lefts) == 2


# Twelve lifts on eight treadles: every treadle is only ever pressed with another.
SKELETON = {
    "loom": {"action": "sinking", "shafts": "8", "treadles": "8"},
    "draft": {
        "threading": "(1 2 3 4 5 6 7 8) to fill",
        "lifts": "1 2 5 6; 2 3 6 7; 3 4 5 6; 1 4 6 7; 1 2 6 7; 2 3 7 8; 3 4 6 7; 1 4 7 8; "
        "1 2 7 8; 2 3 5 8; 3 4 7 8; 1 4 5 8",
    },
    "weft_order": "natural",
}


def test_a_treadle_that_is_never_pressed_alone_says_with_which():
    project = project_of(**SKELETON)
    assert all(len(shed) > 1 for shed in project.draft.treadling)
    words = words_of(project)
    for number in range(1, 9):
        others = {each for shed in project.draft.treadling if number in shed for each in shed}
        assert f"only with {', '.join(map(str, sorted(others - {number})))}" in words


@pytest.mark.parametrize("paper", [*PAPERS, "120 x 131 mm"])
@pytest.mark.parametrize("action", LOOMS)
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_every_card_has_a_line_for_who_checked_it(path, action, paper):
    assert words_of(on_loom(path, action), paper).count("checked by") == 1


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", ["kitchen-towels", "double-width-throw", "twill-scarf"])
def test_the_usual_card_is_one_page(name, paper):
    """Picture, table and, with more than two treadles, the orders for the feet."""
    project = on_loom(next(path for path in SPECS if path.stem == name), "rising")
    drawing, _ = drawing_of(project, paper)
    assert len(drawing.pages) == 1
    assert len(pictures(drawing)) == 1
    words = " ".join(words_on(drawing))
    assert ("For the feet" in words) == (len(project.loom.tied) > 2)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_equal_orders_for_the_feet_are_one_row(path):
    walk = tie_up_card(on_loom(path, "rising")).walk
    words = words_on(drawing_of(on_loom(path, "rising"), "A4")[0])
    if len(walk.left_foot + walk.right_foot) < 3:
        assert "For the feet" not in words
        return
    orders = [word for word in words if " | " in word and word[0].isdigit()]
    assert len(set(orders)) == len(orders)
    for each in walk.offered:
        feet = each.places[: each.left], each.places[each.left :]
        assert "  |  ".join("  ".join(map(str, foot)) for foot in feet) in orders


def test_pressed_together_each_order_says_how_many_presses_join_both_feet():
    project = project_of(**SKELETON)
    walk = tie_up_card(project).walk
    together = {shed for shed in project.draft.treadling if len(shed) > 1}
    words = words_on(drawing_of(project, "A4")[0])
    assert "left + right" in words
    assert "changes" not in words
    for each in walk.offered:
        left = set(each.places[: each.left])
        joined = sum(bool(shed & left) and bool(shed - left) for shed in together)
        assert each.joined == joined
        assert f"{joined} of {len(together)}" in words
