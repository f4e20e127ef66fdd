"""What a spec may say of yarns and uses is known to the room that reckons with them."""

import re
from pathlib import Path

import pytest

from cards.calculation import allowances, sett
from cards.calculation.yarn_size import SYSTEMS as RECKONED
from cards.calculation.yarn_size import tex_of
from cards.spec import USES, read_spec
from cards.spec.fibre_notation import BLEND, FIBRES
from cards.spec.size_notation import parse_size
from cards.spec.size_systems import SYSTEMS, WHOLE

ROOT = Path(__file__).parents[2]
_SIZE = re.compile(r"\b(?:(?:Ne|Nm|lea|worsted) \d+/\d+|R \d+ tex|tex \d+ x \d+|\d+ yd/lb)")
EXAMPLES = sorted(
    {
        found
        for path in [ROOT / "README.md", *(ROOT / "cards" / "starters").glob("*.yaml")]
        for found in _SIZE.findall(path.read_text(encoding="utf-8"))
    }
)


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_system_is_known(system):
    assert tex_of(system, 10) > 0
    assert RECKONED[system].whole == (system in WHOLE)


def test_every_fibre_is_known():
    assert set(FIBRES) == set(allowances.FIBRES)
    assert allowances.BLEND == BLEND
    for fibre in (*FIBRES, BLEND):
        constant = sett.constant_for([fibre])
        assert sett.LEAST_CONSTANT <= constant.value <= sett.MOST_CONSTANT
        assert constant.source


def test_every_use_is_known():
    assert set(USES) == set(sett.USES)
    for use in sett.USES.values():
        assert 0 < use.low < use.usual < use.high <= 1


def test_there_are_examples():
    assert {"Ne 8/2", "worsted 2/18", "R 98 tex", "3360 yd/lb"} <= set(EXAMPLES)


@pytest.mark.parametrize("text", EXAMPLES)
def test_every_example_is_known(text):
    parts = parse_size(text)
    assert tex_of(parts.system, parts.count, parts.ply) > 0


def test_a_resultant_size_is_that_of_the_whole_yarn():
    # R names the resultant linear density of a folded yarn: ISO 1139, from memory.
    for text in ("R 98 tex", "R98 tex/2", "tex 49 x 2"):
        parts = parse_size(text)
        assert tex_of(parts.system, parts.count, parts.ply) == pytest.approx(98)


@pytest.mark.parametrize("path", sorted((ROOT / "cards" / "starters").glob("*.yaml")), ids=str)
def test_every_yarn_of_the_starters_is_known(path):
    sizes = [yarn.size for yarn in read_spec(path).spec.yarns.values() if yarn.size]
    assert all(tex_of(size.system, size.count, size.ply) > 0 for size in sizes)
