"""The text of a pattern: figures put in by name, everything else as it was written."""

import json
import re
from dataclasses import replace
from pathlib import Path

from cards.named_figures import plan_names
from cards.pattern_text import pattern_of
from cards.project import work_out
from cards.spec import read_source, read_spec
from layouts.worked import work_out_spec
from tests.commands import TOWELS, run

BAD_SPECS = Path(__file__).parents[1] / "bad_specs"

TEXT = """
pattern:
  aim: Three towels, {warp.ends} ends and {{no}} more.
  skills: [warping]
  materials: [waste yarn, "{warp.length} of string"]
  steps:
    - stage: winding
      do: ["Wind {warp.ends} ends.", Tie the cross.]
  finishing: [Wash.]
  cautions: [Mind the iron.]
"""

# The towels without the pattern that they have of their own.
BARE = TOWELS.read_text("utf-8").partition("\npattern:")[0] + "\n"


def patterned(text=TEXT):
    return work_out(read_source(f"{BARE}{text}".encode(), TOWELS.name, TOWELS)).project


def test_figures_are_put_in_where_they_are_named():
    project = patterned()
    pattern = pattern_of(project)
    assert pattern.aim == f"Three towels, {project.warp.ends} ends and {{no}} more."
    assert pattern.materials[1] == f"{project.warp.length / 1000:.2f} m of string"
    (stage,) = pattern.stages
    assert (stage.name, stage.steps[1]) == ("winding", "Tie the cross.")
    assert stage.steps[0] == f"Wind {project.warp.ends} ends."
    assert (pattern.skills, pattern.finishing) == (("warping",), ("Wash.",))
    assert pattern.cautions == ("Mind the iron.",)


def test_a_project_without_a_pattern_has_none():
    assert pattern_of(patterned("")) is None


def test_figures_follow_the_units_of_the_project():
    project = replace(patterned(), units="imperial")
    # The yard is 914.4 mm (international yard and pound agreement of 1959).
    assert pattern_of(project).materials[1] == f"{project.warp.length / 914.4:.2f} yd of string"


def test_what_a_yarn_is_called_puts_nothing_else_in():
    spec = BARE.replace("cotton, madder", '"{warp.ends} }} {{madder"')
    text = "\npattern: {aim: 'of {yarn.madder.name}'}\n"
    reading = read_source(f"{spec}{text}".encode(), "x.yaml")
    assert pattern_of(work_out(reading).project).aim == "of {warp.ends} }} {{madder"


def test_a_name_that_the_plan_lacks_stays_in_its_braces():
    assert pattern_of(patterned("\npattern: {aim: 'of {nothing}'}\n")).aim == "of {nothing}"


def test_every_name_of_a_plan_may_be_written_in_its_pattern():
    names = plan_names(patterned())
    text = "".join(f"    - {each.name} is {{{each.name}}}\n" for each in names.shown)
    pattern = pattern_of(patterned(f"\npattern:\n  skills:\n{text}"))
    assert list(pattern.skills) == [f"{each.name} is {each.text}" for each in names.shown]


def test_names_are_checked_on_every_loom(tmp_path):
    looms = [
        "{name: one, action: rising, shafts: 4, treadles: 2, reed: 40 per 10 cm}",
        "{name: two, action: table, shafts: 4, reed: 40 per 10 cm}",
    ]
    spec = tmp_path / "x.yaml"
    spec.write_text(
        f"{BARE}\nlooms: [{looms[0]}, {looms[1]}]\npattern: {{aim: 'tie {{loom.tied}} of them'}}\n"
    )
    found = [each for each in work_out_spec(str(spec), None).findings if "tied" in each.message]
    assert [(each.level, each.message) for each in found] == [
        ("warning", "on 'two': this loom has no `loom.tied`")
    ]


def test_the_names_are_listed():
    listed = run("plan", TOWELS, "--names")
    assert listed.exit_code == 0
    assert re.search(r"^\{warp\.ends\} +436 +ends threaded$", listed.stdout, re.MULTILINE)
    data = json.loads(run("plan", TOWELS, "--names", "--json").stdout)
    assert {each["name"] for each in data} == {each.name for each in plan_names(patterned()).shown}


def test_what_only_other_looms_have_is_a_dash():
    spec = BAD_SPECS / "pattern-with-a-figure-of-another-loom.yaml"
    (stage,) = pattern_of(work_out(read_spec(spec)).project).stages
    assert stage.steps == ("Tie – treadles with – cords.",)
