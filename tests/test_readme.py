"""What the README says is so: commands, kinds, sheets, sizes of yarn, and the picture."""

import re
import shlex
from pathlib import Path

import pytest

from cards.cloth_words import pieces_words
from cards.project import work_out
from cards.spec import read_source
from layouts.cli import STARTERS, main
from layouts.sheet_list import SHEETS
from tests.project.worked import spec_text

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")


def test_its_two_commands_are_there():
    block = re.search(r"```sh\n(.*?)```", README, re.DOTALL)[1].strip().splitlines()
    assert len(block) == 2
    assert "loomfolio print specs/kitchen-towels.yaml -o folio" in block[0]
    assert shlex.split(block[1])[:3] == [".venv/bin/python", "-m", "pytest"]


def test_every_command_is_told():
    told = set(re.findall(r"^\| `loomfolio (\w+)", README, re.MULTILINE))
    assert told == set(main.commands)


def test_kinds_and_sheets_are_those_there_are():
    assert all(f"`{kind}`" in README for kind in STARTERS)
    assert all(f"`{sheet}`" in README or f"--sheet {sheet}`" in README for sheet in SHEETS)


def test_links_and_pictures_lead_somewhere():
    for target in re.findall(r"\]\(([^)#]+)\)", README):
        assert (ROOT / target).exists(), target


@pytest.mark.parametrize(
    "size", re.findall(r"`([^`]+)`", re.search(r"\*\*Yarn sizes\*\*: (.*)", README)[1])
)
def test_every_size_of_yarn_can_be_worked_out(size):
    text = spec_text(yarns={"natural": {"fibre": "cotton", "size": size}})
    project = work_out(read_source(text.encode(), "test.yaml")).project
    assert 1 < project.yarns[0].tex < 1000


def test_the_layers_of_the_readme_can_be_woven():
    text = README.split("```yaml\n")[1].split("```")[0]
    spec = (ROOT / "specs" / "double-width-throw.yaml").read_text("utf-8")
    head = spec.split("\ndraft:\n")[0]
    outcome = work_out(read_source(f"{head}\n{text}".encode(), "readme.yaml"))
    assert {finding.level for finding in outcome.findings} <= {"note", "warning"}
    kinds = [
        pieces_words(each.pieces, len(each.layers)) for each in outcome.project.cloth.stretches
    ]
    assert kinds == [
        "one cloth",
        "one cloth 2 widths wide, folded at the left",
        "2 separate cloths",
    ]
