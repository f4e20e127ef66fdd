"""A student who works exercises out by trying everything, from what the sheet gives alone.

Nothing of the program is used: matrices of the picture, and what a loom does. On a rising shed a
shaft rises if any treadle pressed is tied to raise it, on a sinking one it sinks if any is tied to
sink it; a mark of the tie-up says which way it goes with that treadle alone (common practice).
"""

from itertools import combinations, product

import numpy as np


def lifts(picture, action):
    """Return which shaft is up at which pick, shape (picks, shafts), by tie-up and treadling."""
    pressed = picture.treadling.marks
    if picture.tie_up is None:
        return pressed
    return up(picture, action, pressed, picture.tie_up.marks)


def up(picture, action, pressed, marks):
    """Return which shaft is up when treadles are pressed, shape (picks, shafts), by the marks."""
    way = "sink" if action == "sinking" else "rise"
    cords = marks if picture.ties == way else ~marks
    moved = pressed.astype(int) @ cords.T.astype(int) > 0
    return ~moved if way == "sink" else moved


def shafts(picture):
    """Return the shaft of each end, from 0."""
    return np.argmax(picture.threading.marks, axis=0)


def ends_asked(picture):
    return np.flatnonzero(picture.threading.asked.any(axis=0)).tolist()


def find_shafts(picture, action):
    """Return for every blank end all shafts, from 1, on which it may be."""
    raised, cloth = lifts(picture, action), picture.drawdown.marks
    found = {}
    for end in ends_asked(picture):
        tried = range(picture.shafts)
        found[end] = {shaft + 1 for shaft in tried if (raised[:, shaft] == cloth[:, end]).all()}
    return found


def find_cloth(picture, action):
    """Return the drawdown by matrices: threading of (shafts, ends), lifts of (picks, shafts)."""
    return lifts(picture, action).astype(int) @ picture.threading.marks.astype(int) > 0


def find_ties(picture, action):
    """Return for every shaft with an end all columns of ties that weave the cloth, by trying all.

    Columns say, treadle by treadle, whether the shaft moves as marks of the tie-up have it.
    """
    pressed = picture.treadling.marks
    threaded, cloth = shafts(picture), picture.drawdown.marks
    solutions = {}
    for shaft in range(picture.shafts):
        ends = np.flatnonzero(threaded == shaft)
        tried = [np.array(each) for each in product((False, True), repeat=pressed.shape[1])]
        solutions[shaft] = [
            ties
            for ties in tried
            if all((_one(picture, action, pressed, ties) == cloth[:, end]).all() for end in ends)
        ]
    return solutions


def _one(picture, action, pressed, ties):
    return up(picture, action, pressed, ties[np.newaxis, :])[:, 0]


def find_presses(picture, action, most):
    """Return for every blank pick all sets of up to `most` treadles that weave it."""
    threaded, cloth = shafts(picture), picture.drawdown.marks
    found = {}
    for pick in np.flatnonzero(picture.treadling.asked.any(axis=1)).tolist():
        found[pick] = set()
        for many in range(1, most + 1):
            for columns in combinations(range(len(picture.columns)), many):
                pressed = np.zeros((1, len(picture.columns)), dtype=bool)
                pressed[0, list(columns)] = True
                raised = up(picture, action, pressed, picture.tie_up.marks)[0]
                if (raised[threaded] == cloth[pick]).all():
                    found[pick].add(frozenset(picture.columns[each] for each in columns))
    return found


def find_errors(picture, action):
    """Return all single ends on another shaft, and all two exchanged ends, that make the cloth.

    They are mappings of ends to shafts, from 1; the fewest ends alone.
    """
    raised, right, cloth = lifts(picture, action), shafts(picture), picture.drawdown.marks
    single = [
        {end: shaft + 1}
        for end in range(len(right))
        for shaft in range(picture.shafts)
        if shaft != right[end] and _weaves(raised, {**_plain(right), end: shaft}, cloth)
    ]
    if single:
        return single
    return [
        {one: int(right[two]) + 1, two: int(right[one]) + 1}
        for one, two in combinations(range(len(right)), 2)
        if right[one] != right[two]
        and _weaves(raised, {**_plain(right), one: right[two], two: right[one]}, cloth)
    ]


def _plain(threaded):
    return dict(enumerate(threaded.tolist()))


def _weaves(raised, threaded, cloth):
    return (raised[:, [threaded[end] for end in range(len(threaded))]] == cloth).all()
