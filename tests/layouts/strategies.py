"""Drawings made by Hypothesis: every mark, anywhere on a page, in any colour."""

from typing import get_args

import numpy as np
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from layouts.drawing import Box, Cells, Disc, Figure, Line, Page, Part, Path, Picture, Role
from layouts.typeface import label
from tests.layouts.samples import picture_file

places = st.floats(0, 420, allow_nan=False)
sizes = st.floats(0.05, 300)
widths = st.floats(0.05, 5)
colours = st.integers(0, 0xFFFFFF).map("#{:06x}".format)
dashes = st.lists(st.floats(0.1, 9), max_size=4).map(tuple)
letters = st.sampled_from(" abcxyzABCXYZ0123456789.,;:-–—()<>&\"'/\\%½¼⅛×″′→éőßñŁЖя€µλΩ°")
texts = st.text(letters, min_size=1, max_size=30).filter(lambda text: text != " ")
inks = st.tuples(st.none() | colours, st.none() | colours).filter(any)

lines = st.builds(Line, places, places, places, places, widths, colours, dashes)


@st.composite
def boxes(draw):
    fill, stroke = draw(inks)
    return Box(draw(places), draw(places), draw(sizes), draw(sizes), fill, stroke, draw(widths))


@st.composite
def discs(draw):
    fill, stroke = draw(inks)
    return Disc(draw(places), draw(places), draw(sizes), fill, stroke, draw(widths))


@st.composite
def paths(draw):
    kinds = draw(st.lists(st.sampled_from("MLCZ"), min_size=1, max_size=8))
    count = {"M": 2, "L": 2, "C": 6, "Z": 0}
    steps = [(kind, *(draw(places) for _ in range(count[kind]))) for kind in ["M", *kinds]]
    fill, stroke = draw(inks)
    at = draw(st.sampled_from([(0.0, 0.0), (12.5, 7.25), (-3.125, 40.0)]))
    return Path(tuple(steps), fill, stroke, draw(widths), draw(dashes), at)


labels = st.builds(
    label,
    places,
    places,
    texts,
    st.floats(9, 60),
    st.sampled_from(["regular", "bold"]),
    st.sampled_from(["start", "middle", "end"]),
    colours,
)
grids = arrays(np.bool_, st.tuples(st.integers(1, 12), st.integers(1, 12)))
cells = st.builds(Cells, places, places, sizes, sizes, grids.filter(np.any), colours)
pictures = st.builds(
    Picture,
    places,
    places,
    sizes,
    sizes,
    st.sampled_from([picture_file(), picture_file(size=(2, 9)), picture_file("jpeg")]),
    texts.map(lambda text: f"a{text}z"),
    texts.map(lambda text: f"a{text}z"),
)
plain_marks = st.one_of(lines, boxes(), discs(), paths(), labels, cells)
figures = st.builds(
    Figure,
    st.lists(plain_marks, max_size=3).map(tuple),
    texts.map(lambda text: f"a{text}z"),
    texts.map(lambda text: f"a{text}z"),
)
# What is heard as one thing, or not at all, has no figures in it that could be told apart.
WHOLE = {"tick box", "decoration", "page head", "page foot"}
wholes = st.builds(
    Part, st.lists(plain_marks, max_size=3).map(tuple), st.sampled_from(sorted(WHOLE))
)
roles = st.sampled_from([role for role in get_args(Role) if role not in WHOLE])
parts = st.recursive(
    st.one_of(plain_marks, figures, pictures, wholes),
    lambda inner: st.builds(Part, st.lists(inner, max_size=3).map(tuple), roles),
    max_leaves=6,
)
marks = st.one_of(plain_marks, figures, pictures, parts)
pages = st.builds(
    Page,
    st.floats(74, 1000),
    st.floats(74, 1000),
    st.lists(marks, max_size=6).map(tuple),
    texts,
)
