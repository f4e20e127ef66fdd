"""Text that the font cannot print is told with what to do about it."""

from pathlib import Path

import pytest

from cards.spec import read_spec
from layouts.glyphs import glyph_findings

READING = read_spec(str(Path(__file__).parents[2] / "specs" / "kitchen-towels.yaml"))
ALPHABETS = "write it in letters of the Latin, Greek or Cyrillic alphabet"


def findings(title):
    info = READING.spec.project.model_copy(update={"title": title})
    return glyph_findings(READING.spec.model_copy(update={"project": info}), READING.places)


@pytest.mark.parametrize(
    ("title", "told", "mend"),
    [
        ("a\tb", "a tab (U+0009)", "delete it"),
        ("soft\u00adhyphen", "soft hyphen (U+00AD)", "delete it"),
        (
            "a\u200bb\ufeff",
            "zero width space (U+200B), zero width no-break space (U+FEFF)",
            "delete them",
        ),
        ("back\u202ewards", "right-to-left override (U+202E)", "delete it"),
        ("織", "織 (U+7E54)", ALPHABETS),
        ("織\u200b", "織 (U+7E54), zero width space (U+200B)", ALPHABETS),
    ],
)
def test_what_has_no_ink_is_named_and_to_be_deleted(title, told, mend):
    """Names: the Unicode character database as the standard library has it."""
    (finding,) = findings(title)
    assert (finding.code, finding.mend) == ("missing-glyph", mend)
    assert finding.message == f"the font cannot print {told}"


def test_text_that_can_be_printed_is_no_finding():
    assert findings("Łódź ½ × 24″ Жук\n") == []
