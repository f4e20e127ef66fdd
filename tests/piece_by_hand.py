"""A layered piece judged from its threading, lifts and shuttles alone, one pick after another.

Shares no code with the program: which layer a pick lies in is seen from the ends that it raises,
where a shuttle turns from counting its picks, and whether the weave runs on over a fold by walking
on over the ends of the next layer.
"""

from itertools import pairwise

import networkx as nx

from tests.bench_by_hand import ACROSS, CLOSED


def layer_of(lift, threading, end_layers, stack):
    """The layer that a pick weaves: all above are raised, none below, its own in part."""
    states = []
    for layer in stack:
        raised = {
            shaft in lift
            for shaft, each in zip(threading, end_layers, strict=True)
            if each == layer
        }
        states.append("both" if len(raised) > 1 else "up" if raised.pop() else "down")
    own = [place for place, state in enumerate(states) if state == "both"]
    if len(own) != 1:
        return None
    above, below = states[: own[0]], states[own[0] + 1 :]
    return stack[own[0]] if set(above) <= {"up"} and set(below) <= {"down"} else None


def shuttle_sides(shuttles, start):
    """The side from which each pick comes, when all shuttles start at one side."""
    lies, sides = {}, []
    for shuttle in shuttles:
        side = lies.get(shuttle, start)
        sides.append(side)
        lies[shuttle] = ACROSS[side]
    return sides


def wrong_layers(threading, end_layers, lifts, stretches):
    """Picks that do not weave just one layer of those asked for; the layer of every pick."""
    layers, wrong, pick = [], [], 0
    for stretch in stretches:
        for _ in range(stretch.picks):
            if stretch.closed:
                layers.append(CLOSED)
            else:
                layers.append(
                    layer_of(lifts[pick], threading, end_layers, stretch.order_of_layers())
                )
                if layers[-1] is None:
                    wrong.append(pick)
            pick += 1
    return layers, wrong


def wrong_turns(layers, shuttles, sides, stretches):
    """Picks after which a shuttle goes elsewhere than the joins of the section say."""
    wrong, first = [], 0
    for stretch in stretches:
        beyond, last = stretch.beyond(), {}
        for pick in range(first, first + stretch.picks):
            before = last.get(shuttles[pick])
            if before is not None and not stretch.closed:
                side = ACROSS[sides[before]]
                if layers[pick] != beyond.get((layers[before], side), layers[before]):
                    wrong.append(pick)
            last[shuttles[pick]] = pick
        first += stretch.picks
    return wrong


def edge_float(threading, end_layers, lift, layer, side, first_end):
    """Whether the edge end of a layer is raised, and how many ends from there on are the same."""
    ends = [end for end, each in enumerate(end_layers) if each == layer]
    if side != first_end:
        ends.reverse()
    raised = [threading[end] in lift for end in ends]
    length = 1
    while length < len(raised) and raised[length] == raised[0]:
        length += 1
    return raised[0], length


def floats_over_folds(threading, end_layers, lifts, layers, shuttles, sides, first_end):
    """The floats over every turn from one layer to another: (pick, next pick, ends passed).

    The cloth turns over there, so the weft stays on one face when one edge end is raised and the
    other is not. Turns to or from layers woven together are no folds.
    """
    last, found = {}, []
    for pick, shuttle in enumerate(shuttles):
        before = last.get(shuttle)
        last[shuttle] = pick
        if before is None or CLOSED in layers[before : pick + 1] or layers[before] == layers[pick]:
            continue
        side = ACROSS[sides[before]]
        one, two = (
            edge_float(threading, end_layers, lifts[each], layers[each], side, first_end)
            for each in (before, pick)
        )
        if one[0] != two[0]:
            found.append((before, pick, one[1] + two[1]))
    return found


def sheds_by_layer(threading, end_layers, lifts, layers):
    """The ends that each pick raises of its own layer, layer by layer, spell by spell.

    A spell ends where all layers are woven together, which are then a layer of their own.
    """
    spells, woven = [], {}
    for pick, layer in enumerate(layers):
        if woven and (layer == CLOSED) != (CLOSED in woven):
            spells.append(woven)
            woven = {}
        own = tuple(
            shaft in lifts[pick]
            for shaft, each in zip(threading, end_layers, strict=True)
            if layer in (CLOSED, each)
        )
        woven.setdefault(layer, []).append(own)
    return [*spells, woven]


def run_alike(spells):
    """How many picks run in the same shed as the one before in their layer."""
    return sum(
        one == two for spell in spells for sheds in spell.values() for one, two in pairwise(sheds)
    )


def hangs_together(threading, lifts):
    """Which threads hang together: strongly connected components, by networkx."""
    graph = nx.DiGraph()
    for pick, lift in enumerate(lifts):
        for end, shaft in enumerate(threading):
            over, under = (("end", end), ("pick", pick))
            graph.add_edge(*((over, under) if shaft in lift else (under, over)))
    return [frozenset(each) for each in nx.strongly_connected_components(graph)]
