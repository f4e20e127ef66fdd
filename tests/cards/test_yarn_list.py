"""The yarn list: its figures are those of the plan, and what stands on the page is what it says."""

import re
from decimal import Decimal
from io import BytesIO

import pypdf
import pytest

from cards.plan_json import plan_data
from cards.project import work_out
from cards.spec import read_spec
from cards.yarn_list import yarn_list
from layouts.folio import folio_of, frame_of, pdf_file
from layouts.sheet_list import SHEETS
from tests.project.worked import project_of
from tests.sheets.looks import faults
from tests.worked_specs import FOLDER, SPECS

SLUG = "yarn-list"
METRES_IN_A_YARD = 0.9144  # exact: international yard

# Three yarns by turns: one to buy in part, one that is there, one without a price or a put-up.
SHELF = {
    "yarns": {
        "red": {"size": "Ne 8/2", "put_up": "250 g", "price": "EUR 9.80", "on_hand": "100 g"},
        "blue": {"size": "Ne 8/2", "put_up": "250 g", "price": "EUR 5", "on_hand": "2 kg"},
        "green": {"size": "Ne 8/2"},
    },
    "units": "metric",
    "warp_order": "(4 red, 4 blue) to fill",
    "weft_order": "2 red, 2 green",
}


def outcome_of_spec(path):
    return work_out(read_spec(path))


def project_of_spec(path):
    return outcome_of_spec(path).project


def text_of(project, paper="A4"):
    drawing = SHEETS[SLUG](project, frame_of(project, paper))
    reader = pypdf.PdfReader(BytesIO(pdf_file(project, [drawing], "x").data), strict=True)
    words = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    # Large figures and the words under them are read without a space between.
    return re.sub(r"(\d\.\d\d)(?=[a-z])", r"\1 ", words)


def every_entry(card):
    return {entry.yarn.key: entry for entry in (*card.entries, *card.enough)}


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_its_figures_are_those_of_the_plan(path):
    outcome = outcome_of_spec(path)
    project, data = outcome.project, plan_data(outcome, drawdown=False)
    entries = every_entry(yarn_list(project))
    assert sorted(entries) == sorted(each["yarn"] for each in data["yarns"])
    for each in data["yarns"]:
        need = entries[each["yarn"]].total.need
        assert need.packages == each["packages"]
        assert need.mass == each["mass_g"]
        assert need.length == each["length_mm"]
        assert (None if need.cost is None else float(need.cost)) == each["cost"]
    bobbins = {each["yarn"]: each["bobbins"] for each in data["bobbins"]["by_yarn"]}
    assert {key: entry.bobbins for key, entry in entries.items() if entry.bobbins} == bobbins


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_packages_and_what_is_on_hand_are_what_is_needed_and_left(path):
    for entry in every_entry(yarn_list(project_of_spec(path))).values():
        need, put_up = entry.total.need, entry.yarn.put_up
        if put_up.mass is None:
            continue
        assert need.packages * put_up.mass + need.on_hand - need.mass == pytest.approx(need.left)
        assert need.left >= 0.0


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_parts_are_warp_and_weft_of_all_kinds_of_pieces(path):
    project = project_of_spec(path)
    for key, entry in every_entry(yarn_list(project)).items():
        parts = {part.what: part.length for part in entry.parts}
        wefts = (share for kind in project.kinds for share in kind.weft.by_yarn)
        weft = sum(share.need.length for share in wefts if share.yarn.key == key)
        warp = sum(s.need.length for s in project.warp.by_yarn if s.yarn.key == key)
        assert parts.get("weft", 0.0) == pytest.approx(weft)
        assert parts.get("warp", 0.0) == pytest.approx(warp)
        assert entry.total.need.length == pytest.approx(warp + weft)


