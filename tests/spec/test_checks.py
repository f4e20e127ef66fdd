"""Checks across fields that the folder of bad specs does not show: what must not be complained of."""

import pytest

from cards.spec import read_source

BASE = """
loomfolio: 1
project: {title: Estuary lap throw}
yarns: {slate: {size: Nm 12/2}}
loom: {shafts: 8, treadles: 6}
cloth: {width: 80 cm, length: 170 cm}
draft:
  threading: "(1 2 3 4) to fill"
"""


def codes(rest):
    return [each.code for each in read_source((BASE + rest).encode(), "a.yaml").findings]


@pytest.mark.parametrize(
    "rest",
    [
        '  lifts: "(1 3; 2 4) x 60"\n',
        '  tie_up: {1: 1 3, 2: 2 4}\n  treadling: "(1 2) x 60"\n',
        # A skeleton tie-up: no treadle alone, but together they open a shed.
        '  tie_up: {1: 1, 2: 2, 3: 3, 4: 4}\n  treadling: "1+3 2+4"\n',
        # The sections have treadlings of their own.
        '  tie_up: {1: 1 3, 2: 2 4}\nweave:\n  - {section: a, length: fill, treadling: "1 2"}\n',
        'weave:\n  - {section: a, length: fill, lifts: "1; 2"}\n',
        # A table loom may be told by tie-up and treadling.
        '  tie_up: {1: 1 3, 2: [2, 4]}\n  treadling: "(1 2) x 60"\n',
    ],
)
def test_nothing_to_complain_of(rest):
    assert codes(rest) == []


@pytest.mark.parametrize(
    ("rest", "expected"),
    [
        # Shafts that bear no end open no shed.
        ('  lifts: "1 3; 5 6"\n', {"empty-shaft", "no-shed"}),
        ('  tie_up: {1: 1 3, 2: 2 4}\n  lifts: "1 3; 2 4"\n', {"two-plans"}),
        ("weave:\n  - {section: a, length: fill}\n", {"no-treadling"}),
        ("", {"no-treadling"}),
        ('  lifts: "1 3; 2 4"\nselvedges: {right: 9}\n', {"shaft-beyond-loom"}),
    ],
)
def test_what_is_found(rest, expected):
    assert set(codes(rest)) == expected
