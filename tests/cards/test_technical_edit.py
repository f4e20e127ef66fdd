"""The technical edit: numbers in a text that contradict the plan, and few that do not."""

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.edit_rules import Held
from cards.named_figures import plan_names
from cards.plan_facts import plan_facts
from cards.project import work_out_on_all
from cards.spec import read_spec
from cards.technical_edit import contradictions
from layouts.worked import work_out_spec
from tests.commands import TOWELS
from tests.worked_specs import FOLDER, SPECS

UNITS = pint.UnitRegistry()  # the source of every conversion here


def held(path, about=""):
    reading = read_spec(path)
    outcome = work_out_on_all(reading)
    facts = plan_facts((outcome.project, *outcome.others), reading.spec)
    return Held(outcome.project, plan_names(outcome.project), facts, about)


@pytest.fixture(scope="module")
def towels():
    # 436 ends, 4.00 m, 54.5 cm in the reed, 8 per cm, 2 per dent of 40 per 10 cm, 4 bouts; three
    # towels of 664 picks, 47.1 cm wide: hems of 36 picks, borders of 76; 1, 2 and 1 packages.
    return held(TOWELS)


def told(text, plan):
    return [
        (text[each.start :].startswith(each.written.split()[0]), each.written, each.told[0].name)
        for each in contradictions(text, plan)
    ]


@pytest.mark.parametrize(
    ("text", "written", "name"),
    [
        ("Wind 240 ends.", "240 ends", "warp.ends"),
        ("Wind a warp of 248 ends on the board.", "248 ends", "warp.ends"),
        ("The warp has 440 ends.", "440 ends", "warp.ends"),
        ("1,248 ends in total", "1,248 ends", "warp.ends"),
        ("Thread all 432 ends.", "432 ends", "warp.ends"),
        ("two hundred and forty ends in all", "two hundred and forty ends", "warp.ends"),
        ("A 440-end warp is wound.", "440-end", "warp.ends"),
        ("Wind 200 ends of slate.", "200 ends", "yarn.slate.ends"),
        ("Wind 240 ends of cotton, slate.", "240 ends", "yarn.slate.ends"),
        ("Make a warp 3 m long.", "3 m", "warp.length"),
        ("Wind {warp.ends} ends, 3.5 metres long.", "3.5 metres", "warp.length"),
        ("Use a 3 m warp.", "3 m", "warp.length"),
        ("A 3-metre-long warp will do.", "3-metre", "warp.length"),
        ("Wind a 5 1/2-yard warp.", "5 1/2-yard", "warp.length"),
        ("The warp length is 5 yd.", "5 yd", "warp.length"),
        ("Measure a guide string of 3.00 m.", "3.00 m", "warp.length"),
        ("The width in the reed is 60 cm.", "60 cm", "warp.width_in_reed"),
        ("It is 25 in wide in the reed.", "25 in", "warp.width_in_reed"),
        ("Sley 2 per dent in a 50 reed.", "50 reed", "reed"),
        ("Use a 12-dent reed.", "12-dent reed", "reed"),
        ("a reed of 50 per 10 cm", "50 per 10 cm", "reed"),
        ("Sley 3 per dent.", "3 per dent", "sley.pattern"),
        ("Sley three ends in every dent.", "three ends in every dent", "sley.pattern"),
        ("The sett is 6 per cm.", "6 per cm", "sett"),
        ("a sett of 15 epi", "15 epi", "sett"),
        ("Beat 10 picks per cm.", "10 picks per cm", "picks"),
        ("Weave at 24 ppi.", "24 ppi", "picks"),
        ("It needs 8 shafts.", "8 shafts", "draft.shafts"),
        ("An eight-shaft weave.", "eight-shaft", "draft.shafts"),
        ("It suits a 2-shaft loom.", "2-shaft", "draft.shafts"),
        ("Tie up 4 treadles.", "4 treadles", "loom.tied"),
        ("Wind it in 6 bouts.", "6 bouts", "warp.bouts"),
        ("Buy 4 cones of natural.", "4 cones", "yarn.natural.packages"),
        ("Buy 7 skeins.", "7 skeins", "yarn.slate.packages"),
        ("Buy 200 g of madder.", "200 g", "yarn.madder.mass"),
        ("Weave 12 cm of the first hem.", "12 cm", "section.first_hem.length"),
        ("Weave the first hem, 50 picks.", "50 picks", "section.first_hem.picks"),
        ("Weave the border: 90 picks.", "90 picks", "section.border.picks"),
        ("The finished width is 60 cm.", "60 cm", "cloth.width"),
        ("700 picks in each piece", "700 picks", "weft.picks_each"),
    ],
)
def test_a_number_that_contradicts_the_plan_is_told(text, written, name, towels):
    assert told(text, towels) == [(True, written, name)]


