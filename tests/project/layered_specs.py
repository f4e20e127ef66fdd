"""Layered projects for tests: built by the program, or written out lift by lift."""

from tests.project.worked import project_of

YARNS = {
    "slate": {"fibre": "worsted", "label": "590 m per 100 g", "colour": "#44546a"},
    "sand": {"fibre": "worsted", "label": "590 m per 100 g", "colour": "#d9c7a3"},
}
BASE = {
    "units": "metric",
    "yarns": YARNS,
    "cloth": {"width": "30 cm", "length": "30 cm"},
    "sett": "5 per cm",
    "picks": "5 per cm",
}


def built(layers=2, shafts=4, **changes):
    """Return a project whose layers the program builds; `double_weave` has further keys."""
    weave = {"layers": str(layers), "warps": "slate"}
    if "weft_order" not in changes:
        weave["wefts"] = "slate"
    weave |= changes.pop("double_weave", {})
    loom = {"action": changes.pop("action", "table"), "shafts": str(shafts)}
    if loom["action"] not in ("table", "dobby"):
        loom["treadles"] = "10"
    return project_of(**BASE | {"loom": loom, "draft": {"double_weave": weave}} | changes)


def written(lifts, threading, shafts=4, weft="slate", layers=2, **changes):
    """Return a project whose draft is written out; `lifts` as `1/123/134/3`."""
    sheds = "; ".join(" ".join(lift) for lift in lifts.split("/"))
    keys = {
        "loom": {"action": "table", "shafts": str(shafts)},
        "expect": {"layers": str(layers)},
        "warp_order": "slate",
        "weft_order": weft,
        "draft": {"threading": threading, "lifts": sheds},
    }
    return project_of(**BASE | keys | changes)


def everything():
    """Return layered projects of every kind by a name for each."""
    sections = [
        {"section": "base", "length": "2 cm", "join": "closed"},
        {"section": "tube", "length": "fill"},
        {"section": "flaps", "length": "6 cm", "join": "none", "wefts": ["slate", "sand"]},
        {"section": "turned", "length": "6 cm", "join": "none", "stack": "2 1", "wefts": ["slate", "sand"]},
    ]  # fmt: skip
    both = {"warps": ["slate", "sand"], "wefts": ["slate", "sand"]}
    pairs = {"join": "1-2 left, 3-4 left", "wefts": ["slate", "slate", "sand", "sand"]}
    return {
        "double width": built(double_weave={"join": "left"}),
        "runners": built(double_weave=both, action="rising"),
        "bag": built(double_weave={"join": "tube", "warps": ["slate", "sand"]}, weave=sections),
        "triple": built(3, 6, double_weave={"join": "left"}),
        "quadruple": built(4, 8, double_weave={"join": "left"}),
        "pairs": built(4, 8, double_weave=pairs),
        "twill": built(2, 8, double_weave={"join": "left", "weave": "2/2 twill"}),
        "paired": built(
            double_weave={"join": "right", "threading": "paired", "start": "left"},
            conventions="german",
            units="imperial",
        ),
        "two to one": built(double_weave=both | {"ratio": "2:1"}, conventions="scandinavian"),
        "eight": built(8, 16, double_weave={"join": "left"}, action="dobby"),
        "strap": built(double_weave={"join": "tube"}, cloth={"width": "2 cm", "length": "30 cm"}),
        "stripes": built(
            double_weave={"join": "left"}, action="sinking", weft_order="8 slate, 4 sand"
        ),
        "even tube": written("1/123/3/134", "(1 2 3 4) to fill", expect={"pieces": "tube", "layers": "2"}),
    }  # fmt: skip


def in_inches(weave, **changes):
    """Return a project of layers in the worked good spec, `weave` being keys of `double_weave`."""
    keys = {"layers": "2", "warps": "natural", "wefts": "natural"} | weave
    return project_of(
        **{"sett": "12 per in", "picks": "12 per in", "draft": {"double_weave": keys}} | changes
    )
