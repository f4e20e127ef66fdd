"""Every mistake in tests/bad_specs gives exactly the findings that stand beside it."""

from pathlib import Path

import pytest
import yaml

from cards.spec import nodes
from tests.spec.findings_of import findings_of, written

FOLDER = Path(__file__).parent.parent / "bad_specs"
SPECS = sorted(FOLDER.glob("*.yaml"))


def test_every_spec_has_its_findings_and_the_reverse():
    assert SPECS
    assert {each.stem for each in SPECS} == {each.stem for each in FOLDER.glob("*.expected")}


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_bad_spec(path):
    expected = path.with_suffix(".expected").read_text(encoding="utf-8").splitlines()
    assert expected, "a bad spec must give a finding"
    assert [written(each, path) for each in findings_of(path)] == expected


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_bad_spec_read_without_libyaml(path, monkeypatch):
    monkeypatch.setattr(nodes, "_PARSER", yaml.SafeLoader)
    expected = path.with_suffix(".expected").read_text(encoding="utf-8").splitlines()
    assert [written(each, path) for each in findings_of(path)] == expected
