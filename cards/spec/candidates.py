"""Candidates of a spec: named changes to it, put into the tree of nodes before it is modelled.

A key that a candidate gives is merged into the spec: a mapping key by key, all else replaces what
is there. What `without` names is taken out first. Four things are replaced whole, since a mixture
of two would be neither: a tie-up, a loom that is named or comes from a file, a reference, and a
yarn of which more is changed than what does not touch its size (`_SAME_YARN`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from cards.spec.findings import Finding, Level, Place
from cards.spec.nodes import Listing, Mapping, Node
from cards.spec.quoting import shortened
from cards.spec.refusal import NotationError
from cards.spec.scalars import Scalar
from cards.spec.source import Lines
from cards.spec.texts import read_line
from cards.spec.words import plain_name, suggestion

KEY = "candidates"
# What the spec as it is written is called where no candidate names it.
AS_WRITTEN = "as written"
MOST_CANDIDATES = 40
LONGEST_NAME = 40

_MOST_TOLD = 100
_NAME, _WITHOUT = "candidate", "without"
# Keys of a yarn that say nothing of how thick it is or what it is spun from.
_SAME_YARN = frozenset({"price", "put_up", "colour", "letter", "on_hand", "lot"})
# Allowances that differ from fibre to fibre; the others are those of the loom and the weaver.
_OF_THE_YARN = frozenset({"take_up", "relaxation", "draw_in", "shrinkage", "weft_take_up"})
SAME_FOR_ALL = {
    "loomfolio": "a file is written in one version",
    KEY: "a candidate is a change to the spec, not to another candidate",
    "class": "a class is for the spec, and `handouts` takes one candidate for all its seats",
    "looms": "every candidate is tried on the loom, and `--loom` tries it on another",
    "paper": "the candidates are printed on one sheet",
    "units": "figures are compared in one unit",
}


@dataclass(frozen=True, slots=True)
class _Entry:
    """One candidate as written; `name` is as it is printed."""

    name: str
    node: Mapping

    @property
    def changes(self) -> bool:
        """Whether it changes anything, or is the spec as written by a name."""
        return bool(self.node.keys.keys() - {_NAME})


class Candidates:
    """The candidates of one spec, taken out of its tree, with what is wrong with them."""

    def __init__(self, root: Mapping, lines: Lines) -> None:
        """Take the candidates out of the tree of a spec."""
        self._root, self._lines = root, lines
        self._key = root.keys.pop(KEY, None)
        self.findings: list[Finding] = []
        self._entries = self._read(root.values.pop(KEY, None))

    @property
    def names(self) -> tuple[str, ...]:
        """What is to be compared, in order: the candidates, and the spec as written if unnamed."""
        names = [entry.name for entry in self._entries]
        if names and all(entry.changes for entry in self._entries):
            names.insert(0, AS_WRITTEN)
        return tuple(names)

    @property
    def places(self) -> tuple[Place, ...]:
        """Where the names stand; that of the spec as written is at the head of the list."""
        nodes: list[Node | None] = [entry.node.values[_NAME] for entry in self._entries]
        if len(nodes) < len(self.names):
            nodes.insert(0, self._key)
        return tuple(self._lines.place(node.start if node else 0) for node in nodes)

    def use(self, name: str) -> str | None:
        """Change the tree into the candidate of that name, and return the name as it is written.

        That of the spec as written is empty where no candidate names it. None if there is none.
        """
        called = plain_name(name)
        if called == plain_name(AS_WRITTEN) and AS_WRITTEN in self.names:
            return ""
        entry = next((each for each in self._entries if plain_name(each.name) == called), None)
        if entry is None:
            what = f"there is no candidate '{shortened(name)}'"
            mend = suggestion(name, self.names) if self.names else f"add it under `{KEY}:`"
            self._tell("no-such-candidate", what, mend, self._key)
            return None
        if not self._take_out(entry):
            return None
        self._look_at_allowances(entry)
        for key in entry.node.keys:
            if key not in SAME_FOR_ALL and key not in (_NAME, _WITHOUT):
                _merge(self._root, entry.node, key, (key,))
        return entry.name

    def _look_at_allowances(self, entry: _Entry) -> None:
        """Warn of allowances of the spec that are kept for a yarn they were not taken from."""
        yarns = entry.node.values.get("yarns")
        own = self._root.values.get("allowances")
        given = own.keys if isinstance(own, Mapping) else {}
        kept = [key for key in given if key in _OF_THE_YARN]
        if not kept or "allowances" in entry.node.keys or not isinstance(yarns, Mapping):
            return
        for key, yarn in yarns.values.items():
            if isinstance(yarn, Mapping) and _is_whole(("yarns", key), yarn):
                what = f"'{shortened(key)}' is another yarn, and the allowances are still those "
                self._tell("allowances-kept", f"{what}of the spec: {', '.join(kept)}",
                           "give this candidate its own `allowances`, or `without: allowances`",
                           yarns.keys[key], "warning")  # fmt: skip
                return

    def _read(self, node: Node | None) -> tuple[_Entry, ...]:
        if node is None:
            return ()
        if not isinstance(node, Listing):
            self._tell("wrong-shape", f"'{KEY}' must be a list",
                       "begin each candidate with `- candidate: cotton`", node)  # fmt: skip
            return ()
        if len(node.items) > MOST_CANDIDATES:
            self._tell("too-many-candidates", f"there are {len(node.items)} candidates",
                       f"keep {MOST_CANDIDATES} at most", node)  # fmt: skip
            return ()
        entries = [entry for each in node.items if (entry := self._entry(each)) is not None]
        self._check_names(entries)
        for entry in entries:
            self._check_keys(entry)
        return tuple(entries)

    def _entry(self, node: Node) -> _Entry | None:
        if not isinstance(node, Mapping):
            self._tell("wrong-shape", f"an item of '{KEY}' must be a mapping of keys",
                       "begin it with `candidate: cotton`", node)  # fmt: skip
            return None
        name = node.values.get(_NAME)
        if name is None:
            if _NAME not in node.keys:  # one without a value has been told
                self._tell("nameless-candidate", "this candidate has no name",
                           "add `candidate: cotton`", node)  # fmt: skip
            return None
        try:
            return _Entry(read_line(_text(name), LONGEST_NAME), node)
        except NotationError as error:
            self._tell(error.code, f"'{_NAME}': {error.message}", error.mend, name)
            return None

    def _check_names(self, entries: Iterable[_Entry]) -> None:
        taken: dict[str, str] = {}
        unchanged: str | None = None
        for entry in entries:
            where = entry.node.values[_NAME]
            called = plain_name(entry.name)
            if called in taken:
                self._tell("candidate-twice", f"two candidates are called '{entry.name}'",
                           "give one of them another name", where)  # fmt: skip
            elif called == plain_name(AS_WRITTEN) and entry.changes:
                self._tell("candidate-twice", f"'{entry.name}' is what the spec without changes "
                           "is called", "give the candidate another name", where)  # fmt: skip
            elif not entry.changes and unchanged is not None:
                self._tell("candidate-twice", f"'{unchanged}' and '{entry.name}' are the same: "
                           "both change nothing", "say what is changed", where)  # fmt: skip
            taken[called] = entry.name
            unchanged = unchanged if entry.changes else unchanged or entry.name

    def _check_keys(self, entry: _Entry) -> None:
        for key, scalar in entry.node.keys.items():
            if key in SAME_FOR_ALL:
                self._tell("same-for-all", f"a candidate cannot have its own `{key}`: "
                           f"{SAME_FOR_ALL[key]}", "write it once, for the spec",
                           scalar)  # fmt: skip

    def _take_out(self, entry: _Entry) -> bool:
        """Take out what a candidate is `without`; False if any of it is not there."""
        before = len(self.findings)
        for scalar in self._paths(entry.node.values.get(_WITHOUT)):
            if len(self.findings) >= _MOST_TOLD:
                break
            path = scalar.value.strip()
            *way, last = path.split(".")
            holder: Node | None = self._root
            for step in way:
                holder = holder.values.get(step) if isinstance(holder, Mapping) else None
            if not way and last in SAME_FOR_ALL:
                self._tell("same-for-all", f"a candidate cannot be without `{last}`: "
                           f"{SAME_FOR_ALL[last]}", "leave it in", scalar)  # fmt: skip
            elif isinstance(holder, Mapping) and last in holder.keys:
                del holder.keys[last]
                holder.values.pop(last, None)
            else:
                known = list(_paths_of(self._root))
                mend = suggestion(path, known) if known else "name a key of the spec"
                self._tell("no-such-key", f"the spec has no '{shortened(path)}' to be without",
                           mend, scalar)  # fmt: skip
        return len(self.findings) == before

    def _paths(self, node: Node | None) -> Iterator[Scalar]:
        items = node.items if isinstance(node, Listing) else [node] if node is not None else []
        for each in items:
            if isinstance(each, Scalar):
                yield each
            else:
                self._tell("wrong-shape", f"'{_WITHOUT}' is a list of keys of the spec",
                           "write it as [weft_order, cloth.fringe]", each)  # fmt: skip

    def _tell(
        self, code: str, message: str, mend: str, node: Node | None, level: Level = "error"
    ) -> None:
        if len(self.findings) < _MOST_TOLD:
            place = self._lines.place(node.start if node is not None else 0)
            self.findings.append(Finding(level, code, message, mend, place))


def _text(node: Node) -> object:
    """Return a node as the readers of words take it."""
    if isinstance(node, Scalar):
        return node.value
    return [] if isinstance(node, Listing) else {}


def _paths_of(root: Mapping) -> Iterator[str]:
    """Yield every key that a candidate may be without, down to the keys of the spec's mappings."""
    for key in root.keys:
        if key in SAME_FOR_ALL:
            continue
        yield key
        inner = root.values.get(key)
        if isinstance(inner, Mapping):
            yield from (f"{key}.{each}" for each in inner.keys)


def _merge(into: Mapping, change: Mapping, key: str, path: tuple[str, ...]) -> None:
    """Put the key of a change into a mapping of the spec; no tree is too deep for that."""
    old, new = into.values.get(key), change.values.get(key)
    if isinstance(old, Mapping) and isinstance(new, Mapping) and not _is_whole(path, new):
        for each in new.keys:
            _merge(old, new, each, (*path, each))
        return
    into.keys[key] = change.keys[key]
    if new is None:
        into.values.pop(key, None)
    else:
        into.values[key] = new


def _is_whole(path: tuple[str, ...], new: Mapping) -> bool:
    """Whether a mapping at `path` replaces that of the spec instead of going into it."""
    if "from" in new.keys or path == ("draft", "tie_up"):
        return True
    if path == ("loom",):
        return "name" in new.keys
    return path[0] == "yarns" and len(path) == 2 and not new.keys.keys() <= _SAME_YARN
