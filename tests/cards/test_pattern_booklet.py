"""What the pattern booklet says: the figures of the plan, whatever the project."""

import re

import pytest

from cards.glossary import TERMS, terms_used
from cards.pattern_booklet import CARDS, pattern_booklet
from cards.pattern_figures import short_figures
from cards.pattern_steps import finishing_of, steps_of
from cards.plan_json import plan_data
from tests.project.worked import project_of
from tests.worked_specs import FOLDER, SPECS, worked_out


def words_of(project):
    return " ".join(" ".join(stage.steps) for stage in steps_of(project))


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_every_figure_of_the_steps_is_one_of_the_plan(path):
    outcome = worked_out(path)
    plan, project = plan_data(outcome), outcome.project
    words = words_of(project)
    assert f"Wind {plan['warp']['ends']} ends" in words
    assert f"{plan['warp']['ends']} ends in all" in words
    metric = plan["units"] == "metric"
    metres = f"{plan['warp']['length_mm'] / 1000:.2f} m"
    assert metres in words
    for shaft, heddles in enumerate(plan["loom"]["heddles"], start=1):
        assert f"{heddles} on shaft {shaft}" in words
    centimetres = f"{plan['warp']['width_in_reed_mm'] / 10:.1f} cm"
    assert centimetres in words
    assert metric or f"({metres})" in words
    kinds = plan["pieces"] or [plan]
    for kind in kinds:
        for section in kind["weft"]["sections"]:
            assert f"{section['picks']} picks of" in words
            assert f"{section['length_mm'] / 10:.1f} cm" in words
        assert f"At pick {kind['weft']['picks_per_piece']} the tape" in words


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_calculation_in_short_is_the_plan(path):
    outcome = worked_out(path)
    plan, project = plan_data(outcome), outcome.project
    found = {each.name: each for each in short_figures(project)}
    both = {name: {each.value, each.other} for name, each in found.items()}
    warp, sley = plan["warp"], plan["sley"]
    assert found["ends"].value == str(warp["ends"])
    assert f"{warp['width_in_reed_mm'] / 10:.1f} cm" in both["width in the reed"]
    assert f"{warp['length_mm'] / 1000:.2f} m" in both["warp length"]
    if sley:
        assert found["ends to a dent"].value == "-".join(map(str, sley["pattern"]))
    assert {each["name"] for each in plan["allowances"] if each["value"]} >= {"margin on the warp"}
    assert found["margin on the warp"].origin == "assumed"
    if project.sett.layers == 1:
        dense = {each.origin for name, each in found.items() if re.match("sett|picks($|,)", name)}
        assert dense == {"given"}
    else:  # two or more times what was given of one
        assert found["sett, all layers together"].origin == ""
    for allowance in plan["allowances"]:
        if allowance["name"] in {"draw-in", "take-up of the warp"}:
            each = found[allowance["name"]]
            assert each.value == f"{allowance['value'] * 100:.2f}".rstrip("0").rstrip(".") + " %"
            assert each.origin == allowance["origin"]


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_yarn_is_that_of_the_plan(path):
    outcome = worked_out(path)
    plan, project = plan_data(outcome), outcome.project
    booklet = pattern_booklet(project)
    for needed, yarn in zip(booklet.yarns, plan["yarns"], strict=True):
        assert needed.yarn.key == yarn["yarn"]
        assert f"{round(yarn['length_mm'] / 1000)} m" in needed.needed.replace(" ", " ")
        if yarn["packages"]:
            assert needed.buy.startswith(f"{yarn['packages']} × ")


ACTIONS = ("rising", "sinking", "countermarch", "table", "direct", "dobby", "rigid heddle")


@pytest.mark.parametrize("action", ACTIONS)
def test_every_loom_has_steps_that_suit_it(action):
    loom = {"action": action, "shafts": "4", "reed": "12 per in"}
    if action == "rigid heddle":
        loom["shafts"] = "2"
    draft = None
    if action == "rigid heddle":
        draft = {"threading": "(1 2) to fill", "tie_up": {"1": "1", "2": "2"}, "treadling": "1 2"}
    project = project_of(loom=loom, **({"draft": draft} if draft else {}))
    names = [stage.name for stage in steps_of(project)]
    tied = action in {"rising", "sinking", "countermarch", "counterbalance"}
    assert ("Tie up the treadles" in names) == tied
    assert ("cords" in words_of(project)) == tied
    assert all(stage.steps for stage in steps_of(project))


def test_every_stage_of_the_work_knows_its_cards():
    booklet = pattern_booklet(
        project_of(loom={"action": "rising", "shafts": "4", "treadles": "6", "reed": "12 per in"})
    )
    needed = {group.name: group.cards for group in booklet.groups}
    assert needed["Wind the warp"] == ("warping-card",)
    assert needed["Beam the warp"] == ("warping-card",)
    assert needed["Thread the heddles"] == ("heddle-count", "threading-chart")
    assert needed["Sley the reed"] == ("sley-card",)
    assert needed["Tie up the treadles"] == ("tie-up-card",)
    assert needed["Weave the cloth"] == ("pick-tally",)
    assert {card for cards in needed.values() for card in cards} == set(CARDS)


