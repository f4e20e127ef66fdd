"""Texts as they are printed: composed, in one line, limited, and never forging a message."""

import unicodedata
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from cards.spec import NotationError, nodes, read_source
from cards.spec.nodes import compose, plain
from cards.spec.quoting import one_line, shortened
from cards.spec.scalars import INVISIBLE
from cards.spec.source import CONTROL, Lines
from cards.spec.texts import read_line, read_passage

GOOD = (Path(__file__).parent / "good.yaml").read_text(encoding="utf-8")


def titled(title):
    return read_source(GOOD.replace("Estuary lap throw", title).encode(), "a.yaml")


@given(st.text(alphabet="aeocn\u0301\u0308\u0327\u030a \u212b", min_size=1, max_size=12))
def test_values_are_composed_as_unicode_says(text):
    # unicodedata is the reference: Normalization Form C of Unicode Standard Annex 15.
    root, _ = compose(Lines(f'a: "{text}"', "a.yaml"))
    assert unicodedata.is_normalized("NFC", plain(root)["a"])
    assert unicodedata.normalize("NFD", plain(root)["a"]) == unicodedata.normalize("NFD", text)


def test_an_accent_written_apart_is_one_letter():
    assert titled("cafe\u0301").spec.project.title == "caf\u00e9"


def test_tabs_and_line_breaks_become_single_spaces():
    assert titled('"Estuary\\t\\n  lap\\r\\nthrow"').spec.project.title == "Estuary lap throw"
    assert read_line("a  b", 10) == "a  b"
    assert read_passage("a\r\nb\n\nc ") == "a\nb\n\nc"


def test_the_limit_is_the_last_that_is_taken():
    assert len(read_line(" " + "x" * 120 + "\n", 120)) == 120
    assert len(read_passage("x" * 20_000)) == 20_000
    for read in (lambda: read_line("x" * 121, 120), lambda: read_passage("x" * 20_001)):
        with pytest.raises(NotationError) as caught:
            read()
        assert caught.value.code == "text-too-long"


@pytest.mark.parametrize("parser", [yaml.SafeLoader, nodes._PARSER])
@pytest.mark.parametrize(
    "escape",
    ["\\0", "\\a", "\\e", "\\v", "\\N", "\\L", "\\x1f", "\\u202e", "\\ufffe", "\\U0000009f"],
)
def test_a_control_character_is_placed_at_its_escape(monkeypatch, parser, escape):
    monkeypatch.setattr(nodes, "_PARSER", parser)
    reading = titled(f'"Est\\x75ary {escape}lap"')
    (finding,) = reading.findings
    assert finding.code == "control-character"
    written = GOOD.split("\n")[1].index("Estuary") + len('"Est\\x75ary ')
    assert (finding.place.line, finding.place.column) == (2, written + 1)
    assert reading.spec.project.title == "Estuary lap"


@pytest.mark.parametrize("parser", [yaml.SafeLoader, nodes._PARSER])
@pytest.mark.parametrize("escape", ["\\UFFFFFFFF", "\\U00110000"])
def test_an_escape_beyond_all_characters(monkeypatch, parser, escape):
    monkeypatch.setattr(nodes, "_PARSER", parser)
    (finding,) = titled(f'"{escape}"').findings
    assert (finding.code, finding.message) == ("not-yaml", "an escape stands for no character")


@given(st.text(max_size=30))
def test_nothing_that_cannot_be_printed_comes_through(text):
    root, _ = compose(Lines(yaml.dump({"a": text}, default_style='"'), "a.yaml"))
    kept = plain(root)["a"] if root else ""
    assert not CONTROL.search(kept)
    assert not INVISIBLE.search(kept)


@given(st.text(max_size=80))
def test_what_is_quoted_is_one_short_line(text):
    assert one_line(text).isprintable()
    assert len(shortened(text, 10).encode("unicode_escape")) <= 10 * 10
    assert len(shortened("x" + text)) <= 40 * 10


@given(st.text(alphabet="a\n\r\x1b\u2028: 1", min_size=1, max_size=60))
def test_no_key_and_no_value_forges_a_finding(text):
    quoted = yaml.dump({text: text}, default_style='"', width=10_000).rstrip("\n")
    places = ("project: {", "loom: {", "yarns:\n  ")
    for place in places:
        source = GOOD.replace(place, place + quoted + (", " if "{" in place else "\n  "), 1)
        for finding in read_source(source.encode(), "a\nb.yaml").findings:
            assert finding.text().startswith("a\\nb.yaml:")
            assert finding.text().isprintable()


def test_endless_values_are_cut_short_in_messages():
    for old in ("american", "8 %", "Nm 12/2", "2 sand", "1 3", "metric", "40 per 10 cm", "A4"):
        source = GOOD.replace(old, f'"{"z" * 5000}"' if old != "2 sand" else "2 " + "z" * 5000, 1)
        findings = read_source(source.encode(), "a.yaml").findings
        assert findings, old
        assert all(len(each.text()) < 300 for each in findings), old