def test_four_towels_by_hand():
    """The weft of the linen towel is that of its kind alone, the cotton that of the three others.

    A pick takes 52.5 cm x 1.1 x 1.05 = 60.6375 cm. Cotton: picks 2 x 664 + 666 and 240 of the
    sample, and 424 ends of 4.9 m; linen: 602 picks. Ne 8/2 is 8 x 840 / 2 yd to the pound of
    453.59237 g, lea 16/2 is 16 x 300 / 2.
    """
    entries = every_entry(yarn_list(project_of_spec(FOLDER / "four-towels.yaml")))
    gram = {"natural": 453.59237 / (3360 * 0.9144), "flax": 453.59237 / (2400 * 0.9144)}
    metres = {"natural": (1328 + 666 + 240) * 0.606375 + 424 * 4.9, "flax": 602 * 0.606375}
    for key, entry in entries.items():
        assert entry.total.need.length / 1000 == pytest.approx(metres[key])
        assert entry.total.need.mass == pytest.approx(metres[key] * gram[key])
    assert [entry.total.need.packages for entry in entries.values()] == [3, 1]
    # 1354.64 m of cotton weft weigh 200.0 g, just over ten bobbins of 20 g by less than a gram.
    weft = (1328 + 666 + 240) * 0.606375 * gram["natural"]
    assert entries["natural"].bobbins == -(-weft // 20)


def test_what_is_to_be_bought_comes_before_what_is_there():
    card = yarn_list(project_of(**SHELF))
    assert [entry.yarn.key for entry in card.entries] == ["red", "green"]
    assert [entry.yarn.key for entry in card.enough] == ["blue"]
    words = text_of(project_of(**SHELF))
    order = [words.index(each) for each in ("red", "green", "Nothing to buy of these", "blue")]
    assert order == sorted(order)
    assert words.count("bought") == 2
    assert words.count("enough") == 1


def test_another_yarn_lies_within_a_tenth_of_the_size_and_is_bought_instead_of_all():
    project = project_of(**SHELF)
    entries = every_entry(yarn_list(project))
    for entry in entries.values():
        assert entry.finest == pytest.approx(entry.yarn.tex * 0.9)
        assert entry.thickest == pytest.approx(entry.yarn.tex * 1.1)
    # Ne 8/2 is 3360 yd to the pound, 677.3 m to 100 g: 1.1 and 0.9 times as thick.
    words = text_of(project)
    sizes = "616 to 753 m/100 g (3055 to 3733 yd/lb)"
    assert words.count(f"Instead: another yarn of {sizes}, ") == 2
    red, green = (entries[key].total.need.length * 1.1 / 1000 for key in ("red", "green"))
    for metres, behind in ((red, " without the yarn on hand."), (green, ".")):
        assert f"{metres:.0f} m ({metres / METRES_IN_A_YARD:.0f} yd) in all{behind}" in words


def test_of_a_yarn_without_a_price_it_is_said_and_no_sum_is_made():
    words = text_of(project_of(**SHELF))
    assert "Without a price in the plan: green." in words
    assert "EUR 19.60 cost of the yarn" in words  # 395 g less 100 g are two packages
    assert "yarn and hours" not in words


def test_sums_by_currency():
    yarns = {
        "red": {"size": "Ne 8/2", "put_up": "100 g", "price": "EUR 9.80"},
        "blue": {"size": "Ne 8/2", "put_up": "100 g", "price": "$ 7.25"},
    }
    project = project_of(yarns=yarns, warp_order="red", weft_order="blue", costs={"hour": "EUR 15"})
    sums = {"EUR": Decimal("9.80"), "$": Decimal("7.25")}
    words = text_of(project)
    for total in project.totals:
        amount = total.need.packages * sums[total.yarn.currency]
        sign = "$" if total.yarn.currency == "$" else "EUR "
        assert f"{sign}{amount} cost of the yarn" in words
    assert "estimated" in words
    assert "yarn and hours" not in words  # of two currencies there is no sum


@pytest.mark.parametrize(("budget", "word"), [("500", "left"), ("20", "too little")])
def test_hours_and_what_is_left_of_a_budget(budget, word):
    yarns = {"natural": {"size": "Ne 8/2", "put_up": "8 oz", "price": "$12"}}
    project = project_of(yarns=yarns, costs={"hour": "$10", "budget": f"${budget}"})
    cost = project.totals[0].need.packages * 12 + Decimal(project.hours.counted) * 10
    words = text_of(project)
    assert f"${cost:.2f} yarn and hours" in words
    assert f"budget: ${abs(Decimal(budget) - cost):.2f} {word}" in words


def test_yarn_of_a_warp_that_is_there_is_not_in_it():
    project = project_of(
        given={"ends": "752", "warp_length": "5 yd", "warp": "wound"}, yarns={
            "red": {"size": "Ne 8/2", "put_up": "8 oz"}, "blue": {"size": "Ne 8/2"},
        }, warp_order="red", weft_order="blue",
    )  # fmt: skip
    assert list(every_entry(yarn_list(project))) == ["blue"]
    assert "The warp is there already (red): its yarn is not in this list." in text_of(project)


def test_nothing_to_buy():
    words = text_of(project_of(yarns={"natural": {"size": "Ne 8/2", "on_hand": "5 kg"}}))
    assert "There is nothing to buy." in words
    assert "cost" not in words
    assert "Instead" not in words


@pytest.mark.parametrize("paper", ["A4", "A5", "Letter"])
@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_read_back_from_the_page_it_buys_what_the_plan_says(path, paper):
    """The packages, costs and sums in the PDF, by another reader, are those of the plan as data."""
    outcome = outcome_of_spec(path)
    project, data = outcome.project, plan_data(outcome, drawdown=False)
    words = text_of(project, paper)
    bought = re.findall(r"(\d+) × (\d+ (?:g|oz)|\d+ (?:m|yd)) bought", words)
    wanted = [each["packages"] for each in data["yarns"] if each["packages"]]
    assert [int(number) for number, _ in bought] == wanted
    costs = re.findall(r"cost (?:[^\d ]* ?)(\d+\.\d\d) [^\d ]* ?\d+\.\d\d each", words)
    priced = [each["cost"] for each in data["yarns"] if each["packages"] and each["cost"]]
    assert [float(cost) for cost in costs] == priced
    sums = re.findall(r"(\d+\.\d\d) cost of the yarn", words)
    assert [float(each) for each in sums] == [each["cost"] for each in data["bill"]["yarn"]]


@pytest.mark.parametrize("paper", ["A4", "A5", "Letter", "5 x 8 in"])
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_it_is_drawn_well(units, paper):
    yarns = {
        f"yarn{place}": {
            "name": f"a yarn of which there is much to say, number {place}", "size": "Ne 20/2",
            "put_up": "100 g", "price": ("EUR 1234.56", "$9.80")[place % 2],
            "on_hand": ("3 g", "900 g", "20 g")[place % 3], "lot": f"L{place}",
        }
        for place in range(8)
    }  # fmt: skip
    order = ", ".join(f"2 {key}" for key in yarns)
    project = project_of(
        yarns=yarns, units=units, warp_order=f"({order}) to fill", weft_order=order,
        costs={"hour": "EUR 15", "budget": "EUR 4000"}, given={"ends": "1200"},
    )  # fmt: skip
    frame = frame_of(project, paper)
    for page in SHEETS[SLUG](project, frame).pages:
        assert faults(page, frame) == []


def test_it_comes_first_in_a_folio():
    assert next(iter(folio_of(project_of()))) == SLUG


def test_weft_by_shuttle_of_two_cloths_in_one_yarn():
    """Each of two cloths one above the other has a shuttle, and half of the picks."""
    built = {"layers": "2", "join": "none", "warps": "natural", "wefts": "natural"}
    project = project_of(draft={"double_weave": built})
    (entry,) = yarn_list(project).entries
    weft = project.weft.by_yarn[0]
    share = weft.need.length / (weft.threads + weft.extra) * weft.threads / 2
    assert entry.shuttles == ((1, pytest.approx(share)), (2, pytest.approx(share)))
    assert "Weft by shuttle, without the sample: 1:" in text_of(project)
    (single,) = yarn_list(project_of()).entries
    assert single.shuttles == ()


def test_it_says_which_size_was_to_be_the_most():
    shelf = {"warp_order": "red", "weft_order": "blue", "given": {"warp_length": "9 m"}}
    cloth = {"width": "30 cm", "most": "length"}
    yarns = {"red": {"size": "Ne 8/2"}, "blue": {"size": "Ne 8/2", "on_hand": "2 kg"}}
    project = project_of(yarns=yarns, cloth=cloth, **shelf)
    assert yarn_list(project).asked.startswith("length ")
    assert "the warp given is used up" in text_of(project)
    assert yarn_list(project_of(**SHELF)).asked == ""
