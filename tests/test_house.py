"""The rooms of the house: arrows run one way, and nothing goes round in a circle."""

import ast
from pathlib import Path

import networkx as nx
import pytest

ROOT = Path(__file__).parents[1]
MODULES = {
    ".".join(path.relative_to(ROOT).with_suffix("").parts): path
    for folder in ("cards", "layouts")
    for path in (ROOT / folder).rglob("*.py")
}

GROUND = ("cards.spec", "cards.calculation", "cards.loom", "cards.cloth")


def imports_of(path):
    """Return every module that a file imports, also within functions and for types only."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
            found.update(f"{node.module}.{alias.name}" for alias in node.names)
    return found


IMPORTS = {name: imports_of(path) for name, path in MODULES.items()}


def within(name, room):
    return name == room or name.startswith(f"{room}.")


def arrows():
    for name, imported in IMPORTS.items():
        for other in imported:
            if other in MODULES or f"{other}.__init__" in MODULES:
                yield name.removesuffix(".__init__"), other


@pytest.mark.parametrize("room", GROUND)
def test_the_rooms_of_the_ground_floor_do_not_know_one_another(room):
    others = [other for other in GROUND if other != room]
    known = [
        (name, other)
        for name, other in arrows()
        if within(name, room) and any(within(other, each) for each in others)
    ]
    assert known == []


def test_the_cards_know_no_page_and_no_ink():
    forbidden = ("layouts", "reportlab", "svgwrite", "pypdf", "PIL", "click")
    known = [
        (name, other)
        for name, imported in IMPORTS.items()
        if within(name, "cards")
        for other in imported
        if any(within(other, each) for each in forbidden)
    ]
    assert known == []


def test_the_draft_knows_neither_spec_nor_project():
    known = [
        (name, other)
        for name, other in arrows()
        if within(name, "cards.draft")
        and any(within(other, each) for each in ("cards.spec", "cards.project"))
    ]
    assert known == []


def test_writers_know_shapes_and_not_weaving():
    writers = {
        f"layouts.{name}"
        for name in (
            "binder_pdf",
            "cells",
            "drawing",
            "extent",
            "greys",
            "metadata",
            "packed",
            "patch",
            "pdf",
            "raster",
            "svg",
            "tagging",
            "transform",
            "typeface",
        )
    }
    assert writers <= set(MODULES)
    known = [
        (name, other) for name, other in arrows() if name in writers and within(other, "cards")
    ]
    assert known == []


def test_nothing_goes_round_in_a_circle():
    # A package's __init__ gathers names from its own modules; only real modules are held apart.
    graph = nx.DiGraph(
        (name, other)
        for name, other in arrows()
        if other in MODULES and not within(other, f"{name}.__init__")
    )
    circles = [group for group in nx.strongly_connected_components(graph) if len(group) > 1]
    assert circles == []