def test_a_warp_that_is_wound_is_not_wound_again():
    project = project_of(given={"warp": "wound", "ends": "648", "warp_length": "4 yd"})
    assert "648 ends is wound already" in words_of(project)
    assert "Wind 648" not in words_of(project)
    assert not any("warping board" in each for each in pattern_booklet(project).materials)


def test_hem_and_fringe_come_into_the_finishing():
    cloth = {"width": "27 in", "length": "72 in"}
    hemmed = " ".join(finishing_of(project_of(cloth=cloth | {"hem": "1 in"})))
    assert "1 in (2.5 cm) of cloth" in hemmed
    assert "fringe" not in hemmed
    fringed = " ".join(finishing_of(project_of(cloth=cloth | {"fringe": {"length": "5 in"}})))
    assert "fringes, 5 in (12.7 cm) long" in fringed
    assert "hem" not in fringed


def test_pieces_are_counted():
    several = project_of(cloth={"width": "27 in", "length": "30 in", "pieces": "3"})
    assert "Weave 3 pieces in all." in words_of(several)
    assert "Cut the pieces apart." in finishing_of(several)
    assert "pieces in all" not in words_of(project_of())


def test_what_the_author_wrote_stands_first():
    project = project_of(
        pattern={
            "aim": "A first plain cloth of {warp.ends} ends.",
            "skills": ["even beating"],
            "materials": ["a loom"],
            "steps": [{"stage": "Winding", "do": ["Wind {warp.ends} ends."]}],
            "finishing": ["Wash it warm."],
            "cautions": ["Mind the kettle."],
        }
    )
    booklet = pattern_booklet(project)
    assert booklet.aim == f"A first plain cloth of {project.warp.ends} ends."
    assert booklet.skills == ("even beating",)
    assert booklet.materials == ("a loom",)
    (group,) = booklet.groups
    assert (group.name, group.cards) == ("Winding", ("warping-card",))
    assert booklet.finishing == ("Wash it warm.",)
    assert "Mind the kettle." in [each.words for each in booklet.cautions]


def test_words_are_found_singular_and_plural_and_no_others():
    assert [term.word for term in terms_used(["Thread 12 ends; two picks of weft."])] == [
        "end", "pick", "warp", "weft"
    ]  # fmt: skip
    found = {term.word for term in terms_used(["in the end she sent a friend to the cross-roads"])}
    assert not found & {"end", "cross", "fold"}


def test_an_explanation_uses_no_word_that_is_left_unexplained():
    for term in TERMS:
        explained = {each.word for each in terms_used([term.word])}
        for other in TERMS:
            if other.used_in(term.meaning):
                assert other.word in explained | {each.word for each in terms_used([term.meaning])}


def test_no_two_words_are_alike_and_each_finds_itself():
    words = [term.word for term in TERMS]
    assert len(set(words)) == len(words)
    for term in TERMS:
        assert term.meaning.endswith(".")
        assert not re.search(rf"^{re.escape(term.word)}\b", term.meaning, re.IGNORECASE)


def test_the_units_of_the_project_come_first():
    imperial, metric = project_of(), project_of(units="metric")
    assert re.search(r"guide string of [\d ½¼¾⅛⅜⅝⅞.]+ yd \([\d.]+ m\)", words_of(imperial))
    assert re.search(r"guide string of [\d.]+ m \([\d ½¼¾⅛⅜⅝⅞.]+ yd\)", words_of(metric))


def test_kinds_of_pieces_that_differ_have_figures_of_their_own():
    """What the spec says of its linen towel: 7 picks to the cm, and it shrinks by 6 %."""
    path = next(path for path in SPECS if path.stem == "four-towels")
    found = {each.name: each.value for each in short_figures(worked_out(path).project)}
    assert found["picks, straight twill"] == found["picks, point twill"] == "8 per cm"
    assert found["picks, linen weft"] == "7 per cm"
    assert found["shrinkage in length, linen weft"] == "6 %"
    assert found["shrinkage in length, straight twill"] == "8 %"
    assert "shrinkage in length" not in found
    assert "take-up of the warp" in found


def test_the_fringe_is_left_after_the_sample_is_cut_off():
    """The order of the work is common practice, no source."""
    path = next(path for path in SPECS if path.stem == "double-width-throw")
    words = words_of(worked_out(path).project)
    assert 0 < words.index("Weave a header") < words.index("Weave a sample") < words.index("fringe")


def test_nothing_is_woven_to_cut_by_behind_the_last_piece():
    project = worked_out(FOLDER / "four-towels.yaml").project
    told = {stage.name: " ".join(stage.steps) for stage in steps_of(project)}
    assert "to cut by" in told["Weave: point twill"]
    assert "to cut by" not in told["Weave: linen weft"]
