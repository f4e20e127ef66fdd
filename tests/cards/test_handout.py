import re
from dataclasses import replace

import pytest

from cards.handout import handout
from cards.pattern_steps import finishing_of, steps_of
from tests.worked_specs import SPECS, worked_out

TO_THE_TALLY = re.compile(r".+: \d+ picks, .+, section by section as the tally has it\.")


def in_own_units(step):
    return re.sub(r" \([^()]*\)", "", step)


def steps_at_the_loom(project):
    return [in_own_units(step) for stage in handout(project).stages for step in stage.steps]


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_a_handout_and_a_booklet_tell_the_same_steps_in_the_same_words(path):
    project = replace(worked_out(path).project, pattern=None)
    told = [step for stage in steps_of(project) for step in stage.steps]
    booklet = [in_own_units(step) for step in [*told, *finishing_of(project)]]
    steps = [step for step in steps_at_the_loom(project) if not TO_THE_TALLY.fullmatch(step)]
    # The note that was written to a section stands in the booklet alone.
    lost = [step for step in steps if not any(each.startswith(step) for each in booklet)]
    assert lost == []
    assert booklet[0] == steps[0]
    assert booklet[-1] == steps[-1]


def test_many_sections_are_left_to_the_tally():
    project = replace(worked_out(SPECS[0]).project, pattern=None)
    assert not any(TO_THE_TALLY.fullmatch(step) for step in steps_at_the_loom(project))
    weft = project.weft
    many = replace(project, weft=replace(weft, sections=weft.sections * 9))
    (told,) = [step for step in steps_at_the_loom(many) if TO_THE_TALLY.fullmatch(step)]
    assert told.startswith(f"A piece: {weft.picks_each} picks, ")
