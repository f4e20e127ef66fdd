"""Looms and yarns kept once in a file beside the specs: `{from: looms.yaml, name: attic}`.

What the file says of a loom or yarn is put in the place of the reference; keys written beside
`from` win over those of the file. The file is read under the rules of a spec, may refer to a
further one, and lies in the folder of the spec or below it: a spec from elsewhere must not read
what is not its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from cards.spec.findings import Finding, Place
from cards.spec.kept import strange_keys
from cards.spec.kept_source import KeptSource, kept_name
from cards.spec.nodes import Listing, Mapping, Node, compose
from cards.spec.opening import read_bytes
from cards.spec.quoting import shortened
from cards.spec.scalars import Scalar
from cards.spec.source import Lines, decoded
from cards.spec.words import plain_name, suggestion

# The file that `--loom` looks into when a spec names none.
USUAL_FILE = "looms.yaml"
_MOST_FILES = 20
_KINDS = {"looms": "loom", "yarns": "yarn"}
_NO_FOLDER = "a spec from standard input has no folder beside which a file could lie"


@dataclass(frozen=True, slots=True)
class _File:
    """A file of looms and yarns, read; `name` is relative to the folder of the spec."""

    name: str
    path: Path
    root: Mapping
    lines: Lines
    data: bytes = b""


class _Refused(Exception):  # noqa: N818  (never leaves this module)
    """Raised when a reference leads nowhere; `findings` says why."""

    def __init__(self, *findings: Finding) -> None:
        super().__init__()
        self.findings = findings


class References:
    """The references of one spec, and the files that they lead to, each read once."""

    def __init__(self, root: Mapping, lines: Lines, spec: Path | None) -> None:
        """Begin with a spec's tree; `spec` is its path, None if it has no folder."""
        # The spec may be a link: files lie beside the link, as the weaver sees them.
        self._folder = _resolved(spec.parent) if spec is not None else None
        path = self._folder / spec.name if spec is not None and self._folder else Path()
        self._spec = _File(path.name, path, root, lines)
        self._files: dict[Path, _File] = {}
        self._kept: dict[str, KeptSource] = {}
        self.findings: list[Finding] = []

    @property
    def kept(self) -> tuple[KeptSource, ...]:
        """The files that were read, in the order of their names."""
        return tuple(self._kept[name] for name in sorted(self._kept))

    def resolve(self) -> bool:
        """Put what they refer to in the place of all references; False if any leads nowhere."""
        root = self._spec.root
        loom = root.values.get("loom")
        if loom is not None:
            root.values["loom"] = self._resolved(loom, "looms")
        looms = root.values.get("looms")
        if isinstance(looms, Listing):
            looms.items = [self._resolved(each, "looms") for each in looms.items]
        yarns = root.values.get("yarns")
        if isinstance(yarns, Mapping):
            for key, yarn in yarns.values.items():
                yarns.values[key] = self._resolved(yarn, "yarns", key)
        return not any(finding.level == "error" for finding in self.findings)

    def use_loom(self, name: str) -> bool:
        """Put the loom of that name in the place of all looms of the spec; False if there is none.

        It is looked for in the spec, then in the files that its looms come from, then in
        `looms.yaml` beside it.
        """
        root = self._spec.root
        known: list[str] = []
        for file, loom in self._looms():
            called = _name_of(loom)
            if called is None:
                continue
            if plain_name(called) == plain_name(name):
                key = self._key_of(file, loom)
                try:
                    root.values["loom"] = self._merged(file, loom, "looms", None, (file.path,))
                except _Refused as refused:
                    self.findings += refused.findings
                    return False
                root.keys["loom"] = key
                root.keys.pop("looms", None)
                root.values.pop("looms", None)
                return True
            known.append(called)
        place = self._place(self._spec, root.keys.get("loom"))
        what = f"there is no loom '{shortened(name)}' in the spec, nor in a file that it names"
        mend = suggestion(name, dict.fromkeys(known)) if known else f"add it to {USUAL_FILE}"
        self.findings.append(Finding("error", "no-such-loom", what, mend, place))
        return False

    def _key_of(self, file: _File, loom: Mapping) -> Scalar:
        """Return what stands for the key of a loom that is put in the place of the spec's own."""
        own = self._spec.root
        if loom is own.values.get("loom"):
            return own.keys["loom"]
        lines = loom.lines or file.lines
        return loom.asked or Scalar("loom", loom.start, loom.start, None, lines=lines)

    def _looms(self) -> Iterator[tuple[_File, Mapping]]:
        """Every loom that there is to choose from, the spec's own first."""
        own = self._spec.root.values.get("loom")
        if isinstance(own, Mapping):
            yield self._spec, own
        yield from _entries(self._spec)
        for file in list(self._files.values()):
            yield from _entries(file)
        if self._folder is not None and (self._folder / USUAL_FILE).is_file():
            try:
                yield from _entries(self._opened(self._spec, Scalar(USUAL_FILE, 0, 0, None)))
            except _Refused as refused:
                self.findings += refused.findings

    def _resolved(self, node: Node, kind: str, key: str | None = None) -> Node:
        if not isinstance(node, Mapping) or "from" not in node.keys:
            return node
        try:
            return self._merged(self._spec, node, kind, key, (self._spec.path,))
        except _Refused as refused:
            self.findings += refused.findings
            return node

    def _merged(
        self, file: _File, node: Mapping, kind: str, key: str | None, before: tuple[Path, ...]
    ) -> Mapping:
        """Return a loom or yarn with all that its reference leads to; `before` were read for it."""
        source = node.values.get("from")
        lines = node.lines or file.lines
        if "from" not in node.keys:
            return replace(node, lines=lines)
        if not isinstance(source, Scalar):
            raise self._refused(file, node.keys["from"], "bad-reference", "`from` names a file",
                                f"write `from: {USUAL_FILE}`")  # fmt: skip
        found = self._opened(file, source)
        if found.path in before:
            way = " → ".join(path.name for path in (*before, found.path))
            raise self._refused(
                file, source, "circular", f"the reference leads back to itself: {way}",
                "write the values out in one of the files",
            )  # fmt: skip
        name = self._asked(file, node, kind, key)
        entry = self._entry(found, source, name, kind, file)
        inner_key = name.value if kind == "yarns" else None
        inner = self._merged(found, entry, kind, inner_key, (*before, found.path))
        return _laid_over(node, lines, inner)

    def _asked(self, file: _File, node: Mapping, kind: str, key: str | None) -> Scalar:
        """Return the name by which a reference asks; that of a yarn is its key, if it has none."""
        name = node.values.get("name")
        if isinstance(name, Scalar):
            return name
        source = node.keys["from"]
        if kind == "yarns" and key is not None and name is None:
            return Scalar(key, source.start, source.end, None)
        raise self._refused(
            file, source, "nameless-reference", "this names a file, and no loom in it",
            "add `name:` with the name of the loom",
        )  # fmt: skip

    def _entry(self, found: _File, source: Scalar, name: Scalar, kind: str, file: _File) -> Mapping:
        holder = found.root.values.get(kind)
        entries: list[tuple[str, Node]] = []
        if kind == "looms" and isinstance(holder, Listing):
            entries = [(_name_of(each) or "", each) for each in holder.items]
        elif kind == "yarns" and isinstance(holder, Mapping):
            entries = list(holder.values.items())
        for called, entry in entries:
            if plain_name(called) == plain_name(name.value) and isinstance(entry, Mapping):
                return entry
        known = [called for called, entry in entries if called and isinstance(entry, Mapping)]
        what = (
            f"there is no {_KINDS[kind]} '{shortened(name.value)}' in '{shortened(source.value)}'"
        )
        mend = suggestion(name.value, known) if known else f"add it under `{kind}:` there"
        raise self._refused(file, name, f"no-such-{_KINDS[kind]}", what, mend)

    def _opened(self, file: _File, source: Scalar) -> _File:
        """Return the file that a reference names; raises _Refused."""
        if not source.value.strip():
            raise self._refused(file, source, "bad-reference", "`from` names no file",
                                f"write `from: {USUAL_FILE}`")  # fmt: skip
        path = self._path(file, source)
        if path == self._spec.path:
            return self._spec
        called = kept_name(file.name, source.value, path, self._folder or path.parent)
        if path in self._files:
            found = self._files[path]
            self._kept.setdefault(called, KeptSource(called, found.data))
            return found
        if len(self._files) >= _MOST_FILES:
            message = f"the spec refers to more than {_MOST_FILES} files"
            raise self._refused(file, source, "too-many-files", message, "keep the looms in one")
        name = str(Path(file.lines.file).parent / source.value)
        data = read_bytes(path)
        if isinstance(data, Finding):
            what = f"'{shortened(source.value)}': {data.message}"
            raise self._refused(
                file, source, data.code, what, data.mend.replace("spec file", "file")
            )
        text, finding = decoded(data, name)
        if finding is not None:
            raise _Refused(finding)
        lines = Lines(text, name)
        root, findings = compose(lines)
        findings += strange_keys(root, lines) if root is not None else []
        if root is None or findings:
            raise _Refused(*findings)
        self._kept[called] = KeptSource(called, data)
        self._files[path] = _File(called, path, root, lines, data)
        return self._files[path]

    def _path(self, file: _File, source: Scalar) -> Path:
        """Return where a reference leads; only below the folder of the spec is anything read."""
        if self._folder is None:
            raise self._refused(file, source, "no-folder", _NO_FOLDER, "name the spec file instead")
        path = _resolved(file.path.parent / source.value)
        outside = path is None or not path.is_relative_to(self._folder)
        if path is None or outside or Path(source.value).is_absolute():
            what = f"'{shortened(source.value)}' is not in the folder of the spec or below it"
            mend = f"copy the file beside the spec, and write `from: {USUAL_FILE}`"
            raise self._refused(file, source, "file-outside", what, mend)
        return path

    def _refused(self, file: _File, where: Scalar, code: str, message: str, mend: str) -> _Refused:
        return _Refused(Finding("error", code, message, mend, self._place(file, where)))

    def _place(self, file: _File, where: Scalar | None) -> Place:
        lines = (where.lines if where is not None else None) or file.lines
        return lines.place(where.start if where is not None else 0)


