"""Which files of a folder are specs, and in which order they are bound."""

import os

import pytest

from layouts import binder_specs
from layouts.binder_specs import Found, TooManySpecs, specs_in

SPEC = "loomfolio: 1\nproject: {title: x}\nyarns:\n  s: {}\n"


def put(folder, name, text=SPEC):
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")


def test_specs_come_folder_by_folder_in_the_order_of_the_alphabet(tmp_path):
    for name in ("b.yaml", "A.yml", "c/z.YAML", "c/d/e.yaml", "B/x.yaml", "a10.yaml"):
        put(tmp_path, name)
    found = specs_in(tmp_path)
    assert found.specs == ("A.yml", "a10.yaml", "b.yaml", "B/x.yaml", "c/z.YAML", "c/d/e.yaml")


def test_what_is_no_spec_is_left_out(tmp_path):
    put(tmp_path, "good.yaml")
    put(tmp_path, "braces.yaml", '{"loomfolio": 1, "draft": {}}')
    put(tmp_path, "bom.yaml", "\ufeffloomfolio: 1\r\nproject: {title: x}\r\n")
    put(tmp_path, "broken.yaml", "loomfolio: 1\nproject: [")
    put(tmp_path, "looms.yaml", "loomfolio: 1\nlooms: []\nyarns: {}\n")
    put(tmp_path, "compose.yaml", "services:\n  web: {}\n")
    put(tmp_path, "notes.txt")
    put(tmp_path, ".hidden.yaml")
    put(tmp_path, ".binder.pdf.bind/x.yaml")
    (tmp_path / "folder.yaml").mkdir()
    found = specs_in(tmp_path)
    assert found.specs == ("bom.yaml", "braces.yaml", "broken.yaml", "good.yaml")
    assert found.others == ("compose.yaml",)


def test_links_to_folders_are_not_followed(tmp_path):
    put(tmp_path, "a/x.yaml")
    (tmp_path / "a" / "round").symlink_to(tmp_path)
    (tmp_path / "link.yaml").symlink_to("a/x.yaml")
    (tmp_path / "nowhere.yaml").symlink_to("gone.yaml")
    assert specs_in(tmp_path).specs == ("link.yaml", "a/x.yaml")


def test_the_paper_is_that_of_most_specs(tmp_path):
    assert Found(("a", "b", "c"), (), 2).paper == "Letter"
    assert Found(("a", "b"), (), 1).paper == "A4"
    put(tmp_path, "a.yaml", SPEC + "units: imperial\n")
    assert specs_in(tmp_path).imperial == 1


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_a_pipe_does_not_keep_the_weaver_waiting(tmp_path):
    os.mkfifo(tmp_path / "pipe.yaml")
    assert specs_in(tmp_path).specs == ()


def test_more_specs_than_anybody_binds_are_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(binder_specs, "MOST_SPECS", 2)
    for name in "abc":
        put(tmp_path, f"{name}.yaml")
    with pytest.raises(TooManySpecs, match="more than 2 specs"):
        specs_in(tmp_path)


def test_a_folder_that_cannot_be_read_is_told(tmp_path):
    with pytest.raises(OSError, match="No such file"):
        specs_in(tmp_path / "gone")
