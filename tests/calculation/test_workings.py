"""Every formula in the workings, reckoned again from its own inputs: none may say what was not done.

The reckoning is that of Python's own fractions, on the formula as it is printed.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cards.calculation.formula import evaluate, with_figures
from cards.project import work_out
from cards.spec import read_spec
from tests.project.worked import project_of
from tests.worked_specs import SPECS

# What is counted, not reckoned.
COUNTED = {"dents", "ends of all layers"}

LAYERED = {
    "cloth": {"width": "54 in", "length": "72 in", "pieces": "3", "fringe": {"length": "5 in", "from_waste": "yes"}},
    "sett": "12 per in",
    "picks": "12 per in",
    "draft": {"double_weave": {"layers": "2", "join": "left", "start": "right"}},
    "loom": {"action": "rising", "shafts": "4", "treadles": "6", "reed": "12 per in"},
    "yarns": {"natural": {"fibre": "cotton", "size": "Ne 8/2", "put_up": "300 yd", "price": "4.50"}},
    "weave": [{"section": "hem", "length": "2 in"}, {"section": "body", "length": "fill"}],
}  # fmt: skip
PLAIN = {
    "loom": {"action": "rising", "shafts": "4", "reed": "12 per in"},
    "sley": {"doubled": "8"},
    "cloth": {"width": "27 in", "length": "72 in", "pieces": "2", "hem": "2 in", "fringe": {"length": "5 in"}},
    "weave": [{"section": "over", "picks": "2500"}],
}  # fmt: skip


def every_step(project):
    return [step for kind in project.kinds for step in kind.steps]


PROJECTS = [
    *(
        pytest.param(lambda path=path: work_out(read_spec(path)).project, id=path.stem)
        for path in SPECS
    ),
    pytest.param(lambda: project_of(**LAYERED), id="layered, fringes from the waste"),
    pytest.param(lambda: project_of(**PLAIN), id="doubled edges, longer than asked for"),
    pytest.param(project_of, id="bare"),
]


@pytest.mark.parametrize("make", PROJECTS)
def test_every_formula_gives_its_figure(make):
    steps = every_step(make())
    assert len(steps) > 20
    for step in steps:
        assert step.formula
        if step.origin != "worked out":
            assert step.inputs == ()
            assert step.raw == step.value
        elif step.counted:
            assert step.name in COUNTED
        else:
            values = {name: Fraction(value) for name, value, _ in step.inputs}
            assert len(values) == len(step.inputs), step.name
            assert float(evaluate(step.formula, values)) == pytest.approx(step.raw, rel=1e-9), step


@pytest.mark.parametrize("make", PROJECTS)
def test_what_is_rounded_is_rounded_up_to_what_is_said(make):
    for step in every_step(make()):
        if step.unit == "hours" and step.formula.endswith(", to the nearest quarter"):
            assert (4 * step.value).is_integer(), step
            assert abs(step.value - step.raw) <= 1 / 8 or step.value == 1 / 4, step
        elif step.value != step.raw:
            assert step.value >= step.raw - 1e-9 * abs(step.raw), step
            assert step.counted or step.unit in {"ends", "picks", "packages", "mm"}, step


@pytest.mark.parametrize(
    "formula",
    [
        "a +",
        "(a",
        "a b)",
        "a ÷ (1 − b",
        "a, and so on",
        "c",
        "a × + a",
        "a a",
        ")",
        "a, at least c",
    ],
)
def test_a_formula_that_does_not_fit_is_refused(formula):
    with pytest.raises(ValueError, match=r"is|what|makes"):
        evaluate(formula, {"a": Fraction(1)})


def test_an_input_that_is_not_used_is_refused():
    with pytest.raises(ValueError, match="makes no use of"):
        evaluate("a", {"a": Fraction(1), "b": Fraction(2)})


def test_products_come_before_sums_and_the_least_is_kept():
    values = {"a": Fraction(2), "b": Fraction(3), "at most": Fraction(50)}
    assert evaluate("a + a × b − at most ÷ 5, at least nothing", values) == 0
    assert evaluate("2 × (a + b) ÷ a, at least at most", values) == 50
    assert with_figures("a × b, at least at most", {"a": "2 in", "b": "3", "at most": "6 in"}) == (
        "2 in × 3, at least 6 in"
    )


numbers = st.integers(1, 99)


@given(st.lists(st.tuples(st.sampled_from("+−×÷"), numbers), max_size=8), numbers)
def test_reckoned_as_python_reckons(parts, first):
    text = "".join(f" {sign} {number}" for sign, number in parts)
    python = f"{first}{text}".replace("−", "-").replace("×", "*").replace("÷", "/")
    fractions = "".join(f"Fraction({each})" if each.isdigit() else each for each in _words(python))
    assert evaluate(f"first{text}", {"first": Fraction(first)}) == eval(fractions)  # noqa: S307


def _words(text):
    return text.replace("*", " * ").split()
