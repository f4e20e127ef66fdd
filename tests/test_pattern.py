"""The command that prints a pattern booklet: all its files or none, findings as `print`."""

from pathlib import Path

import pypdf
import pytest

from layouts import files
from tests.commands import BAD, ROOT, TOWELS, contents, run


def test_a_booklet_is_one_pdf_and_a_page_is_one_svg(tmp_path):
    result = run("pattern", TOWELS, "-o", tmp_path)
    assert result.exit_code == 0
    names = [Path(line).name for line in result.stdout.split()]
    reader = pypdf.PdfReader(tmp_path / "kitchen-towels.pattern.pdf")
    numbers = range(1, len(reader.pages) + 1)
    assert names == [
        "kitchen-towels.pattern.pdf",
        *(f"kitchen-towels.pattern-{number}.svg" for number in numbers),
    ]
    assert {path.name for path in tmp_path.iterdir()} == set(names)
    assert reader.metadata.title == "Estuary kitchen towels (FW-007): pattern"


@pytest.mark.parametrize(("form", "ends"), [("pdf", {".pdf"}), ("svg", {".svg"})])
def test_only_the_files_asked_for_are_written(tmp_path, form, ends):
    run("pattern", TOWELS, "-o", tmp_path, "--format", form)
    assert {path.suffix for path in tmp_path.iterdir()} == ends


def test_the_folio_of_the_same_spec_stays(tmp_path):
    run("print", TOWELS, "-o", tmp_path)
    before = contents(tmp_path)
    run("pattern", TOWELS, "-o", tmp_path)
    after = contents(tmp_path)
    assert before.items() <= after.items()
    run("print", TOWELS, "-o", tmp_path)
    assert contents(tmp_path) == after


def test_pages_that_are_no_more_are_taken_away(tmp_path):
    run("pattern", TOWELS, "-o", tmp_path, "--paper", "A5")
    more = len(list(tmp_path.iterdir()))
    run("pattern", TOWELS, "-o", tmp_path, "--paper", "A4")
    pages = len(pypdf.PdfReader(tmp_path / "kitchen-towels.pattern.pdf").pages)
    assert len(list(tmp_path.iterdir())) == pages + 1 < more


def test_a_spec_with_errors_is_not_printed(tmp_path):
    result = run("pattern", BAD / "unknown-key.yaml", "-o", tmp_path)
    assert result.exit_code == 1
    assert result.stdout == ""
    assert "not printed; mend the errors first" in result.stderr
    assert "error:" in result.stderr
    assert not list(tmp_path.iterdir())


def test_a_file_of_looms_is_refused(tmp_path):
    result = run("pattern", ROOT / "specs" / "looms.yaml", "-o", tmp_path)
    assert result.exit_code == 2
    assert "this is a file of looms and yarns, and no spec" in result.stderr


def test_paper_that_is_too_small_is_refused_in_words(tmp_path):
    result = run("pattern", TOWELS, "-o", tmp_path, "--paper", "100 x 150 mm")
    assert result.exit_code == 1
    assert "choose another paper; nothing was printed" in result.stderr
    assert not list(tmp_path.iterdir())


def outline_of(reader):
    """Return all entries of the outline in their order."""
    for entry in reader.outline:
        yield from entry if isinstance(entry, list) else [entry]


def test_a_candidate_and_a_loom_have_booklets_of_their_own(tmp_path):
    throw = ROOT / "specs" / "throw-three-ways.yaml"
    result = run("pattern", throw, "-o", tmp_path, "--candidate", "cotton", "--format", "pdf")
    assert [Path(line).name for line in result.stdout.split()] == [
        "throw-three-ways.as-cotton.pattern.pdf"
    ]
    mat = ROOT / "specs" / "class-mat.yaml"
    run("pattern", mat, "-o", tmp_path, "--loom", "dobby", "--format", "pdf")
    reader = pypdf.PdfReader(tmp_path / "class-mat.on-dobby.pattern.pdf")
    titles = [entry.title for entry in outline_of(reader)]
    assert "Pegging plan" in titles


def test_every_loom_of_a_spec_has_its_tie_up_in_the_booklet(tmp_path):
    mat = ROOT / "specs" / "class-mat.yaml"
    run("pattern", mat, "-o", tmp_path, "--format", "pdf")
    titles = [
        entry.title for entry in outline_of(pypdf.PdfReader(tmp_path / "class-mat.pattern.pdf"))
    ]
    ties = [title for title in titles if title.endswith(("ie-up card", "ever card", "egging plan"))]
    assert len(ties) > 3


def test_a_full_disk_leaves_the_older_booklet_whole(tmp_path, monkeypatch):
    run("pattern", TOWELS, "-o", tmp_path)
    before = contents(tmp_path)
    calls = []

    def full(handle):
        calls.append(handle)
        if len(calls) > 2:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, "fsync", full)
    result = run("pattern", TOWELS, "-o", tmp_path, "--paper", "Letter")
    assert result.exit_code == 1
    assert "No space left" in result.stderr
    assert contents(tmp_path) == before
