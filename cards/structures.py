"""The structures of a cloth by the names under which a weaver looks for them in an index.

Only what the drawdown proves is named: the weave of every section that is no mere border, of every
layer by itself where there are several, and how the layers hang together.
"""

from __future__ import annotations

from collections.abc import Iterator

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
        yield name or f"patterned weave on {len(project.loom.threaded)} shafts"


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
