"""Nothing is told by colour alone: yarns and layers are told apart by eyes that see fewer colours.

Oracle: coloraide, which shows a colour as eyes see it that lack a kind of cone (Brettel, Viénot and
Mollon 1997; Viénot, Brettel and Mollon 1999) and measures how far apart two are (CIEDE2000). A
difference of 2.3 is just seen (Mahy, Van Eycken and Oosterlinck 1994, from memory); the colours
that are given to yarns by default keep three times as much.
"""

from itertools import combinations

import pytest
from coloraide import Color

from layouts.drawing import Box, Figure, Part, Path, Text, flat
from layouts.folio import frame_of
from layouts.patch import grey, hatch_count
from layouts.sheet_list import sheets_of
from layouts.sheets.layer_mark import layer_tag
from layouts.sheets.parts import yarn_patch
from tests.project.worked import outcome_of
from tests.worked_specs import SPECS, worked_out

APART = 7.0


def seen(colour, eyes):
    if eyes == "all cones":
        return Color(colour)
    if eyes == "grey print":
        return Color(grey(colour))
    return Color(colour).filter(eyes, 1).convert("srgb").clip()


def yarns_by_default(number):
    """Return so many yarns of a spec that gives them no colour."""
    keys = [f"yarn{place}" for place in range(number)]
    outcome = outcome_of(
        yarns={key: {"fibre": "cotton", "size": "Ne 8/2"} for key in keys},
        warp_order=f"({keys[0]}) to fill",
        weft_order=keys[0],
    )
    return outcome.project.yarns


@pytest.mark.parametrize("eyes", ["all cones", "protan", "deutan", "tritan", "grey print"])
def test_colours_given_by_default_are_told_apart(eyes):
    colours = [yarn.colour for yarn in yarns_by_default(8)]
    assert len(set(colours)) == 8
    for one, other in combinations(colours, 2):
        apart = seen(one, eyes).delta_e(seen(other, eyes), method="2000")
        assert apart >= APART, (one, other)


def look(marks):
    """Return what tells a patch without its colour: the shape of its hatch, and its letter."""
    shapes = [mark.steps for mark in flat(marks) if isinstance(mark, Path)]
    words = [mark.text for mark in flat(marks) if isinstance(mark, Text)]
    return tuple(shapes), tuple(words)


def test_every_patch_has_a_hatch_and_a_letter_of_its_own():
    yarns = yarns_by_default(hatch_count + 4)
    looks = [look(yarn_patch(yarn, 10, 10, 12, 9)) for yarn in yarns]
    assert all(hatch and letter for hatch, letter in looks)
    assert len(set(looks)) == len(looks)
    # With the colour gone the hatch alone tells as many yarns apart as there are hatches.
    hatches = [hatch for hatch, _ in looks[: hatch_count - 1]]
    assert len(set(hatches)) == len(hatches)


def patches(marks):
    """Return the patches of yarn among marks, wherever they stand."""
    for mark in marks:
        if isinstance(mark, Figure) and mark.title.startswith("Yarn "):
            yield mark
        elif isinstance(mark, Figure | Part):
            yield from patches(mark.marks)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_patches_on_the_sheets_have_hatch_and_letter(path):
    project = worked_out(path).project
    frame = frame_of(project)
    found = 0
    for name, draw in sheets_of(project).items():
        for page in draw(project, frame).pages:
            for patch in patches(page.marks):
                shapes, words = look(patch.marks)
                assert shapes, f"{name}: {patch.title} has no hatch"
                small = next(mark for mark in patch.marks if isinstance(mark, Box))
                if small.width >= 9.0:
                    assert words, f"{name}: {patch.title} has no letter"
                found += 1
    assert found


def test_layers_are_told_by_shape_and_letter_in_black_and_white():
    tags = [list(flat(layer_tag(lane, 0.0, 0.0))) for lane in range(8)]
    for marks in tags:
        for mark in marks:
            inks = {getattr(mark, name, None) for name in ("fill", "stroke", "colour")} - {None}
            assert inks <= {"#111111", "#ffffff"}
    letters = [[mark.text for mark in marks if isinstance(mark, Text)] for marks in tags]
    assert len({tuple(each) for each in letters}) == 8
