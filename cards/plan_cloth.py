"""The cloth as data, for the plan; ends and picks count from 0, layers from 0 at the top."""

from __future__ import annotations

from typing import Any

from cards.cloth.weft_path import side_at
from cards.project.cloth import Cloth, ClothStretch
from cards.project.float_lengths import FloatLength, float_lengths, longest_of
from cards.project.model import Project

Data = dict[str, Any]


def cloth_data(project: Project, *, threads: bool = True) -> Data:
    """Return the cloth of one piece: the longest stretch with most layers, then every stretch.

    With `threads` every layer has its ends and picks; else how many.
    """
    cloth = project.cloth
    stretches = [_stretch(project, each, threads=threads) for each in cloth.stretches]
    main = stretches[cloth.stretches.index(cloth.main)]
    return {
        **{key: main[key] for key in ("layers", "pieces", "longest_float", "fold_faults")},
        "stretches": stretches,
        "exchanges": [
            {"pick": each.pick, "before": list(each.before), "after": list(each.after)}
            for each in project.cloth.exchanges
        ],
        "chosen": list(project.chosen),
    }


def shuttle_shares(project: Project) -> list[Data]:
    """Return what each shuttle weaves of all pieces: its picks, and their weft in mm."""
    weft, cloth = project.weft, project.cloth
    lengths = {
        share.yarn.key: share.need.length / (share.threads + share.extra) for share in weft.by_yarn
    }
    return [
        {
            "shuttle": number,
            "yarn": shuttle.yarn,
            "start": shuttle.start,
            "picks": picks,
            "length_mm": picks * lengths[shuttle.yarn],
        }
        for number, shuttle in enumerate(cloth.shuttles)
        for picks in [weft.pieces * int((cloth.plan.shuttles == number).sum())]
    ]


def shuttles_data(cloth: Cloth) -> Data:
    """Return which shuttle weaves each pick, from 0, and from which side it comes."""
    return {
        "shuttles": cloth.plan.shuttles.tolist(),
        "from": [side_at(right) for right in cloth.plan.from_right.tolist()],
    }


def _stretch(project: Project, stretch: ClothStretch, *, threads: bool) -> Data:
    first = stretch.first_pick
    floats = list(float_lengths(stretch, project.warp, project.weft))
    longest = longest_of(floats)
    return {
        "sections": [project.weft.sections[place].name for place in stretch.sections],
        "first_pick": first,
        "picks": stretch.picks,
        "layers": [
            {
                "ends": list(layer.ends) if threads else len(layer.ends),
                "picks": [first + pick for pick in layer.picks] if threads else len(layer.picks),
            }
            for layer in stretch.layers
        ],
        "pieces": [
            {
                "kind": piece.kind,
                "widths": len(piece.layers),
                "layers": list(piece.layers),
                "folds": list(piece.folds),
                "note": piece.note,
            }
            for piece in stretch.pieces
        ],
        "longest_float": {
            "warp": _float(longest["warp"]) if "warp" in longest else None,
            "weft": _float(longest["weft"]) if "weft" in longest else None,
        },
        "floats": [{"system": each.system, **_float(each)} for each in floats],
        "fold_faults": [
            {
                "pick": first + fault.pick,
                "side": fault.side,
                "kind": fault.kind,
                "threads": fault.threads,
            }
            for fault in stretch.fold_faults
        ],
    }


def _float(found: FloatLength) -> Data:
    return {
        "threads": found.threads,
        "length_mm": found.length,
        "layer": found.layer,
        "side": found.face,
        "thread": found.thread,
        "start": found.start,
    }
