"""Measuring against the font file as fontTools reads it, and wrapping that loses nothing."""

import subprocess
import sys

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from layouts import typeface
from layouts.typeface import label, measure, missing_glyphs, wrap

LETTERS = "abcdefgWMil0123456789 -–/,.½éŁЖ"
texts = st.text(st.sampled_from(LETTERS + "   "), max_size=60)


@pytest.mark.parametrize("weight", ["regular", "bold"])
def test_widths_are_those_of_the_font_file(weight):
    """Oracle: the hmtx table as fontTools reads it."""
    font = TTFont(typeface.font_file(weight))
    glyphs, widths = font.getBestCmap(), font["hmtx"]
    for character in LETTERS + "×″′→€":
        share = widths[glyphs[ord(character)]][0] / font["head"].unitsPerEm
        want = share * 12 * 25.4 / 72
        assert measure(character, 12, weight) == pytest.approx(want, abs=1e-9)


@pytest.mark.parametrize("weight", ["regular", "bold"])
def test_figures_all_have_one_width(weight):
    assert len({measure(figure, 10, weight) for figure in "0123456789"}) == 1


def test_a_width_is_the_sum_of_its_characters_at_every_size():
    text = "AVATAR 24 slate"
    assert measure(text, 18) == pytest.approx(sum(measure(each, 18) for each in text))
    assert measure(text, 36) == pytest.approx(2 * measure(text, 18))
    assert measure("", 18) == 0


def test_heights_are_those_of_the_font_file():
    """Oracle: the hhea and OS/2 tables as fontTools reads them."""
    font = TTFont(typeface.font_file())
    point = 25.4 / 72 / font["head"].unitsPerEm
    assert typeface.ascent(10) == pytest.approx(10 * font["hhea"].ascent * point, abs=0.01)
    assert typeface.descent(10) == pytest.approx(-10 * font["hhea"].descent * point, abs=0.01)
    assert typeface.cap_height(10) == pytest.approx(10 * font["OS/2"].sCapHeight * point, abs=0.01)


def test_a_label_knows_where_it_begins():
    width = measure("24 ends", 12, "bold")
    assert label(50, 9, "24 ends", 12, "bold").left == 50
    assert label(50, 9, "24 ends", 12, "bold", "middle").left == pytest.approx(50 - width / 2)
    assert label(50, 9, "24 ends", 12, "bold", "end").left == pytest.approx(50 - width)


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("plain words, ½ × 24″ Łódź Жук", []),
        ("no\u00a0break", []),
        ("漢字 and 漢", ["漢", "字"]),
        ("e\u0301", ["\u0301"]),  # a combining mark, though the font has its glyph
        ("a\tb\nc\x00", ["\t", "\n", "\x00"]),
        ("שלום", ["ש", "ל", "ו", "ם"]),
        ("\u202eback", ["\u202e"]),
        ("soft\u00adhyphen", ["\u00ad"]),
        ("🧶", ["🧶"]),
    ],
)
def test_missing_glyphs_are_named_once_in_order(text, missing):
    assert missing_glyphs(text) == missing


def test_every_character_called_printable_has_a_glyph_in_both_weights():
    for weight in ("regular", "bold"):
        font = TTFont(typeface.font_file(weight)).getBestCmap()
        printable = [chr(code) for code in range(0x3000) if not missing_glyphs(chr(code))]
        assert len(printable) > 1000
        assert [each for each in printable if font.get(ord(each), ".notdef") == ".notdef"] == []


def test_a_missing_glyph_is_not_measured():
    with pytest.raises(ValueError, match=r"U\+6F22"):
        measure("漢", 12)


@given(texts, st.floats(0.1, 80), st.sampled_from(["regular", "bold"]))
def test_wrapping_keeps_every_character_that_has_ink(text, width, weight):
    lines = wrap(text, width, 12, weight)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(measure(line, 12, weight) <= width + 1e-6 or len(line) == 1 for line in lines)


@given(texts)
def test_text_that_fits_is_left_on_one_line(text):
    want = [text.rstrip(" ")] if text else []
    assert wrap(text, measure(text, 12), 12) == want


@given(texts, st.floats(5, 80))
def test_no_word_is_broken_while_it_has_room(text, width):
    """Oracle: the words themselves; one that fits a line and has no mark in it stays whole."""
    whole = {
        word for word in text.split() if not set(word) & set("-–/") and measure(word, 12) <= width
    }
    pieces = {piece for line in wrap(text, width, 12) for piece in line.split()}
    assert whole <= pieces


@pytest.mark.parametrize(
    ("text", "room", "lines"),
    [
        ("one two three", "one two", ["one two", "three"]),
        (" 0M", "0M", ["0M"]),
        ("counter-marched", "counter-m", ["counter-", "marched"]),
        ("rising/sinking", "rising/s", ["rising/", "sinking"]),
        ("warp 8/2 cotton", "warp 8/", ["warp", "8/2", "cotton"]),
        ("on 2026-03-02", "2026-03-02", ["on", "2026-03-02"]),
        ("3-ply wool-silk", "wool-", ["3-ply", "wool-", "silk"]),
        ("WWWW", "WW", ["WW", "WW"]),
        ("a\n\nb", "a", ["a", "", "b"]),
        ("  in from the edge", "  in from t", ["  in from", "the edge"]),
    ],
)
def test_lines_end_where_a_reader_expects(text, room, lines):
    assert wrap(text, measure(room, 12), 12) == lines


def test_a_font_is_read_once_however_it_is_asked_for():
    assert typeface.face() is typeface.face("regular")


def test_measuring_and_writing_need_no_library_before_they_are_used():
    program = """
import sys
import layouts.typeface, layouts.pdf, layouts.svg, layouts.paper, layouts.patch
print([name for name in ("reportlab", "svgwrite", "fontpkg_lato") if name in sys.modules])
"""
    run = [sys.executable, "-c", program]
    assert subprocess.run(run, capture_output=True, text=True, check=True).stdout == "[]\n"
