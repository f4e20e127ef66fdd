"""The text of a pattern: figures put in by name, everything else as it was written."""

from cards.pattern_text import pattern_of
from cards.project import work_out
from cards.spec import read_source
from tests.commands import TOWELS

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


def patterned(text=TEXT, spec=TOWELS):
    return work_out(read_source(spec.read_bytes() + text.encode(), spec.name, spec)).project


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
