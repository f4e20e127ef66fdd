"""The weft's walk, thread by thread round the folds, recorded on a map of the unfolded cloth.

Shares no code with the program: a shuttle is moved over one end after another, keeps its heading on
the map when it goes round a fold, and turns about when it stays in its layer. Going round a fold
turns the cloth over, so what is over becomes under.
"""

from collections import defaultdict


def unfolded(threading, lifts, end_layers, pick_layers, shuttles, start, first_end="right"):
    """One map for each shuttle, from (column, row) to (end, whether it is over on the face).

    Each shuttle starts at column 0, row 0, heading for higher columns.
    """
    maps = defaultdict(dict)
    state = {}
    for pick, (layer, shuttle) in enumerate(zip(pick_layers, shuttles, strict=True)):
        if shuttle not in state:
            state[shuttle] = {"column": 0, "row": 0, "heading": 1, "face": True, "side": start}
        else:
            now = state[shuttle]
            if layer == now["layer"]:
                now["heading"] = -now["heading"]
                now["row"] += 1
                now["column"] += now["heading"]
            else:
                now["face"] = not now["face"]
        now = state[shuttle]
        now["layer"] = layer
        ends = [end for end in range(len(threading)) if end_layers[end] == layer]
        if now["side"] != first_end:
            ends.reverse()
        for end in ends:
            over = threading[end] in lifts[pick]
            place = now["column"], now["row"]
            assert place not in maps[shuttle]
            maps[shuttle][place] = end, over if now["face"] else not over
            now["column"] += now["heading"]
        now["side"] = "left" if now["side"] == "right" else "right"
    return dict(maps)


def alike(cloth, step):
    """The places whose neighbour a `step` (columns, rows) away is the same on the face.

    (1, 0) leads along the weft, (0, 1) along the warp; in a tube of w ends the weft never turns,
    and (w, 0) leads once round it, along the warp.
    """
    return [
        (column, row)
        for (column, row), (_, over) in sorted(cloth.items())
        if (column + step[0], row + step[1]) in cloth
        and cloth[column + step[0], row + step[1]][1] == over
    ]
