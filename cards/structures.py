"""The structures of a cloth by the names under which a weaver looks for them in an index.

Only what the drawdown proves is named: the weave of every section that is no mere border, of every
layer by itself where there are several, and how the layers hang together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from cards.layer_faces import layer_face
from cards.project.cloth import ClothStretch, kind_of
from cards.project.model import Project
from cards.weave_names import weave_name

# A section of less than this share of the picks is a hem or a border.
_BORDER = 0.25
_WIDTHS = {2: "double width", 3: "triple width"}
_NUMBERS = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight"}


def structures_of(project: Project) -> tuple[str, ...]:
    """Return the names of all structures of a project, of every kind of piece, each once."""
    found = (name for kind in project.kinds for name in _structures(kind))
    return tuple(dict.fromkeys(found))


def _structures(project: Project) -> Iterator[str]:
    if not project.cloth.has_layers:
        yield from _of_sections(project)
        return
    main = project.cloth.main
    yield _joined(main)
    for layer in main.layers:
        name = weave_name(layer_face(project, main, layer).cells)
        yield f"{name} in layers" if name else "patterned weave in layers"


def _of_sections(project: Project) -> Iterator[str]:
    for section in project.weft.sections:
        first, picks = section.first_pick, section.picks
        if picks < _BORDER * project.weft.picks_each:
            continue
        name = weave_name(project.draft.drawdown[first : first + picks])
        name = name or turned_twill(project.draft.threading, project.draft.lifts[first:][:picks])
        yield name or f"patterned weave on {len(project.loom.threaded)} shafts"


def turned_twill(threading: Sequence[int], lifts: Sequence[frozenset[int]]) -> str:
    """Return the name of a twill whose line turns about: pointed, herringbone, waved, in diamonds.

    Its shafts are threaded one beside another, up or down; every lift raises as many that lie in a
    row, the last and the first being neighbours; and every lift begins one shaft beside the last.
    Empty for anything else.

    >>> runs = [frozenset(each) for each in ((1, 2), (2, 3), (3, 4), (2, 3))]
    >>> turned_twill((1, 2, 3, 4, 3, 2), runs), turned_twill((1, 3, 2, 4), runs)
    ('2/2 twill, turned', '')
    """
    shafts = sorted(set(threading))
    number = len(shafts)
    places = {shaft: place for place, shaft in enumerate(shafts)}
    starts = [start for lift in lifts if (start := _start(lift, places)) is not None]
    raised = {len(lift & places.keys()) for lift in lifts}
    if number < 3 or len(raised) != 1 or len(starts) < len(lifts):
        return ""
    ends = [places[shaft] for shaft in threading]
    for way in (ends, starts):
        if any((two - one) % number not in (1, number - 1) for one, two in pairwise(way)):
            return ""
    over = raised.pop()
    return f"{over}/{number - over} twill, turned"


def _start(lift: frozenset[int], places: dict[int, int]) -> int | None:
    """Return the first of the shafts that a lift raises, if they lie in a row."""
    raised = {places[shaft] for shaft in lift if shaft in places}
    first = [place for place in raised if (place - 1) % len(places) not in raised]
    return first[0] if len(first) == 1 else None


def _joined(stretch: ClothStretch) -> str:
    """Return how the layers of a stretch hang together."""
    kind, number = kind_of(stretch), len(stretch.layers)
    if kind == "tube":
        return "tube"
    if kind == "folded":
        widths = len(stretch.pieces[0].layers)
        return _WIDTHS.get(widths, f"{_NUMBERS.get(widths, widths)} widths")
    layers = f"{_NUMBERS.get(number, number)} layers"
    return f"{layers}, separate cloths" if kind == "separate" else f"{layers}, joined in part"
