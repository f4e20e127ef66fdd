"""A spec as a reader needs it: mirrored for a left hand, its yarns white for a grey print.

Mirrored, whatever lies at one side lies at the other.

The first end stands at the left, and so does whatever the spec has at the right: where shuttles
start, folds and joins, selvedges. Ends and picks are the same in number and in order, so that the
cloth is the exact mirror image and all its figures are those of the plan; a draft proved for one
side of the loom is proved for its mirror image, and for nothing between the two. The loom itself
is not mirrored: its treadles and shafts lie where they lie.
"""

from __future__ import annotations

from typing import Any, TypeVar

from cards.needs import Needs
from cards.spec.base import SpecModel
from cards.spec.layer_models import DoubleWeave
from cards.spec.layer_notation import JoinText, Side
from cards.spec.models import Draft, Section, Selvedges, Spec

Model = TypeVar("Model", bound=SpecModel)
_OTHER: dict[str, Side] = {"left": "right", "right": "left"}


def mirrored(spec: Spec) -> Spec:
    """Return a spec whose first end is at the left: its mirror image, or itself if it is there."""
    if spec.conventions.first_end == "left":
        return spec
    pieces = [_changed(piece, weave=_sections(piece.weave)) for piece in spec.pieces]
    return _changed(
        spec,
        conventions=spec.conventions.model_copy(update={"first_end": "left"}),
        draft=_draft(spec.draft),
        selvedges=_selvedges(spec.selvedges),
        weave=_sections(spec.weave),
        pieces=pieces,
    )


def without_colour(spec: Spec) -> Spec:
    """Return a spec whose yarns are all white, so that only hatch and letter tell them apart."""
    yarns = {key: yarn.without_colour() for key, yarn in spec.yarns.items()}
    return _changed(spec, yarns=yarns)


def for_reader(spec: Spec, needs: Needs) -> Spec:
    """Return a spec for who has these needs; large print is a matter of the page alone."""
    if needs.left_handed:
        spec = mirrored(spec)
    return without_colour(spec) if needs.grey else spec


def _draft(draft: Draft) -> Draft:
    layers = draft.double_weave
    return _changed(
        draft,
        start=_OTHER[draft.start],
        double_weave=_layers(layers) if layers is not None else None,
    )


def _layers(layers: DoubleWeave) -> DoubleWeave:
    return _changed(layers, join=_join(layers.join), start=_OTHER[layers.start])


def _join(join: JoinText) -> JoinText:
    pairs = tuple((one, two, _OTHER[side]) for one, two, side in join.pairs)
    return JoinText(_OTHER.get(join.name, join.name), pairs)


def _selvedges(selvedges: Selvedges) -> Selvedges:
    return _changed(selvedges, right=selvedges.left, left=selvedges.right)


def _sections(sections: list[Section]) -> list[Section]:
    return [
        section if section.join is None else _changed(section, join=_join(section.join))
        for section in sections
    ]


def _changed(model: Model, **changes: Any) -> Model:  # noqa: ANN401  (values of many fields)
    return model.model_copy(update=changes)
