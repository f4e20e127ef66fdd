import re
from dataclasses import replace

import pytest

from cards.handout import handout
from cards.pattern_steps import finishing_of, steps_of
from tests.worked_specs import SPECS, worked_out


def in_own_units(step):
    return re.sub(r" \([^()]*\)", "", step)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_a_handout_and_a_booklet_tell_the_same_steps_in_the_same_words(path):
    project = replace(worked_out(path).project, pattern=None)
    told = [step for stage in steps_of(project) for step in stage.steps]
    booklet = [in_own_units(step) for step in [*told, *finishing_of(project)]]
    steps = [in_own_units(step) for stage in handout(project).stages for step in stage.steps]
    # The note that was written to a section stands in the booklet alone.
    lost = [step for step in steps if not any(each.startswith(step) for each in booklet)]
    assert lost == []
    order = [next(n for n, each in enumerate(booklet) if each.startswith(step)) for step in steps]
    assert order[0] == 0
    assert order[-1] == len(booklet) - 1


def test_many_sections_are_left_to_the_tally():
    project = replace(worked_out(SPECS[0]).project, pattern=None)
    weft = project.weft
    many = replace(project, weft=replace(weft, sections=weft.sections * 9))
    steps = [step for stage in handout(many).stages for step in stage.steps]
    assert f"Weave {len(weft.sections) * 9} sections in the order of the tally." in steps
