"""The sett of whole projects against the closest that weave and yarn allow."""

import numpy as np
import pytest

from tests.project.worked import codes, outcome_of, project_of

# 8/2 cotton: 26 to the inch plain, and 34 to 35 in a 2/2 twill (medievaltextiles.org, ash page).
PLAIN, TWILL = 26, 34.8
TWILL_DRAFT = {
    "threading": "(1 2 3 4) to fill",
    "tie_up": {"1": "1 2", "2": "2 3", "3": "3 4", "4": "1 4"},
    "treadling": "1 2 3 4",
}
IN = 25.4


def layers_of(**changes):
    return project_of(**changes).sett_advice.layers


def test_plain_cloth():
    (layer,) = layers_of(sett="20 per in", picks="18 per in")
    assert layer.ends.most * IN == pytest.approx(PLAIN, abs=0.5)
    assert layer.ends.share == pytest.approx(20 / 26.08, abs=1e-3)
    assert layer.picks.share == pytest.approx(18 / 26.08, abs=2e-3)
    assert (layer.ends.interlacing.threads, layer.ends.interlacing.intersections) == (2, 2)
    # Taken as threads per cm and the root of tex, over ten.
    assert layer.ends.cover == pytest.approx(20 / 2.54 * np.sqrt(147.635) / 10, rel=1e-4)


def test_a_twill_may_be_closer():
    (layer,) = layers_of(draft=TWILL_DRAFT)
    assert layer.ends.most * IN == pytest.approx(TWILL, abs=0.5)


@pytest.mark.parametrize("join", ["left", "tube", "none"])
def test_layers_are_judged_one_by_one(join):
    built = {"layers": "2", "join": join, "warps": "natural", "wefts": "natural"}
    layers = layers_of(draft={"double_weave": built}, sett="20 per in", picks="20 per in")
    assert [layer.layer for layer in layers] == [0, 1]
    for layer in layers:
        assert layer.ends.most * IN == pytest.approx(PLAIN, abs=0.5)
        assert layer.ends.density * IN == pytest.approx(20)


def test_layers_woven_together_are_told_as_closer():
    advice = project_of(
        draft={
            "double_weave": {"layers": "2", "join": "tube", "warps": "natural", "wefts": "natural"}
        },
        sett="18 per in",
        weave=[
            {"section": "base", "length": "1 in", "join": "closed"},
            {"section": "bag", "length": "fill"},
        ],
    ).sett_advice
    assert advice.weaves[0].sections == ("bag",)
    (base,) = advice.closer
    assert base.sections == ("base",)
    assert base.share == pytest.approx(2 * advice.weaves[0].share)


def test_a_plain_section_in_a_twill_is_told_as_closer():
    advice = project_of(
        sett="20 per in",
        draft={**TWILL_DRAFT, "tie_up": {**TWILL_DRAFT["tie_up"], "5": "1 3", "6": "2 4"}},
        weave=[
            {"section": "hem", "length": "1 in", "treadling": "5 6"},
            {"section": "body", "length": "fill"},
            {"section": "other hem", "length": "1 in", "treadling": "5 6"},
        ],
    ).sett_advice
    assert advice.weaves[0].sections == ("body",)
    assert [each.sections for each in advice.closer] == [("hem", "other hem")]
    assert advice.closer[0].layers[0].ends.most * IN == pytest.approx(PLAIN, abs=0.5)


def test_each_layer_has_its_own_yarn():
    layers = layers_of(
        yarns={"fine": {"size": "Ne 40/2"}, "thick": {"size": "Ne 10/2"}},
        draft={
            "double_weave": {
                "layers": "2", "join": "none", "warps": ["fine", "thick"], "wefts": ["fine", "thick"],
            }
        },
    )  # fmt: skip
    # Diameters go by the root of the count.
    assert layers[1].ends.diameter == pytest.approx(2 * layers[0].ends.diameter)


def test_layers_of_two_to_one_have_setts_of_their_own():
    built = {
        "layers": "2", "join": "none", "ratio": "2:1", "warps": "natural", "wefts": "natural",
    }  # fmt: skip
    top, under = layers_of(draft={"double_weave": built}, sett="20 per in", picks="20 per in")
    assert top.ends.density * IN == pytest.approx(20)
    assert under.ends.density * IN == pytest.approx(10)
    assert top.ends.share == pytest.approx(2 * under.ends.share)


def found(**changes):
    return next((each for each in outcome_of(**changes).findings if "sett" in each.code), None)


@pytest.mark.parametrize(
    ("use", "sett", "told"),
    [
        # Of 26 to the inch: towels 70 to 80 %, lace 50 to 60 %; five points more are let pass.
        ("towel", 20, False),
        ("towel", 17, False),
        ("towel", 16, True),
        ("towel", 22, False),
        ("towel", 23, True),
        ("lace", 20, True),
        ("fulled", 16, False),
        (None, 13, False),
        (None, 11, True),
        (None, 27, True),
    ],
)
def test_a_sett_far_from_its_use_is_noted(use, sett, told):
    cloth = {"width": "27 in", "length": "72 in"} | ({"use": use} if use else {})
    note = found(sett=f"{sett} per in", picks="20 per in", cloth=cloth)
    assert (note is not None) is told
    if note:
        assert (note.level, note.code) == ("note", "sett-far-off")


def test_the_note_says_why_and_what_the_reeds_give():
    loom = {"action": "rising", "shafts": "4", "treadles": "6", "reeds": ["8 per in", "12 per in"]}
    cloth = {"width": "27 in", "length": "72 in", "use": "table linen"}
    note = found(sett="12 per in", cloth=cloth, loom=loom)
    # 12 of 26.08 is 46 %; 70 to 80 % are 18.26 to 20.87; three quarters are 19.56.
    assert "46% of 26.08 per in" in note.message
    assert "`use: table linen` wants 70% to 80%" in note.message
    assert "18.26 to 20.87 per in" in note.mend
    assert "a reed of 12 per in gives" in note.mend
    assert note.place.line > 1


def test_a_thread_that_never_interlaces_does_not_break_it():
    outcome = outcome_of(draft={"threading": "(1 2) to fill", "lifts": "1; 1"})
    assert "never-interlaces" in codes(outcome)


def test_wraps_advise_only_where_all_are_known():
    yarns = {"natural": {"size": "Ne 8/2", "fibre": "cotton", "wraps": "48 per in"}}
    (layer,) = layers_of(yarns=yarns)
    assert layer.by_wraps * IN == pytest.approx(24)
    (layer,) = layers_of()
    assert layer.by_wraps is None
