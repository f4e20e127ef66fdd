"""Hostile and broken YAML: always a finding, at once, never a traceback."""

import yaml
from hypothesis import given
from hypothesis import strategies as st

from cards.spec import read_source
from cards.spec.nodes import compose, plain
from cards.spec.source import LARGEST, Lines


def codes(text):
    source = text if isinstance(text, bytes) else text.encode()
    return [each.code for each in read_source(source, "a.yaml").findings]


def read_plain(text):
    root, findings = compose(Lines(text, "a.yaml"))
    return plain(root) if root else None, [each.code for each in findings]


def test_every_scalar_stays_text():
    data, _ = read_plain("a: 3:2\nb: no\nc: 010\nd: 1e5\ne: 2026-03-02\nf: 1_000\n1: ~\n")
    assert data == {
        "a": "3:2", "b": "no", "c": "010", "d": "1e5", "e": "2026-03-02", "f": "1_000", "1": "~",
    }  # fmt: skip


def test_a_hundred_thousand_brackets_give_a_finding():
    for text in ("[" * 100_000, "a: " + "[" * 100_000, "a: " + "{a: " * 100_000, "- " * 100_000):
        assert codes(text) == ["nested-too-deep"]


def test_an_alias_bomb_is_refused_at_its_first_anchor():
    bomb = "a: &a [x, x]\n" + "".join(
        f"{new}: &{new} [*{old}, *{old}, *{old}, *{old}, *{old}, *{old}]\n"
        for old, new in zip("abcdefghijklmnop", "bcdefghijklmnopq", strict=True)
    )
    assert codes(bomb) == ["anchor"]


def test_size_encoding_and_control_characters():
    assert codes(b"#" * (LARGEST + 1)) == ["file-too-large"]
    assert codes(b"a: \xff") == ["not-utf-8"]
    assert codes("a: b".encode("utf-16")) == ["not-utf-8"]
    assert codes(b"a: \x00") == ["control-character"]
    assert codes("a: \u202e") == ["control-character"]
    assert codes(b"") == codes(b" \r\n\t") == codes(b"\xef\xbb\xbf") == ["empty-file"]


def test_every_duplicate_key_is_told():
    data, found = read_plain("a: 1\na: 2\nb: {c: 1, c: {d: 3}, e: 5}\n")
    assert found == ["duplicate-key", "duplicate-key"]
    assert data == {"a": "1", "b": {"c": "1", "e": "5"}}


def test_line_ends_of_every_system_read_alike():
    text = "a: 1\nb:\n  - 2\n  - 3\n"
    wanted = read_plain(text)
    assert read_plain(text.replace("\n", "\r\n")) == read_plain(text.replace("\n", "\r")) == wanted


@given(st.recursive(
    st.text(alphabet="abc 12:#'\"-", max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text("abc", min_size=1), inner),
    max_leaves=12,
).map(lambda value: {"root": value}))  # fmt: skip
def test_what_pyyaml_writes_is_read_as_it_was(data):
    # PyYAML's own writer is the reference; everything is text, so all is quoted where need be.
    text = yaml.dump(data, default_style='"', allow_unicode=True)
    assert read_plain(text) == (data, [])


@given(st.binary(max_size=60) | st.text(max_size=60).map(str.encode))
def test_no_bytes_at_all_make_the_reader_raise(source):
    reading = read_source(source, "a.yaml")
    assert reading.findings
    assert reading.spec is None


@given(st.data())
def test_a_good_spec_with_a_wound_gives_findings_or_a_spec(data):
    from pathlib import Path

    source = (Path(__file__).parent / "good.yaml").read_bytes()
    at = data.draw(st.integers(0, len(source)))
    cut = data.draw(st.integers(0, 30))
    patch = data.draw(
        st.sampled_from([b"", b"(", b"[", b"{", b": ", b"\n", b"#", b'"', b"x 9", b"-"])
    )
    reading = read_source(source[:at] + patch + source[at + cut :], "a.yaml")
    assert reading.spec is not None or reading.findings
    for finding in reading.findings:
        assert finding.place.line >= 1
        assert finding.message
