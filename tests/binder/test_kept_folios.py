"""The folder of kept folios when something else has come into its place, or into that of a file."""

import os
import shutil

import pytest

from tests.commands import ROOT, contents, run, start

pytestmark = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes and links here")


@pytest.fixture
def folder(tmp_path):
    place = tmp_path / "winter"
    place.mkdir()
    for name in ("class-mat.yaml", "looms.yaml"):
        shutil.copy(ROOT / "specs" / name, place / name)
    return place


def bind(folder, place, **more):
    return start("bind", folder, "-o", place / "x.pdf", timeout=60, **more)


def test_a_link_in_the_place_of_the_folder_is_not_followed(folder, tmp_path):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "mine.part").write_text("mine")
    (elsewhere / f"{40 * '0'}.folio").write_text("mine too")
    before = contents(elsewhere)
    (tmp_path / ".x.pdf.bind").symlink_to(elsewhere)
    result = run("bind", folder, "-o", tmp_path / "x.pdf")
    assert result.exit_code == 0
    assert "nothing is kept for the next time: a file or a link is in its place" in result.stderr
    assert contents(elsewhere) == before


def test_only_our_own_unfinished_files_are_taken_away(folder, tmp_path):
    run("bind", folder, "-o", tmp_path / "x.pdf")
    kept = tmp_path / ".x.pdf.bind"
    (kept / "mine.part").write_text("mine")
    (kept / f".{40 * '0'}.folio.abc12345.part").write_text("left by a kill")
    run("bind", folder, "-o", tmp_path / "x.pdf")
    assert [path.name for path in sorted(kept.iterdir())][1:] == ["mine.part"]


def test_a_pipe_in_the_place_of_a_kept_folio_is_not_waited_for(folder, tmp_path):
    run("bind", folder, "-o", tmp_path / "x.pdf")
    (kept,) = (tmp_path / ".x.pdf.bind").iterdir()
    kept.unlink()
    os.mkfifo(kept)
    result = bind(folder, tmp_path)
    assert result.returncode == 0
    assert b"1 project bound, 1 drawn" in result.stderr


@pytest.mark.parametrize("kind", ["pipe", "device"])
def test_looms_that_have_become_no_file_are_told(folder, tmp_path, kind):
    run("bind", folder, "-o", tmp_path / "x.pdf")
    (folder / "looms.yaml").unlink()
    if kind == "pipe":
        os.mkfifo(folder / "looms.yaml")
    else:
        (folder / "looms.yaml").symlink_to("/dev/zero")
    result = bind(folder, tmp_path)
    assert result.returncode == 1
    assert b"class-mat.yaml: not bound" in result.stderr


def test_a_binder_in_the_place_of_a_folder_is_told_before_anything_is_drawn(folder, tmp_path):
    (tmp_path / "x.pdf").mkdir()
    result = run("bind", folder, "-o", tmp_path / "x.pdf")
    assert result.exit_code == 1
    assert "x.pdf: is a folder, where a file is to be written" in result.stderr
    assert not (tmp_path / ".x.pdf.bind").exists()
