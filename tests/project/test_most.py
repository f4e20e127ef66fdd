"""The most that limits allow, held against trying every step there is."""

import pickle
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cards.plan_costs import most_data
from cards.project import most as sizing
from cards.project import work_out
from cards.project.largest import Search
from cards.project.limits import Limit
from cards.spec import read_source
from tests.project.worked import codes, outcome_of, project_of, spec_text
from tests.worked_specs import FOLDER

COTTON = {"fibre": "cotton", "size": "Ne 8/2"}
BARE = {
    "sample": "0 cm", "header": "0 cm", "spare_ends": "0", "warp_margin": "0 %", "buy_margin": "0 %",
    "take_up": "10 %", "relaxation": "3 %", "draw_in": "7 %", "weft_take_up": "10 %", "joins": "5 %",
    "shrinkage": {"length": "8 %", "width": "7 %"},
}  # fmt: skip


def spec_of(yarns, cloth, **more):
    base = {
        "units": "metric",
        "yarns": yarns,
        "cloth": cloth,
        "sett": "5 per cm",
        "picks": "5 per cm",
        "loom": {"action": "rising", "shafts": "4", "treadles": "6", "waste": "40 cm"},
    }
    return base | more


def test_the_length_that_yarn_on_hand_makes_by_hand():
    """The steps of the warp and the weft by hand, in fractions; the rules are those of the README."""
    project = project_of(
        **spec_of(
            {"natural": COTTON | {"on_hand": "200 g"}},
            {"width": "30 cm", "most": "length"},
            allowances=BARE,
        )
    )
    tex = Fraction(590541, 1000) * 2 / 8  # g a km of Ne 8/2: 590.541 / (count / ply)
    reed = Fraction(300) / Fraction(93, 100) / Fraction(93, 100)
    ends = 176  # 300 / 0.93 / 0.93 x 0.5 = 173.4, up to whole repeats of four shafts
    assert -(-reed / 2 // 4) * 4 == ends
    wide = Fraction(ends, 1) / Fraction(1, 2)

    def grams(length):
        cloth = length / Fraction(92, 100)
        picks = -(-cloth / Fraction(97, 100) / 2 // 1)
        warp = cloth / Fraction(90, 100) + 400
        warp = -(-warp // 100) * 100  # wound by whole 10 cm
        weft = picks * wide * Fraction(110, 100) * Fraction(105, 100)
        return (ends * warp + weft) * tex / 10**6

    most = project.asked
    assert grams(Fraction(most.value)) <= 200 < grams(Fraction(most.value) + 10)
    assert most.limit == "natural runs out"
    assert project.totals[0].need.mass == pytest.approx(
        float(grams(Fraction(most.value))), rel=1e-4
    )
    assert project.totals[0].need.packages == 0


def fits(changes, cloth):
    """Whether everything that limits a project holds, as the plan of the fixed size tells it."""
    outcome = outcome_of(**(changes | {"cloth": cloth}))
    if outcome.project is None:
        return False
    project, costs = outcome.project, changes.get("costs", {})
    if any(finding.level == "error" for finding in outcome.findings):
        return False
    margin = next(step.value for step in project.steps if step.name == "buying margin")
    for total in project.totals:
        yarn, need = changes["yarns"][total.yarn.key], total.need
        bought = "budget" in costs and "price" in yarn
        if "on_hand" in yarn and not bought and need.mass * (1 + margin) > need.on_hand + 1e-9:
            return False
    if "budget" in costs:
        bill = sum(total.need.cost for total in project.totals) + (
            project.bill.hours.amount if project.bill.hours else 0
        )
        if bill > project.bill.budget.amount:
            return False
    return "warp-without-margin" not in codes(outcome)


def brute(changes, cloth, size, steps):
    """Return the largest of all steps at which everything holds, None if it never does."""
    return next((each for each in reversed(steps) if fits(changes, cloth | {size: each})), None)


grams = st.integers(2, 40).map(lambda mass: f"{mass} g")
money = st.integers(1, 9).map(str)
orders = st.sampled_from(["slate", "(2 slate, 2 sand) to fill", "(3 slate, 1 sand) to fill"])


@st.composite
def limited(draw):
    """Return a small project with limits of all kinds."""
    yarns = {"slate": dict(COTTON), "sand": {"fibre": "worsted", "size": "Nm 12/2"}}
    for yarn in yarns.values():
        yarn |= {"put_up": draw(st.sampled_from(["5 g", "20 m"])), "price": draw(money)}
        if draw(st.booleans()):
            yarn["on_hand"] = draw(grams)
    more = {
        "warp_order": draw(orders),
        "weft_order": draw(st.sampled_from(["slate", "sand", "3 slate, 1 sand"])),
        "allowances": {"sample": draw(st.sampled_from(["0 cm", "10 cm"])), "spare_ends": "1"},
    }
    if draw(st.booleans()):
        more["costs"] = {"budget": draw(st.integers(5, 90).map(str))}
        if draw(st.booleans()):
            more["costs"]["hour"] = draw(st.integers(1, 9).map(str))
    loom = {"action": "rising", "shafts": "4", "treadles": "6", "waste": "20 cm", "width": "60 cm"}
    given = {"warp_length": f"{draw(st.integers(60, 250))} cm"} if draw(st.booleans()) else {}
    if not given and draw(st.booleans()):
        loom["longest_warp"] = f"{draw(st.integers(60, 400))} cm"
    return spec_of(yarns, {}, loom=loom, given=given, **more)


def agrees(changes, cloth, size, steps, unit):
    """Hold the size that was found against the best of all steps."""
    asked = outcome_of(**(changes | {"cloth": cloth | {"most": size}}))
    best = brute(changes, cloth, size, steps)
    if "nothing-limits" in codes(asked):
        return
    if best is None:
        assert asked.project is None or asked.has_errors
        return
    assert asked.project is not None, [finding.text() for finding in asked.findings]
    assert asked.project.asked.value == pytest.approx(float(best.split()[0]) * unit)
    assert not asked.has_errors


slowly = settings(
    max_examples=10,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


@slowly
@given(limited())
def test_no_longer_piece_could_be_woven(changes):
    steps = [f"{length} cm" for length in range(1, 61)]
    cloth = {"width": "12 cm", "length": "60 cm"}
    agrees(changes, cloth, "length", steps, 10.0)


@slowly
@given(limited())
def test_no_wider_piece_could_be_woven(changes):
    steps = [f"{width} mm" for width in range(5, 241)]
    agrees(changes, {"width": "240 mm", "length": "10 cm"}, "width", steps, 1.0)


@slowly
@given(limited())
def test_no_further_piece_could_be_woven(changes):
    steps = [str(pieces) for pieces in range(1, 31)]
    cloth = {"width": "12 cm", "length": "25 cm", "pieces": "30"}
    agrees(changes, cloth, "pieces", steps, 1.0)


def test_yarn_of_a_border_that_only_short_pieces_want_more_of():
    """The sample is woven in the proportions of a piece, so short pieces take more of a border."""
    yarns = {"slate": dict(COTTON), "sand": COTTON | {"on_hand": "8 g"}}
    weave = [
        {"section": "border", "picks": "40", "weft": "sand"},
        {"section": "middle", "length": "fill", "weft": "slate"},
    ]
    more = {"warp_order": "slate", "weave": weave, "given": {"warp_length": "600 cm"}}
    more["allowances"] = {"sample": "150 cm"}
    changes = spec_of(yarns, {}, **more)
    steps = [f"{length} cm" for length in range(1, 401)]
    cloth = {"width": "40 cm"}
    assert not fits(changes, cloth | {"length": "100 cm"})
    best = brute(changes, cloth, "length", steps)
    found = project_of(**(changes | {"cloth": cloth | {"most": "length"}}))
    assert found.asked.value == pytest.approx(float(best.split()[0]) * 10)


@slowly
@given(limited())
def test_without_a_bound_the_next_step_is_too_much(changes):
    outcome = outcome_of(**(changes | {"cloth": {"width": "12 cm", "most": "length"}}))
    if outcome.project is None or outcome.has_errors:
        return
    found = outcome.project.asked.value
    assert fits(changes, {"width": "12 cm", "length": f"{found} mm"})
    for more in (10, 20, 30):
        assert not fits(changes, {"width": "12 cm", "length": f"{found + more} mm"})


def test_what_could_be_is_what_comes_out_when_it_is_written():
    """Each size on its own, put into the spec: it holds, and the next step does not."""
    changes = spec_of({"natural": COTTON | {"on_hand": "150 g"}}, {})
    changes["loom"] = changes["loom"] | {"width": "40 cm"}
    cloth = {"width": "20 cm", "length": "50 cm", "pieces": "2"}
    most = {each.size: each for each in project_of(**(changes | {"cloth": cloth})).most}
    assert set(most) == {"length", "width", "pieces"}
    for size, step in (("length", 10.0), ("width", 1.0)):
        value = most[size].value
        assert fits(changes, cloth | {size: f"{value} mm"})
        assert not fits(changes, cloth | {size: f"{value + step} mm"})
    pieces = int(most["pieces"].value)
    assert fits(changes, cloth | {"pieces": str(pieces)})
    assert not fits(changes, cloth | {"pieces": str(pieces + 1)})


@pytest.mark.parametrize("more", [{}, {"on_hand": "600 g"}])
def test_a_budget_of_few_large_packages_is_a_limit(more):
    """One package, or what is on hand, does for 1 m and for 4 m: no sign that it never ends."""
    yarns = {"natural": COTTON | {"put_up": "1 kg", "price": "20"} | more}
    cloth = {"width": "60 cm", "most": "length"}
    outcome = outcome_of(**spec_of(yarns, cloth, costs={"budget": "70"}))
    assert "nothing-limits" not in codes(outcome)
    bill = outcome.project.bill
    assert bill.total.amount == 60  # three packages: a fourth would be 80
    assert outcome.project.asked.limit == "the budget is spent"
    found = outcome.project.asked.value
    longer = {"width": "60 cm", "length": f"{found + 10} mm"}
    over = outcome_of(**spec_of(yarns, longer, costs={"budget": "70"}))
    assert over.project.bill.total.amount == 80


def test_yarn_of_which_a_longer_piece_takes_no_more_is_soon_seen_to_be_no_limit():
    """Sections of so many picks take their yarn once, however long the piece between them is."""
    tried = []

    def limits(number):
        tried.append(number)
        return (Limit("on hand", "sand runs out", 0.02 - number * 1e-6), Limit("loom", "", 0.97))

    assert Search(limits, 5000).largest(100).broken == ()
    assert len(tried) < 6


def test_a_loom_alone_is_no_limit_worth_telling():
    changes = {"loom": {"action": "rising", "shafts": "4", "treadles": "6", "width": "90 cm"}}
    assert project_of(**changes).most == ()


def test_of_a_warp_on_the_loom_neither_yarn_nor_its_hours_are_counted():
    given_warp = {"ends": "660", "warp_length": "5 yd"}
    wound = project_of(given=given_warp | {"warp": "wound"})
    loom = project_of(given=given_warp | {"warp": "on the loom"})
    plain = project_of(given=given_warp)
    weft = plain.weft.by_yarn[0].need.mass
    assert wound.totals[0].need.mass == loom.totals[0].need.mass == pytest.approx(weft)
    assert plain.totals[0].need.mass > weft
    assert plain.hours.winding > 0
    assert wound.hours.winding == loom.hours.winding == loom.hours.dressing == 0
    assert wound.hours.dressing == plain.hours.dressing > 0


@pytest.mark.parametrize("size", ["length", "pieces"])
def test_most_of_a_warp_that_is_there(size):
    cloth = {"width": "27 in", "length": "30 in", "most": size}
    project = project_of(cloth=cloth, given={"warp_length": "6 yd", "warp": "on the loom"})
    if size == "length":  # the length that is written is the most that is asked for
        assert project.asked.value == pytest.approx(30 * 25.4)
        assert project.asked.limit == "no more was asked for"
    else:
        assert project.asked.value == project.weft.pieces > 1
        assert project.asked.limit == "the warp given is used up"


def test_most_width_of_a_warp_with_so_many_ends():
    project = project_of(cloth={"length": "30 in", "most": "width"}, given={"ends": "400"})
    assert project.warp.ends == 400
    # 400 ends at 24 to the inch, less draw-in 7 % and shrinkage 7 %, down to an eighth of an inch.
    finished = Fraction(400, 24) * Fraction(93, 100) * Fraction(93, 100)
    assert project.asked.value == pytest.approx(float(finished * 8 // 1 / 8) * 25.4)
    assert "400 ends" in project.asked.limit


def test_on_other_looms_the_cloth_is_of_the_same_size():
    text = (FOLDER / "two-runners.yaml").read_text("utf-8")
    text = text.replace("length: 48 in,", "length: 90 in, most: length,")
    text += "\nlooms: [{name: other, action: jack, shafts: 4, treadles: 6, waste: 60 in}]\n"
    from cards.project import work_out_on_all

    outcome = work_out_on_all(read_source(text.encode(), "two.yaml"))
    (other,) = outcome.others
    assert outcome.project.asked.value > 0
    assert other.weft.picks_each == outcome.project.weft.picks_each


def test_the_same_whether_found_or_written():
    cloth = {"width": "20 cm", "most": "length"}
    changes = spec_of({"natural": COTTON | {"on_hand": "150 g"}}, cloth)
    found = project_of(**changes)
    cloth = {"width": "20 cm", "length": f"{found.asked.value} mm"}
    written = work_out(read_source(spec_text(**(changes | {"cloth": cloth})).encode(), "x.yaml"))
    assert written.project.warp == found.warp
    assert written.project.weft == found.weft
    assert [total.need for total in written.project.totals] == [t.need for t in found.totals]


SILK = {"fibre": "silk", "size": "Ne 20/2", "put_up": "8 oz", "on_hand": "300 g"}


@pytest.mark.parametrize("cloth", [{}, {"most": "length"}, {"most": "pieces"}])
def test_an_error_that_no_size_mends_is_not_sought_through_all_sizes(cloth, monkeypatch):
    """The size of the silk is wrong at every size: thousands of them were tried."""
    tries = []
    reckoned = sizing.reckon
    monkeypatch.setattr(sizing, "reckon", lambda *given: tries.append(1) or reckoned(*given))
    outcome = outcome_of(yarns={"silk": SILK}, cloth={"width": "20 in", "length": "40 in"} | cloth)
    assert "ambiguous-size" in codes(outcome)
    assert outcome.project is None or outcome.project.most == ()
    assert len(tries) < 30


def test_a_project_can_be_kept_and_its_sizes_asked_later():
    project = project_of(yarns={"natural": COTTON | {"on_hand": "3 kg"}})
    again = pickle.loads(pickle.dumps(project))  # noqa: S301 -- its own
    assert again.most == project.most != ()


def test_the_width_of_a_tube_has_a_plain_key():
    built = {"layers": "2", "join": "tube", "warps": "natural", "wefts": "natural"}
    project = project_of(
        yarns={"natural": COTTON | {"on_hand": "3 kg"}},
        cloth={"circumference": "40 in", "length": "40 in"},
        draft={"double_weave": built},
    )
    (width,) = [each for each in most_data(project) if each["size"].startswith("width")]
    assert width["width_mm"] > 508.0
