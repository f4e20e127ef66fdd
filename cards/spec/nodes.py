"""A YAML text as a small tree in which every scalar is text and knows where it stands.

Built from the parser's events, one loop and no recursion, so that a hostile file can be refused
at the first event that is out of bounds. Aliases, tags, merge keys and duplicate keys are no
part of the spec format. The events come from PyYAML, through libyaml where it is built in.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from cards.spec.findings import Finding
from cards.spec.quoting import shortened
from cards.spec.scalars import Scalar, clean
from cards.spec.source import Lines
from cards.spec.yaml_errors import syntax_finding

DEEPEST = 20
_MOST_TOLD = 200
_PARSER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(slots=True)
class Listing:
    """A YAML sequence; `lines` is its file where that is not the file of what holds it."""

    start: int
    items: list[Node] = field(default_factory=list)
    lines: Lines | None = None


@dataclass(slots=True)
class Mapping:
    """A YAML mapping, as keys and values in the order in which they are written.

    `lines` is its file where that is not the file of what holds it; `asked` is where the reference
    stands in the place of which it was put.
    """

    start: int
    keys: dict[str, Scalar] = field(default_factory=dict)
    values: dict[str, Node] = field(default_factory=dict)
    waiting: Scalar | None = None
    lines: Lines | None = None
    asked: Scalar | None = None


Node = Scalar | Listing | Mapping


class _Refused(Exception):  # noqa: N818  (never leaves this module)
    def __init__(self, index: int, code: str, message: str, mend: str) -> None:
        super().__init__(message)
        self.index, self.code, self.message, self.mend = index, code, message, mend


def compose(lines: Lines) -> tuple[Mapping | None, list[Finding]]:
    """Return the tree of a text and what is wrong with it; None when nothing can be used.

    Duplicate keys and keys without a value are told, all of them, and the rest is kept.
    """
    findings: list[Finding] = []
    try:
        root = _Builder(lines, findings).build()
    except _Refused as refused:
        place = lines.place(refused.index)
        findings.append(Finding("error", refused.code, refused.message, refused.mend, place))
        return None, findings
    except yaml.YAMLError as error:
        findings.append(syntax_finding(error, lines))
        return None, findings
    except (ValueError, OverflowError):
        # PyYAML's own parser, unlike libyaml, lets an escape beyond all characters through.
        index = max(0, lines.text.find("\\U"))
        message, mend = "an escape stands for no character", "write the character itself"
        findings.append(Finding("error", "not-yaml", message, mend, lines.place(index)))
        return None, findings
    return root, findings


class _Builder:
    def __init__(self, lines: Lines, findings: list[Finding]) -> None:
        self.lines = lines
        self.findings = findings
        self.open: list[Listing | Mapping] = []
        self.root: Node | None = None
        self.documents = 0

    def build(self) -> Mapping:
        for event in self.events():
            self.take(event)
        if self.root is None:
            raise _Refused(0, "empty-file", "the file holds only comments", "write a spec in it")
        if not isinstance(self.root, Mapping):
            message = "the spec is not a mapping of keys to values"
            raise _Refused(
                self.root.start, "not-a-mapping", message, "begin with `loomfolio: 1`, a key a line"
            )
        return self.root

    def events(self) -> Iterator[yaml.Event]:
        return iter(yaml.parse(self.lines.text, Loader=_PARSER))

    def take(self, event: yaml.Event) -> None:
        start = _index(event.start_mark)
        if isinstance(event, yaml.DocumentStartEvent):
            self.documents += 1
            if self.documents > 1:
                message = "a second document begins here"
                raise _Refused(start, "many-documents", message, "keep one project in a file")
        elif isinstance(event, yaml.NodeEvent):
            _plain_only(event, start)
            if isinstance(event, yaml.ScalarEvent):
                self.scalar(Scalar(event.value, start, _index(event.end_mark), event.style or None))
            elif isinstance(event, yaml.MappingStartEvent):
                self.descend(Mapping(start))
            else:
                self.descend(Listing(start))
        elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            self.open.pop()

    def descend(self, node: Listing | Mapping) -> None:
        parent = self.open[-1] if self.open else None
        if isinstance(parent, Mapping) and parent.waiting is None:
            message = "a list or a mapping stands where a key is wanted"
            raise _Refused(node.start, "bad-key", message, "write the key as one word")
        if len(self.open) >= DEEPEST:
            message = f"the brackets or indents are nested deeper than {DEEPEST}"
            raise _Refused(node.start, "nested-too-deep", message, "make the nesting shallower")
        self.place(node)
        self.open.append(node)

    def scalar(self, node: Scalar) -> None:
        for index, code, message in clean(node, self.lines.text):
            self.tell(index, code, message, "delete it")
        parent = self.open[-1] if self.open else None
        if not isinstance(parent, Mapping) or parent.waiting is not None:
            self.place(node)
            return
        if node.value == "<<" and node.style is None:
            message = "merge keys (`<<`) are no part of a spec"
            raise _Refused(node.start, "merge-key", message, "write the values out")
        parent.waiting = node

    def place(self, node: Node) -> None:
        parent = self.open[-1] if self.open else None
        if parent is None:
            self.root = node
        elif isinstance(parent, Listing):
            parent.items.append(node)
        else:
            self.pair(parent, node)

    def pair(self, parent: Mapping, node: Node) -> None:
        key = parent.waiting
        parent.waiting = None
        if key is None:  # `take` never pairs a value without its key
            return
        if key.value in parent.keys:
            first = self.lines.place(parent.keys[key.value].start).line
            message = f"the key '{shortened(key.value)}' stands here twice, first in line {first}"
            self.tell(key.start, "duplicate-key", message, "keep one of the two")
            return
        parent.keys[key.value] = key
        if isinstance(node, Scalar) and node.style is None and not node.value:
            self.empty(key)
        else:
            parent.values[key.value] = node

    def empty(self, key: Scalar) -> None:
        rest = self.lines.text[key.end :].split("\n", 1)[0].strip()
        comment = rest.removeprefix(":").strip()
        mend = "write its value, or leave the key out"
        if comment.startswith("#"):
            word = shortened(comment.split()[0].rstrip(",}]"))
            mend = f'YAML reads # as a comment; put quotes round it: "{word}"'
        elif self.lines.text[: key.start].endswith("{") and comment.startswith("}"):
            shown = f"{{{shortened(key.value)}}}"
            mend = f'YAML reads braces as a mapping; put quotes round the whole text: "{shown} ..."'
        self.tell(key.start, "empty-value", f"'{shortened(key.value)}' has no value", mend)

    def tell(self, index: int, code: str, message: str, mend: str) -> None:
        if len(self.findings) < _MOST_TOLD:
            self.findings.append(Finding("error", code, message, mend, self.lines.place(index)))


def _index(mark: Any) -> int:  # noqa: ANN401  (libyaml's marks and PyYAML's share no type)
    return int(mark.index)


def _plain_only(event: yaml.NodeEvent, start: int) -> None:
    if isinstance(event, yaml.AliasEvent):
        message = f"`*{shortened(event.anchor or '')}` stands for something written elsewhere"
        raise _Refused(start, "alias", message, "write the value out")
    if event.anchor is not None:
        anchor = shortened(event.anchor)
        message = f"`&{anchor}` names a value to be used again, which a spec cannot do"
        raise _Refused(start, "anchor", message, f"delete &{anchor}")
    tag = getattr(event, "tag", None)
    if tag is not None:
        shown = shortened(tag.replace("tag:yaml.org,2002:", "!!"))
        message = f"the tag `{shown}` is no part of a spec"
        raise _Refused(start, "tag", message, "delete the tag")


def plain(node: Node) -> object:
    """Return the tree as dict, list and str."""
    if isinstance(node, Scalar):
        return node.value
    if isinstance(node, Listing):
        return [plain(each) for each in node.items]
    return {key: plain(each) for key, each in node.values.items()}
