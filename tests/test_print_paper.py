"""Half sheets, booklets and both sides of the paper, asked for on the command line or in a spec."""

import pytest
from pypdf import PdfReader

from tests.commands import TOWELS, contents, run

MM = 25.4 / 72


def sides_of(path):
    return [
        tuple(round(float(side) * MM, 1) for side in page.mediabox[2:])
        for page in PdfReader(path, strict=True).pages
    ]


def preferences(path):
    return PdfReader(path, strict=True).trailer["/Root"]["/ViewerPreferences"]


def test_half_sheets_of_a_folio(tmp_path):
    result = run("print", TOWELS, "-o", tmp_path, "--half-sheet")
    assert result.exit_code == 0, result.output
    assert "cut every sheet in two along the dashed line" in result.stderr
    assert set(sides_of(tmp_path / "kitchen-towels.pdf")) == {(297.0, 210.0)}
    titles = [
        each.title
        for each in PdfReader(tmp_path / "kitchen-towels.pdf").outline
        if not isinstance(each, list)
    ]
    for card in ("Warping card", "Threading chart", "Sley card", "Tie-up card", "Pick tally"):
        assert any(card in title for title in titles)
    # In SVG every page stays a file of its own.
    svg = contents(tmp_path)["kitchen-towels-pick-tally-1.svg"].decode()
    assert 'width="148.5mm"' in svg
    assert 'height="210mm"' in svg


def test_a_booklet_of_a_folio(tmp_path):
    result = run("print", TOWELS, "-o", tmp_path, "--booklet", "--format", "pdf")
    assert result.exit_code == 0, result.output
    assert "print both sides, flip on the short edge" in result.stderr
    sides = sides_of(tmp_path / "kitchen-towels.pdf")
    assert set(sides) == {(297.0, 210.0)}
    assert len(sides) % 2 == 0
    assert preferences(tmp_path / "kitchen-towels.pdf")["/Duplex"] == "/DuplexFlipShortEdge"


def test_a_spec_may_ask_for_it_itself(tmp_path):
    text = TOWELS.read_text("utf-8").replace("holes: iso-838}", "holes: iso-838, sides: double}")
    spec = tmp_path / "towels.yaml"
    spec.write_text(text, "utf-8")
    result = run("print", spec, "-o", tmp_path, "--format", "pdf")
    assert result.exit_code == 0, result.output
    assert preferences(tmp_path / "towels.pdf")["/Duplex"] == "/DuplexFlipLongEdge"
    assert set(sides_of(tmp_path / "towels.pdf")) == {(210.0, 297.0)}


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (["--half-sheet", "--booklet"], "a sheet is cut or folded, not both"),
        (["--signature", "16"], "only a booklet is folded in signatures"),
        (["--signature", "18", "--booklet"], "such as 16 or 20"),
        (["--signature", "many", "--booklet"], "signature"),
    ],
)
def test_what_cannot_be_folded_is_not_understood(options, message, tmp_path):
    result = run("print", TOWELS, "-o", tmp_path, *options)
    assert result.exit_code == 2
    assert message in result.stderr
    assert contents(tmp_path) == {}


def test_half_sheets_that_are_too_small_are_refused_with_the_size_that_would_do(tmp_path):
    result = run("print", TOWELS, "-o", tmp_path, "--half-sheet", "--paper", "5 x 8 in")
    assert result.exit_code == 1
    assert "A4, Letter" in result.stderr
    assert "A5" not in result.stderr
    assert contents(tmp_path) == {}
    for paper in ("A4", "Letter", "Legal"):
        result = run(
            "print", TOWELS, "-o", tmp_path, "--half-sheet", "--paper", paper, "--format", "pdf"
        )
        assert result.exit_code == 0, result.output


def test_a_pattern_is_folded_into_a_booklet(tmp_path):
    result = run("pattern", TOWELS, "-o", tmp_path, "--booklet", "--format", "pdf")
    assert result.exit_code == 0, result.output
    assert "staple them in the fold" in result.stderr
    path = tmp_path / "kitchen-towels.pattern.pdf"
    assert set(sides_of(path)) == {(297.0, 210.0)}
    assert preferences(path)["/Duplex"] == "/DuplexFlipShortEdge"
