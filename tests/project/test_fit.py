"""Whether a project fits its loom; what a mend names is put in, and then it fits, and no less does.

Nothing here knows how the figures were found: they are read from the finding, as a weaver reads
them, and the spec is worked out with them.
"""

import re
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.project.layered_specs import BASE
from tests.project.worked import codes, outcome_of

EIGHTHS = {"⅛": 1, "¼": 2, "⅜": 3, "½": 4, "⅝": 5, "¾": 6, "⅞": 7}
ROOMY = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def finding(outcome, code):
    return next((each for each in outcome.findings if each.code == code), None)


def written(figure):
    """A printed figure as a spec may have it: 29 ¾ in is 29 3/4 in."""
    for sign, eighths in EIGHTHS.items():
        share = Fraction(eighths, 8)
        figure = figure.replace(f" {sign}", f" {share.numerator}/{share.denominator}")
        figure = figure.replace(sign, f"{share.numerator}/{share.denominator}")
    return figure


def both_of(mend, words):
    """The figure behind some words, and that in brackets."""
    found = re.search(rf"{words} (.+?) \((.+?)\)", mend)
    assert found, mend
    return [written(each) for each in found.groups()]


looms = st.fixed_dictionaries(
    {
        "units": st.sampled_from(["metric", "imperial"]),
        "width": st.integers(300, 1500),
        "loom": st.integers(200, 1200),
        "threading": st.sampled_from(
            ["(1 2 3 4) to fill", "(1 2 3 4 3 2) to fill, 1", "(1 2) x 5, (3 4 4) to fill, 1 1"]
        ),
        "reed": st.sampled_from([None, "40 per 10 cm", "12 per in"]),
    }
)


def spec_of(case, **more):
    loom = {"action": "rising", "shafts": "4", "treadles": "4", "width": f"{case['loom']} mm"}
    if case["reed"]:
        loom["reed"] = case["reed"]
    return {
        "units": case["units"],
        "loom": loom | more.pop("loom", {}),
        "cloth": {"width": f"{case['width']} mm", "length": "60 cm"} | more.pop("cloth", {}),
        "sett": "6 per cm",
        "picks": "6 per cm",
        "draft": {
            "threading": case["threading"],
            "tie_up": {"1": "1 2", "2": "2 3", "3": "3 4", "4": "4 1"},
            "treadling": "1 2 3 4",
        },
    } | more


@ROOMY
@given(looms)
def test_the_width_that_is_named_fits_and_hardly_more_would(case):
    outcome = outcome_of(**spec_of(case))
    told = finding(outcome, "too-wide")
    if told is None:
        assert outcome.warp.width_in_reed <= case["loom"] * (1 + 1e-9)
        return
    assert outcome.warp.width_in_reed > case["loom"]
    for figure in both_of(told.mend, "no wider than"):
        mended = outcome_of(**spec_of(case, cloth={"width": figure}))
        assert "too-wide" not in codes(mended)
    first = outcome_of(**spec_of(case, cloth={"width": both_of(told.mend, "no wider than")[0]}))
    ends = first.warp.ends
    assert f": {ends} ends" in told.mend
    # Two repeats more no longer fit; one may, between the widths that can be printed.
    once = {"(1 2 3 4) to fill": 4, "(1 2 3 4 3 2) to fill, 1": 6}.get(case["threading"], 3)
    more = outcome_of(**spec_of(case, given={"ends": str(ends + 2 * once)}))
    assert more.warp.ends == ends + 2 * once
    assert more.warp.width_in_reed > case["loom"] * (1 - 1e-9)


@pytest.mark.parametrize(("doubled", "reed"), [("0", "40 per 10 cm"), ("8", "12 per in")])
@pytest.mark.parametrize("width", [290, 301, 487, 500])
def test_no_wider_cloth_fits_than_the_one_named(doubled, reed, width):
    """A millimetre after the other is put in, until the cloth has a repeat more: none fits."""
    case = {"units": "metric", "width": 600, "loom": width, "reed": reed}
    case["threading"] = "(1 2) x 5, (3 4 4 1 2 3 4 3 2 1) to fill, 1 1"
    told = finding(outcome_of(**spec_of(case, sley={"doubled": doubled})), "too-wide")
    most = round(float(both_of(told.mend, "no wider than")[0].removesuffix(" cm")) * 10)
    wider = [
        outcome_of(**spec_of(case | {"loom": 1200, "width": each}, sley={"doubled": doubled}))
        for each in range(most, most + 25)
    ]
    assert len({each.warp.ends for each in wider}) > 1
    assert wider[0].warp.width_in_reed <= width * (1 + 1e-9)
    for each in wider[1:]:
        same = each.warp.ends == wider[0].warp.ends
        assert same or each.warp.width_in_reed > width * (1 + 1e-9)


