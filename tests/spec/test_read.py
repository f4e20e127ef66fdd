import io
import sys
from decimal import Decimal
from pathlib import Path
from types import SimpleNamespace

import pytest

from cards.spec import read_source, read_spec

GOOD = Path(__file__).parent / "good.yaml"


@pytest.fixture(scope="module")
def spec():
    reading = read_spec(GOOD)
    assert reading.findings == ()
    return reading.spec


def with_change(old, new):
    text = GOOD.read_text(encoding="utf-8")
    assert old in text
    return read_source(text.replace(old, new).encode(), "a.yaml")


def test_a_good_spec_is_read_into_millimetres_and_grams(spec):
    assert spec.cloth.width == 800.0
    assert spec.loom.reed == pytest.approx(0.4)
    assert spec.allowances.shrinkage.width == pytest.approx(0.08)
    assert spec.yarns["slate"].label.length == 590_000.0
    assert spec.yarns["slate"].put_up.mass == 100.0
    assert spec.yarns["slate"].price.amount == Decimal("9.80")
    assert spec.yarns["slate"].size.count == 12.0
    assert spec.cloth.fringe.from_waste is False
    assert spec.draft.tie_up == {1: (1, 3), 2: (2, 4)}
    assert spec.weave[1].length == "fill"
    assert (spec.paper.size.width, spec.paper.size.height) == (210.0, 297.0)
    assert spec.conventions.first_end == "right"


def test_a_reading_keeps_its_bytes_and_its_name():
    reading = read_spec(GOOD)
    assert reading.source == GOOD.read_bytes()
    assert reading.name == str(GOOD)


def test_standard_input(monkeypatch):
    stream = SimpleNamespace(buffer=io.BytesIO(GOOD.read_bytes()))
    monkeypatch.setattr(sys, "stdin", stream)
    reading = read_spec("-")
    assert reading.spec is not None
    assert reading.name == "<stdin>"


def test_no_file_a_folder_and_a_name_that_cannot_be(tmp_path):
    cases = {"no-such-file": tmp_path / "no.yaml", "is-a-folder": tmp_path, "unreadable": "a\0b"}
    for code, path in cases.items():
        reading = read_spec(path)
        assert [each.code for each in reading.findings] == [code]
        assert (reading.findings[0].place.line, reading.findings[0].place.column) == (1, 1)
        assert reading.spec is None


def test_the_same_spec_with_windows_line_ends_and_a_byte_order_mark(spec):
    source = b"\xef\xbb\xbf" + GOOD.read_bytes().replace(b"\n", b"\r\n")
    assert read_source(source, "a.yaml").spec == spec


def test_a_refused_yarn_is_still_known_by_name():
    reading = with_change("sand: {size: Nm 12/2,", "sand: {size: Nm 2/12,")
    assert [each.code for each in reading.findings] == ["ambiguous-size"]


def test_a_refused_tie_up_is_not_missed_twice():
    reading = with_change("2: 2 4}", "2: 2 x}")
    assert [each.code for each in reading.findings] == ["not-a-whole-number"]


def test_sizes_and_conventions_as_mappings():
    reading = with_change(
        "conventions: american",
        "conventions: {first_end: left}\ngiven: {ends: 384, width_in_reed: 30 in}",
    )
    assert reading.spec.conventions.first_end == "left"
    assert reading.spec.conventions.treadling == "down"
    assert reading.spec.given.ends == 384
    reading = with_change("label: 590 m per 100 g", "label: 590 m/100 g")
    assert reading.spec.yarns["slate"].label.length == 590_000.0
    reading = with_change("    size: Nm 12/2", "    size: {system: worsted, count: 8, ply: 12}")
    assert reading.spec.yarns["slate"].size.ply == 12
    reading = with_change("    size: Nm 12/2", "    size: {system: Ne, count: 8, text: Ne 9}")
    assert [each.code for each in reading.findings] == ["unknown-key"]


@pytest.mark.parametrize(
    ("written", "width", "height"),
    [
        ("A5", 148.0, 210.0),  # ISO 216
        ("letter", 215.9, 279.4),  # 8 1/2 x 11 in, from memory
        ("5 x 8 in", 127.0, 203.2),
        ("200 x 250 mm", 200.0, 250.0),
        ("20 cm × 250 mm", 200.0, 250.0),
    ],
)
def test_paper_sizes(written, width, height):
    size = with_change("size: A4", f"size: {written}").spec.paper.size
    assert (size.width, size.height) == pytest.approx((width, height))


def test_a_hundred_thousand_wrong_things_take_no_time_and_give_no_flood():
    flood = "".join(f"key{number}: 1\n" for number in range(60_000))
    reading = read_source(GOOD.read_bytes() + flood.encode(), "a.yaml")
    assert 100 < len(reading.findings) < 1000
    order = " ".join(f"1 y{number}" for number in range(90_000))
    reading = with_change('"24 slate, (2 sand, 2 slate) to fill, 24 slate"', f'"{order}"')
    assert 100 < len(reading.findings) < 1000


@pytest.mark.parametrize(
    ("written", "filled", "threading", "ties"),
    [
        ("scandinavian", "weft", "below", "marks"),
        ("{tradition: scandinavian, tie_up_as: numbers}", "weft", "below", "numbers"),
        ("{threading: below}", "warp", "below", "marks"),
    ],
)
def test_conventions_are_a_tradition_or_differ_from_one(written, filled, threading, ties):
    ways = with_change("conventions: american", f"conventions: {written}").spec.conventions
    assert (ways.filled, ways.threading, ways.tie_up_as) == (filled, threading, ties)


def test_an_unknown_tradition_is_told_once_and_where_it_stands():
    wrong = "conventions: {tradition: skandinavian, filled: weft}"
    (finding,) = with_change("conventions: american", wrong).findings
    assert finding.code == "unknown-choice"
    assert finding.mend == "did you mean 'scandinavian'?"
    assert (finding.place.line, finding.place.column) == (28, 1 + wrong.index("skan"))
