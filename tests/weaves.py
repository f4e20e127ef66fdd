"""Weaves of one layer that several tests build cloths of; their names say their floats."""

from cards.draft.layer_weave import LayerWeave


def weave(name, threading, *lifts):
    return LayerWeave(name, threading, tuple(map(frozenset, lifts)))


TWILL = weave("2/2 twill", (1, 2, 3, 4), {1, 2}, {2, 3}, {3, 4}, {4, 1})
WEFT_TWILL = weave("1/3 twill", (1, 2, 3, 4), {1}, {2}, {3}, {4})
THREE_END = weave("1/2 twill", (1, 2, 3), {1}, {2}, {3})
BASKET = weave("basket", (1, 1, 2, 2), {1}, {1}, {2}, {2})
POINT = weave("point twill", (1, 2, 3, 4, 3, 2), {1, 2}, {2, 3}, {3, 4}, {4, 1})