RIGHT = """
    Wind 436 ends. Thread all four hundred and thirty-six ends. A 436-end warp, 4 m long.
    A warp of 4 m, or 4.37 yd; a guide string of 4.00 m. It is 21 1/2 in wide in the reed.
    The cloth is 54.5 cm wide in the reed and 50.7 cm off the loom.
    Sley 2 per dent in a 40 reed. Sley two to a dent. Use a 10-dent reed, or one of 4 per cm.
    The sett is 8 per cm, or 20 epi. Beat 8 picks per cm. Weave at 20 ppi.
    A 4-shaft weave; it needs 4 shafts and 2 treadles.
    Buy 2 cones of natural. Buy 500 g of natural, and 1 cone of slate.
    Wind 24 ends of slate, then 12 natural, 4 madder. Wind 128 ends of slate in all.
    Weave the first hem, 36 picks. Weave 4 cm for the hem. Weave the hem of 4.5 cm under tension.
    The border has 76 picks, and with the hem there are 112 picks. 664 picks in a piece.
    A towel 47 cm wide. The finished width is 47 cm. Shaft 1 has 109 ends.
    The sample is 30 cm long; weave 240 picks. Wind 108 ends in the first bout.
"""


def test_numbers_that_agree_are_not_told(towels):
    assert told(RIGHT, towels) == []


OTHER = """
    Tie in groups of 10 ends, every 20 picks. Rest for 2 hours. Leave 3 mm. Repeat 4 times.
    Weave 2 picks of madder to mark the cut. Weave 24 picks of slate in the border.
    Advance the warp every 5 cm, and 5 cm at a time. Advance the warp 3 cm. Leave a tail of 50 cm.
    Turn the hem twice: 1 cm, then 3 cm. Cut 4 pieces of string 30 cm long. Use 2 m of waste yarn.
    Thread 4 ends at a time. Lift 2 shafts at once. Press 2 treadles together. Knot 8 ends together.
    Put 10 ends in each raddle group. Tie every 16 ends. The first 24 ends are slate.
    Rinse in 10 l of water at 40 °C for 20 minutes. Iron at 150 degrees. Wash in 5 litres.
    You need about 2 m of table. Take a ball of 50 g. Cut the cloth 2 cm from the hem.
    With 6 treadles there are 4 to spare. A wider towel of 60 cm would need 560 ends.
    If you weave 4 towels, wind 5 m of warp. Weave 10 picks with scrap yarn as a header.
    Weave the body until 60 cm. Two shuttles are used. No. 8/2 cotton will do.
    Use 3 ends of waste yarn to tie on. Weave two more picks. Measure 10 cm at three places.
    Weave 2.5 cm of waste yarn. Hemstitch over 4 ends and 2 picks. It loses 8 %.
    Step on treadle 1, then 2, 12 times. Take 1 m of string for every bout of 100 ends.
    Weave 12 in the first hem. It is 54 in the reed. 40 in total are enough.
    Draw it through the reed 3 times. Leave 2 dents empty. Warp with two ends together.
    Rather than 300 ends wind {warp.ends} ends. {{Wind 300 times}}. Each layer uses 2 shafts.
    They are finished when 10 cm long swatches no longer shrink. Try 7 ends per cm for a softer hand.
    On an 8-shaft loom use the front four shafts. Wind 220 ends, then rest your arms.
    Wind 300 ends on the first day. Weave 300 picks a day. Warp the loom with the 3 m that you have.
    Beam with 3 sticks, one every 30 cm. The header is 5 cm, 10 picks of rags. Allow 70 cm of waste.
    Weave 40 picks between the markers of the first hem again. Sew with 3 stitches per cm.
    If you own an 8-dent reed, see the chart. You can weave it on 4 or more shafts.
    Sley 3 per dent at the selvedge. Finished 47 × 66 cm. Crossing 12 ends makes one pattern block.
"""


