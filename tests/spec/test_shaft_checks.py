"""Drafts on too many shafts: how few do, against the columns of the drawdown, and the examples."""

import re

import numpy as np
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from cards.spec import read_source
from cards.spec.sequences import parse_lifts, parse_threading
from cards.spec.shaft_checks import fewest_shafts, shafts_joined
from cards.spec.written import written_lifts, written_threading
from tests import strategies as some
from tests.strategies import without_offsets

SPEC = """
loomfolio: 1
project: {{title: Estuary lap throw}}
yarns: {{slate: {{size: Nm 12/2, fibre: worsted}}}}
loom: {{shafts: {shafts}}}
cloth: {{width: 20 cm, length: 40 cm}}
sett: 5 per cm
picks: 5 per cm
draft: {draft}
"""


def columns_of(lifts, most):
    return {
        shaft: frozenset(pick for pick, lift in enumerate(lifts) if shaft in lift)
        for shaft in range(1, most + 1)
    }


def drawdown(threading, lifts):
    """The drawdown told again, end by end and pick by pick."""
    return np.array([[shaft in lift for shaft in threading] for lift in lifts])


drafts = st.integers(2, 10).flatmap(
    lambda shafts: st.tuples(
        st.permutations(range(1, shafts + 1)),
        st.lists(some.lifts(shafts), min_size=1, max_size=5),
        st.integers(2, shafts),
    )
)


@given(drafts)
def test_fewest_shafts_are_the_different_columns_of_the_drawdown(draft):
    """Columns told apart by numpy."""
    threading, lifts, most = draft
    columns = columns_of(lifts, len(threading))
    needs = fewest_shafts(columns)
    assert needs == np.unique(drawdown(threading, lifts), axis=1).shape[1]
    assert (shafts_joined(columns, most) is None) == (needs > most)


@given(drafts)
def test_the_same_cloth_on_the_shafts_that_there_are(draft):
    threading, lifts, most = draft
    joined = shafts_joined(columns_of(lifts, len(threading)), most)
    if joined is None:
        return
    assert set(joined.values()) <= set(range(1, most + 1))
    shorter = [joined[shaft] for shaft in threading]
    sheds = [{joined[shaft] for shaft in lift} for lift in lifts]
    assert (drawdown(shorter, sheds) == drawdown(threading, lifts)).all()
    # No end moves without need.
    if most >= len(threading):
        assert all(old == new for old, new in joined.items())


@settings(max_examples=60, deadline=None)
@given(drafts, st.booleans())
def test_the_example_of_the_mend_weaves_the_same_cloth(draft, by_treadle):
    """What the finding says is pasted back, read again, and woven by hand."""
    threading, lifts, most = draft
    whole = set(range(1, len(threading) + 1))
    lifts = [lift if 0 < len(lift) < len(whole) else {threading[0]} for lift in lifts]
    written = {"threading": " ".join(map(str, threading))}
    if by_treadle:
        written["tie_up"] = {
            str(n): " ".join(map(str, sorted(lift))) for n, lift in enumerate(lifts, 1)
        }
        written["treadling"] = " ".join(str(n) for n in range(1, len(lifts) + 1))
    else:
        written["lifts"] = "; ".join(" ".join(map(str, sorted(lift))) for lift in lifts)
    findings = read_source(SPEC.format(shafts=most, draft=written).encode(), "a.yaml").findings
    told = [each for each in findings if each.code == "shaft-beyond-loom"]
    needs = np.unique(drawdown(threading, lifts), axis=1).shape[1]
    assert bool(told) == (most < len(threading))
    if not told:
        return
    if needs > most:
        assert f"needs {needs} shafts, for so many kinds" in told[0].mend
        return
    pasted = yaml.load("\n".join(re.findall(r"`(.*?)`", told[0].mend)), yaml.BaseLoader)  # noqa: S506
    shorter = [int(each) for each in pasted["threading"].split()]
    if by_treadle:
        sheds = [
            {int(s) for s in pasted["tie_up"][str(n)].split()} for n in range(1, len(lifts) + 1)
        ]
    else:
        sheds = [{int(s) for s in each.split()} for each in pasted["lifts"].split(";")]
    assert max(shorter) <= most
    assert (drawdown(shorter, sheds) == drawdown(threading, lifts)).all()


@given(some.trees(some.shafts()), some.trees(some.lifts()))
def test_what_is_written_reads_the_same(threading, lifts):
    from cards.sequence import Sequence

    for items, write, parse in (
        (threading, written_threading, parse_threading),
        (lifts, written_lifts, parse_lifts),
    ):
        sequence = Sequence(items)
        assert without_offsets(parse(write(sequence))).values() == sequence.values()


@pytest.mark.parametrize(
    ("draft", "said"),
    [
        # Treadles that are not tied leave it open what the shafts do.
        (
            {"threading": "(1 2 3) to fill", "tie_up": {"1": "1 3"}, "treadling": "1 2"},
            "use shafts 1 to 2, or mend loom.shafts",
        ),
        # A threading that is too long to be pasted is told in words.
        (
            {"threading": "1 2 3 4 " * 90, "lifts": "1 3; 2 4"},
            (
                "the same cloth needs 2 shafts, since some always rise together: thread the ends "
                "of shaft 3 on 1; 4 on 2; or mend loom.shafts"
            ),
        ),
    ],
)
def test_what_is_said_without_an_example(draft, said):
    findings = read_source(SPEC.format(shafts=2, draft=draft).encode(), "a.yaml").findings
    assert said in [each.mend for each in findings]
