"""A draft sheet read off its pages, as one reads who knows the conventions and nothing else."""

from itertools import product

import numpy as np

from layouts.drawing import Cells, Disc, Figure, Path, Text, unparted
from layouts.folio import frame_of
from layouts.sheet_list import SHEETS
from tests.project.worked import project_of
from tests.sheets.looks import flat

SHEET = "draft-sheet"

ALL = [
    dict(zip(("threading", "first_end", "tie_up", "treadling", "filled"), choice, strict=True))
    for choice in product(
        ("above", "below"), ("right", "left"), ("rise", "sink"), ("down", "up"), ("warp", "weft")
    )
]


def small_project(**changes):
    """A draft without any symmetry, so that no wrong turn can go unnoticed."""
    return project_of(
        **{
            "loom": {"action": "rising", "shafts": "5", "treadles": "6"},
            "draft": {
                "threading": "1 2 3 4 5 3 1 4 4 2 1",
                "tie_up": {"1": "1 3", "2": "2 4 5", "3": "1 2", "4": "5"},
                "treadling": "1 2 3 4 2 1+4 3 3 1",
            },
            "weave": [{"section": "all", "picks": "9"}],
        }
        | changes
    )


def large_project(ends=200, picks=130, most=8, **changes):
    tie_up = {
        str(n): " ".join(str((n + k) % most + 1) for k in range(3)) for n in range(1, most + 1)
    }
    return project_of(
        loom={"action": "rising", "shafts": str(most), "treadles": str(most)},
        draft={
            "threading": " ".join(map(str, unlike(ends, most))),
            "tie_up": tie_up,
            "treadling": " ".join(map(str, unlike(picks, most, seed=8))),
        },
        weave=[{"section": "all", "picks": str(picks)}],
        **changes,
    )


def unlike(count, most=8, seed=5):
    """A threading on all shafts that walks about and never repeats itself for long."""
    random = np.random.default_rng(seed)
    walk = np.cumsum(random.choice((1, most - 1), count - most)) % most + 1
    return [*range(1, most + 1), *walk.tolist()]


def double_cloth(layers, **changes):
    return project_of(
        **changes,
        loom={"action": "table", "shafts": "4"},
        expect={"layers": str(layers)},
        draft={"threading": "(1 3 2 4) to fill", "lifts": "1; 1 2 4; 2; 1 2 3"},
    )


def figures(project, paper="A4"):
    frame = frame_of(project, paper)
    found = {}
    for page in SHEETS[SHEET](project, frame).pages:
        for mark in unparted(page.marks):
            if isinstance(mark, Figure):
                found.setdefault(mark.title, []).append(mark)
    return found


def words_of(project, paper="A4"):
    pages = SHEETS[SHEET](project, frame_of(project, paper)).pages
    return " ".join(
        mark.text for page in pages for mark in flat(page.marks) if isinstance(mark, Text)
    )


def filled_places(figure):
    """Return the middles of all filled cells of a figure, and its mark of cells."""
    (mark,) = [each for each in figure.marks if isinstance(each, Cells)]
    rows, columns = np.nonzero(mark.filled)
    xs = mark.x + (columns + 0.5) * mark.cell_width
    ys = mark.y + (rows + 0.5) * mark.cell_height
    return {(round(x, 2), round(y, 2)) for x, y in zip(xs, ys, strict=True)}, mark


def middles(mark):
    rows, columns = mark.filled.shape
    xs = [round(mark.x + (at + 0.5) * mark.cell_width, 2) for at in range(columns)]
    ys = [round(mark.y + (at + 0.5) * mark.cell_height, 2) for at in range(rows)]
    return xs, ys


def tie_middles(figure):
    """Return the middles of discs and crosses of a tie-up; grids are paths of level strokes."""
    discs = {(round(m.x, 2), round(m.y, 2)) for m in figure.marks if isinstance(m, Disc)}
    crosses = set()
    for mark in figure.marks:
        if isinstance(mark, Path) and len(mark.steps) == 4 and mark.steps[0][1] != mark.steps[1][1]:
            xs, ys = [s[1] for s in mark.steps], [s[2] for s in mark.steps]
            if mark.steps[0][2] != mark.steps[1][2]:
                crosses.add((round(sum(xs) / 4, 2), round(sum(ys) / 4, 2)))
    return discs, crosses