@ROOMY
@given(looms, st.integers(1, 7), st.integers(60, 900))
def test_what_is_named_for_the_beam_fits_and_one_more_does_not(case, pieces, beam):
    case = case | {"width": 300, "loom": 1000}
    loom = {"longest_warp": f"{beam} cm"}

    def tried(**cloth):
        return outcome_of(**spec_of(case, loom=loom, cloth=cloth))

    outcome = tried(pieces=str(pieces))
    told = finding(outcome, "warp-too-long")
    assert (told is not None) == (outcome.warp.length > beam * 10 * (1 + 1e-9))
    if told is None:
        return
    number = re.search(r"weave (\d+) pieces? on a warp, (\d+) warps for all (\d+)", told.mend)
    if number:
        fits, warps, every = map(int, number.groups())
        assert every == pieces
        assert warps == -(-pieces // fits)
        assert "warp-too-long" not in codes(tried(pieces=str(fits)))
        assert "warp-too-long" in codes(tried(pieces=str(fits + 1)))
        return
    assert "warp-too-long" in codes(tried(pieces="1"))
    if "weave less" in told.mend:
        return
    for figure in both_of(told.mend, "no longer than"):
        assert "warp-too-long" not in codes(tried(pieces="1", length=figure))


heddles = st.lists(st.integers(20, 130), min_size=4, max_size=4)


@ROOMY
@given(looms, heddles)
def test_what_is_named_for_heddles_is_enough(case, there):
    case = case | {"loom": 2000}
    hung = {"heddles": " ".join(map(str, there))}
    outcome = outcome_of(**spec_of(case, loom=hung))
    needed = [outcome.project.draft.threading.count(shaft) for shaft in (1, 2, 3, 4)]
    short = [shaft for shaft in range(4) if needed[shaft] > there[shaft]]
    told = [each for each in outcome.findings if each.code == "too-few-heddles"]
    assert [each.message for each in told] == [
        f"shaft {at + 1} needs {needed[at]} heddles and has {there[at]}" for at in short
    ]
    after = list(there)
    for at, each in zip(short, told, strict=True):
        for number, source in re.findall(r"(\d+) from shaft (\d)", each.mend):
            after[int(source) - 1] -= int(number)
            after[at] += int(number)
        added = re.search(r"add (\d+)", each.mend)
        after[at] += int(added[1]) if added else 0
    assert all(has >= need for has, need in zip(after, needed, strict=True))
    assert sum(after) == max(sum(there), sum(needed)) or sum(needed) <= sum(there)
    mends = " ".join(each.mend for each in told)
    if "finished width" in mends:
        for figure in both_of(mends, "no more than"):
            mended = outcome_of(**spec_of(case, loom=hung, cloth={"width": figure}))
            assert mended.warp.ends <= sum(there)
    sett = re.search(r"a sett of (.+?) or more open", mends)
    if sett:
        mended = outcome_of(**spec_of(case, loom=hung, sett=sett[1]))
        assert mended.warp.ends <= sum(there)


def test_half_the_ends_of_a_shaft_go_on_a_free_one():
    """Every other end of shaft 2 on shaft 5: the same cloth by hand, and the heddles are enough."""
    loom = {"action": "rising", "shafts": "5", "treadles": "4", "heddles": "150 100 150 150 70"}
    cloth = {"width": "18 in", "length": "40 in"}
    draft = {"tie_up": {"1": "1 3", "2": "2 4"}, "treadling": "1 2"}
    outcome = outcome_of(loom=loom, cloth=cloth, draft=draft | {"threading": "(1 2 3 4) to fill"})
    told = finding(outcome, "too-few-heddles")
    needed = outcome.project.draft.threading.count(2)
    stay, go = needed - needed // 2, needed // 2
    assert f"every other end of shaft 2 on shaft 5, tied like shaft 2: {stay} and {go}" in told.mend
    mended = outcome_of(
        loom=loom,
        cloth=cloth,
        draft={
            "threading": "(1 2 3 4 1 5 3 4) to fill",
            "tie_up": {"1": "1 3", "2": "2 4 5"},
            "treadling": "1 2",
        },
    )
    assert "too-few-heddles" not in codes(mended)
    if mended.warp.ends == outcome.warp.ends:
        assert (mended.project.draft.drawdown == outcome.project.draft.drawdown).all()


def test_plain_cloth_that_is_too_wide_is_offered_in_two_layers():
    loom = {"action": "rising", "shafts": "4", "treadles": "6", "width": "20 in"}
    outcome = outcome_of(loom=loom)
    told = finding(outcome, "too-wide")
    assert "two layers on 4 shafts" in told.mend
    mended = outcome_of(loom=loom, draft={"double_weave": {"layers": "2", "join": "left"}})
    assert "too-wide" not in codes(mended)
    width = mended.warp.width_in_reed / 25.4
    inches = written(re.search(r"takes (.+?) in in the reed", told.mend)[1])
    assert sum(map(Fraction, inches.split())) == pytest.approx(width, abs=1 / 16)


@pytest.mark.parametrize(
    "changes",
    [
        # A twill is another cloth in two layers.
        {
            "draft": {
                "threading": "(1 2 3 4) to fill",
                "tie_up": {"1": "1 2", "2": "2 3", "3": "3 4", "4": "4 1"},
                "treadling": "1 2 3 4",
            }
        },
        # Half of it is too wide as well.
        {"cloth": {"width": "60 in", "length": "72 in"}},
        {
            "loom": {"shafts": "2", "treadles": "2", "width": "20 in"},
            "draft": {
                "threading": "(1 2) to fill",
                "tie_up": {"1": "1", "2": "2"},
                "treadling": "1 2",
            },
        },
    ],
)
def test_other_cloth_is_not_offered_in_two_layers(changes):
    loom = {"action": "rising", "shafts": "4", "treadles": "6", "width": "20 in"}
    outcome = outcome_of(**({"loom": loom} | changes))
    assert "two layers" not in finding(outcome, "too-wide").mend


@pytest.mark.parametrize(("join", "size"), [("left", "width"), ("tube", "circumference")])
def test_layers_that_are_too_wide_name_a_size_that_fits(join, size):
    loom = {"action": "rising", "shafts": "4", "treadles": "6", "width": "50 cm"}
    draft = {"double_weave": {"layers": "2", "join": join, "warps": "slate", "wefts": "slate"}}

    def tried(figure):
        cloth = {size: figure, "length": "20 cm"}
        return outcome_of(**BASE | {"loom": loom, "draft": draft, "cloth": cloth})

    told = finding(tried("130 cm"), "too-wide")
    words = "no wider than" if size == "width" else "no more than"
    for figure in both_of(told.mend, words):
        assert "too-wide" not in codes(tried(figure))
