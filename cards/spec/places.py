"""Where in the file a value of the spec stands, down to the character.

A path is what leads to the value: `("weave", 0, "length")`.
"""

from __future__ import annotations

from itertools import islice

from cards.spec.findings import Place
from cards.spec.nodes import Listing, Mapping, Node
from cards.spec.scalars import Scalar
from cards.spec.source import Lines

Step = str | int


class Places:
    """The places of one spec file."""

    def __init__(self, root: Mapping | None, lines: Lines) -> None:
        """Keep the tree and the text that it was read from."""
        self._root = root
        self._lines = lines

    def of(self, *path: Step, offset: int = 0) -> Place:
        """Return the place of a value, or of the character `offset` of a scalar.

        A path that leads nowhere gives the nearest key or value above it that exists.
        """
        trail = self._trail(path)
        node, key, lines = trail[-1]
        if key is not None and (len(trail) <= len(path) or isinstance(node, (Mapping, type(None)))):
            return _start(key, lines)
        if isinstance(node, Scalar):
            lines = node.lines or lines
            return lines.place(node.index(lines.text, offset))
        return lines.place(0) if node is None else _start(node, lines)

    def in_text(self, *path: Step, text: str, offset: int) -> Place:
        """Return the place of the character `offset` of a `text` that was read at a path.

        Spaces and line ends may have been changed since; all else is as it was written.
        """
        node = self._trail(path)[-1][0]
        if isinstance(node, Scalar):
            ink = sum(not character.isspace() for character in text[:offset])
            inked = (at for at, each in enumerate(node.value) if not each.isspace())
            offset = next(islice(inked, ink, None), len(node.value))
        return self.of(*path, offset=offset)

    def key(self, *path: Step) -> Place:
        """Return the place of a key; of the item itself in a list, of a parent if it is missing."""
        node, key, lines = self._trail(path)[-1]
        if key is not None:
            return _start(key, lines)
        return lines.place(0) if node is None else _start(node, lines)

    def has(self, *path: Step) -> bool:
        """Whether something is written at this path, be it a key without a value."""
        return len(self._trail(path)) == len(path) + 1

    def keys(self, *path: Step) -> tuple[str, ...]:
        """Return the keys written in the mapping at this path, none if there is no mapping."""
        trail = self._trail(path)
        node = trail[-1][0]
        if len(trail) != len(path) + 1 or not isinstance(node, Mapping):
            return ()
        return tuple(node.keys)

    def _trail(self, path: tuple[Step, ...]) -> list[tuple[Node | None, Scalar | None, Lines]]:
        """Every node on the way with its key, as far as the path leads; the root first.

        The third of each is the file that it stands in, unless node or key say another.
        """
        node: Node | None = self._root
        lines = self._lines
        trail: list[tuple[Node | None, Scalar | None, Lines]] = [(node, None, lines)]
        for step in path:
            key: Scalar | None = None
            lines = (node.lines if node is not None else None) or lines
            if isinstance(node, Mapping) and str(step) in node.keys:
                key = node.keys[str(step)]
                node = node.values.get(str(step))
            elif isinstance(node, Listing) and isinstance(step, int) and step < len(node.items):
                node = node.items[step]
                key = node.asked if isinstance(node, Mapping) else None
            else:
                break
            trail.append((node, key, lines))
        return trail


def _start(node: Node, lines: Lines) -> Place:
    return (node.lines or lines).place(node.start)