def test_numbers_that_are_no_totals_are_not_told(towels):
    assert told(OTHER, towels) == []


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_what_is_no_total_is_none_in_any_plan(path):
    # Patterns of one spec are read for others: sections, widths and shafts are others there.
    plan = held(path)
    lines = [each for each in OTHER.splitlines() if "hem" not in each and "border" not in each]
    assert told("\n".join(lines), plan) == []


def test_the_stage_says_which_section_is_meant():
    plan = held(TOWELS, "weaving the first hem")
    assert told("Weave 12 cm.", plan) == [(True, "12 cm", "section.first_hem.length")]
    assert told("Weave 4 cm.", plan) == []
    assert told("Weave 12 cm.", held(TOWELS, "weaving")) == []


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_worked_specs_contradict_nothing(path):
    codes = [each.code for each in work_out_spec(str(path), None).findings]
    assert "text-contradicts-plan" not in codes


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_what_the_plan_prints_agrees_with_it(path):
    plan = held(path)
    project = plan.project
    names = plan.names
    texts = [
        f"Wind a warp of {names.text('warp.ends')} ends, {names.text('warp.length')} long.",
        f"The warp length is {names.text('warp.length.both')}.",
        f"It is {names.text('warp.width_in_reed')} wide in the reed.",
        f"It needs {names.text('draft.shafts')} shafts.",
        f"The sett is {names.text('sett')}.",
    ]
    if project.sleying is not None:
        texts.append(
            f"Sley {project.sleying.pattern[0]} per dent in a reed of {names.text('reed')}."
        )
    texts += [f"Weave {each.name}, {each.picks} picks." for each in project.weft.sections]
    texts += [
        f"Buy {total.need.packages} packages of {total.yarn.key}."
        for total in project.totals
        if total.need.packages
    ]
    assert [each for text in texts for each in told(text, plan)] == []


@pytest.mark.parametrize("unit", ["m", "cm", "yd", "in"])
def test_units_agree_with_a_library_for_units(unit, towels):
    length = towels.project.warp.length
    right = UNITS.Quantity(length, "mm").to("inch" if unit == "in" else unit).magnitude
    assert told(f"The warp length is {right:.2f} {unit}.", towels) == []
    assert [name for *_, name in told(f"The warp length is {right * 1.1:.2f} {unit}.", towels)] == [
        "warp.length"
    ]


def test_a_number_may_agree_with_any_loom_of_the_spec():
    plan = held(FOLDER / "class-mat.yaml")
    shafts = sorted(plan.facts.shafts)
    assert len(shafts) > 1
    for number in shafts:
        assert told(f"It needs {number} shafts.", plan) == []
    assert told("It needs 32 shafts.", plan)


WORDS = (
    "wind warp of 240 ends picks weave 3 m the hem , . in total {warp.ends} reed 12 cm buy skeins "
    "sley per dent slate ½ 1/2 two hundred and { } finished width"
)


@given(st.lists(st.sampled_from(WORDS.split())).map(" ".join) | st.text())
def test_any_text_is_held_against_the_plan(towels, text):
    for each in contradictions(text, towels):
        assert each.told
        assert text[each.start] not in "{} "
