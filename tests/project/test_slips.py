"""The slip in a written draft that `check` names, with its place in the file and on the chart."""

from pathlib import Path

import pytest

from cards.project import work_out
from cards.spec import read_source

FAULTY = Path(__file__).parents[2] / "specs" / "faulty" / "tube-with-a-slip.yaml"
TEXT = FAULTY.read_text("utf-8")
# The tube of an odd number of ends, started from the right, first end at the right: lifts 1, 134,
# 3, 123. These lifts were found by a simulation made before this program was written.
RIGHT = TEXT.replace("1 2 3 2, ", "1 2 3 4, ")


def findings_of(text):
    return work_out(read_source(text.encode(), "faulty.yaml")).findings


def slip_of(text):
    (slip,) = [each for each in findings_of(text) if each.code == "slip"]
    written = text.splitlines()[slip.place.line - 1][slip.place.column - 1 :]
    return slip.message, written


def test_without_the_slip_there_is_nothing_to_mend():
    assert findings_of(RIGHT) == ()


def test_the_faulty_draft_names_the_end_and_where_it_stands():
    message, written = slip_of(TEXT)
    assert message == (
        "one slip would explain what is wrong with 'body': end 164 is on shaft 2 and should be on "
        "4 (threading chart: line 2, end 4)"
    )
    assert written.startswith("2, (1 2 3 4) to fill")


@pytest.mark.parametrize(
    ("right", "wrong", "told", "place"),
    [
        ("2: 1 3 4", "2: 1 4", "treadle 2 does not raise shaft 3 and should", "1 4,"),
        ("{1: 1, ", "{1: 1 4, ", "treadle 1 raises shaft 4 and should not", "1 4, "),
        ('"1 2 3 4"', '"1 3 2 4"', "picks 2 and 3 are exchanged", "1 3 2 4"),
    ],
)
def test_other_slips_are_named_where_they_stand(right, wrong, told, place):
    message, written = slip_of(RIGHT.replace(right, wrong))
    assert told in message
    assert written.startswith(place)


def test_layers_that_are_not_there_are_an_error_beside_the_slip():
    codes = [each.code for each in findings_of(RIGHT.replace("2: 1 3 4", "2: 1 4"))]
    assert codes == ["layers-unexpected", "slip"]