def _resolved(path: Path) -> Path | None:
    """Return a path without links, None where there can be no such path."""
    try:
        return path.resolve()
    except (OSError, RuntimeError, ValueError):
        return None


def _entries(file: _File) -> Iterator[tuple[_File, Mapping]]:
    looms = file.root.values.get("looms")
    for each in looms.items if isinstance(looms, Listing) else ():
        if isinstance(each, Mapping):
            yield file, each


def _name_of(node: Node) -> str | None:
    name = node.values.get("name") if isinstance(node, Mapping) else None
    return name.value if isinstance(name, Scalar) else None


def _laid_over(node: Mapping, lines: Lines, inner: Mapping) -> Mapping:
    """Return what a reference leads to, with the keys beside `from` in the place of its own."""
    asked = Scalar("", node.start, node.start, None, lines=lines)
    keys, values = dict(inner.keys), dict(inner.values)
    merged = Mapping(inner.start, keys, values, lines=inner.lines, asked=asked)
    for name, key in node.keys.items():
        if name in ("from", "name"):
            continue
        merged.keys[name] = replace(key, lines=key.lines or lines)
        if name in node.values:
            value = node.values[name]
            merged.values[name] = replace(value, lines=value.lines or lines)
        else:
            merged.values.pop(name, None)
    return merged
