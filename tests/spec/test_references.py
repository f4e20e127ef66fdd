"""Looms and yarns kept in a file beside the spec: what is taken from where, and what is refused."""

from pathlib import Path

import pytest

from cards.spec import read_source, read_spec
from tests.project.worked import GOOD, spec_text

KEPT = """loomfolio: 1
looms:
  - {name: attic, action: rising, shafts: 4, treadles: 6, width: 90 cm}
  - {name: Class Loom, action: table, shafts: 8}
  - {name: lent, from: more/lent.yaml}
yarns:
  slate: {name: wool, size: Nm 12/2, fibre: worsted}
"""
LENT = """loomfolio: 1
looms:
  - {name: lent, action: countermarch, shafts: 10, treadles: 12}
"""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "looms.yaml").write_text(KEPT)
    (tmp_path / "more").mkdir()
    (tmp_path / "more" / "lent.yaml").write_text(LENT)
    return tmp_path


def read(folder, asked=None, **changes):
    path = folder / "spec.yaml"
    path.write_text(spec_text(**changes))
    return read_spec(path, asked)


def codes(reading):
    return [finding.code for finding in reading.findings]


def test_a_loom_is_taken_from_its_file(folder):
    reading = read(folder, loom={"from": "looms.yaml", "name": "attic"})
    assert codes(reading) == []
    assert (reading.spec.loom.name, reading.spec.loom.treadles) == ("attic", 6)
    assert reading.spec.loom.width == 900


def test_capitals_and_spaces_in_a_name_are_forgiven(folder):
    reading = read(folder, loom={"from": "looms.yaml", "name": "class  LOOM"})
    assert (reading.spec.loom.name, reading.spec.loom.shafts) == ("Class Loom", 8)


def test_what_stands_beside_the_reference_wins(folder):
    loom = {"from": "looms.yaml", "name": "attic", "treadles": "4", "heddles": "90"}
    reading = read(folder, loom=loom)
    spec = reading.spec
    assert (spec.loom.treadles, spec.loom.heddles, spec.loom.shafts) == (4, 90, 4)
    # Each value is found in the file in which it is written.
    assert Path(reading.places.of("loom", "treadles").file).name == "spec.yaml"
    assert reading.places.of("loom", "width").file == str(folder / "looms.yaml")
    assert reading.places.of("loom", "width").line == 3


def test_a_file_may_refer_to_a_further_one_from_where_it_lies(folder):
    reading = read(folder, loom={"from": "looms.yaml", "name": "lent"})
    assert (reading.spec.loom.action, reading.spec.loom.shafts) == ("countermarch", 10)


def test_a_yarn_is_taken_by_its_key_or_by_the_name_that_is_asked_for(folder):
    yarns = {"slate": {"from": "looms.yaml"}, "grey": {"from": "looms.yaml", "name": "slate"}}
    reading = read(folder, yarns=yarns, warp_order="slate", weft_order="grey")
    assert codes(reading) == []
    assert {yarn.name for yarn in reading.spec.yarns.values()} == {"wool"}


def test_another_loom_is_asked_for_by_name(folder):
    looms = [{"name": "mill", "action": "dobby", "shafts": "16"}]
    assert read(folder, "mill", looms=looms).spec.loom.action == "dobby"
    # Without a word of it in the spec it is looked for in looms.yaml.
    assert read(folder, "class loom").spec.loom.shafts == 8
    assert read(folder, "lent").spec.loom.shafts == 10
    assert read(folder, "mill", looms=looms).spec.looms == []
    assert codes(read(folder, "atic")) == ["no-such-loom"]
    assert "'attic'" in read(folder, "atic").findings[0].mend


def test_a_loom_that_is_worked_out_is_found_where_the_spec_names_it(folder):
    looms = [{"name": "mill", "shafts": "16"}, {"from": "looms.yaml", "name": "attic"}]
    text = read(folder, looms=looms).source.decode().splitlines()
    lines = [
        1 + text.index(next(line for line in text if key in line)) for key in ("mill", "attic")
    ]
    for name, line in zip(("mill", "attic"), lines, strict=True):
        # There is no reed: what is said of it belongs to the loom that has none.
        place = read(folder, name, looms=looms).places.of("loom", "reed")
        assert (Path(place.file).name, place.line) == ("spec.yaml", line - 1 - (name == "attic"))
    place = read(folder, "class loom").places.of("loom", "reed")
    assert (Path(place.file).name, place.line) == ("looms.yaml", 4)


def test_the_looms_of_a_named_file_are_known_too(tmp_path):
    (tmp_path / "room.yaml").write_text(KEPT)
    reading = read(tmp_path, "Class Loom", loom={"from": "room.yaml", "name": "attic"})
    assert reading.spec.loom.shafts == 8


@pytest.mark.parametrize("link", ["outside.yaml", "folder/looms.yaml"])
def test_a_link_that_leads_outside_is_refused(tmp_path, link):
    inside, outside = tmp_path / "inside", tmp_path / "outside"
    inside.mkdir()
    outside.mkdir()
    (outside / "looms.yaml").write_text(KEPT)
    (inside / "outside.yaml").symlink_to(outside / "looms.yaml")
    (inside / "folder").symlink_to(outside)
    reading = read(inside, loom={"from": link, "name": "attic"})
    assert codes(reading) == ["file-outside"]


def test_looms_yaml_is_not_followed_outside_either(tmp_path):
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "looms.yaml").write_text(KEPT)
    (inside / "looms.yaml").symlink_to(tmp_path / "looms.yaml")
    assert codes(read(inside, "attic")) == ["file-outside", "no-such-loom"]


def test_a_spec_that_is_a_link_finds_what_lies_beside_the_link(folder, tmp_path_factory):
    elsewhere = tmp_path_factory.mktemp("elsewhere") / "spec.yaml"
    elsewhere.write_text(spec_text(loom={"from": "looms.yaml", "name": "attic"}))
    (folder / "link.yaml").symlink_to(elsewhere)
    assert read_spec(folder / "link.yaml").spec.loom.name == "attic"
    assert codes(read_spec(elsewhere)) == ["no-such-file"]


def test_standard_input_has_no_folder():
    text = spec_text(loom={"from": "looms.yaml", "name": "attic"})
    assert codes(read_source(text.encode(), "<stdin>")) == ["no-folder"]


def test_a_named_pipe_is_not_waited_for(folder):
    import os

    os.mkfifo(folder / "pipe.yaml")
    reading = read(folder, loom={"from": "pipe.yaml", "name": "attic"})
    assert codes(reading) == ["not-a-regular-file"]


@pytest.mark.parametrize("text", ["", ".", "\\", "/", "a" * 5000, "~/looms.yaml", "looms.yaml/"])
def test_odd_names_of_files_are_findings(folder, text):
    reading = read(folder, loom={"from": text, "name": "attic"})
    assert all(finding.level == "error" for finding in reading.findings)
    assert reading.spec is None or text == "looms.yaml/"


def test_a_chain_of_many_files_ends(tmp_path):
    for number in range(60):
        text = f"loomfolio: 1\nlooms: [{{name: a, from: f{number + 1}.yaml}}]\n"
        (tmp_path / f"f{number}.yaml").write_text(text)
    assert codes(read(tmp_path, loom={"from": "f0.yaml", "name": "a"})) == ["too-many-files"]


def test_a_file_of_looms_is_checked_by_itself(folder):
    assert codes(read_spec(folder / "looms.yaml")) == []
    assert read_spec(folder / "looms.yaml").is_kept
    (folder / "bad.yaml").write_text(KEPT.replace("shafts: 8", "shafts: 800").replace("Nm", "Nn"))
    found = read_spec(folder / "bad.yaml").findings
    assert [(each.code, each.place.line) for each in found] == [
        ("out-of-range", 4),
        ("unknown-system", 7),
    ]


@pytest.mark.parametrize(
    ("looms", "found"),
    [
        ("{shafts: 4}", ["nameless-loom"]),
        ("{name: a, shafts: 4}, {name: A, shafts: 8}", ["loom-twice"]),
        ("{name: a, shafts: 4, heddles: 20 20}", ["heddles-mismatch"]),
        ("{name: a, shafts: 4, heddles: 0 0 0 0}", ["no-heddles"]),
        ("{name: a, shafts: 4, pairs: '1 2, 3 5'}", ["shaft-beyond-loom"]),
        ("{name: a, shafts: 4, reeds: [10 per in, 10 per in]}", ["reed-twice"]),
    ],
)
def test_looms_are_checked_in_their_file_as_in_a_spec(tmp_path, looms, found):
    (tmp_path / "looms.yaml").write_text(f"loomfolio: 1\nlooms: [{looms}]\n")
    reading = read_spec(tmp_path / "looms.yaml")
    assert codes(reading) == found
    assert [each.place.line for each in reading.findings] == [2] * len(found)


def test_a_spec_without_references_is_read_as_ever():
    reading = read_source(spec_text().encode(), "a.yaml")
    assert reading.spec.loom.treadles == int(GOOD["loom"]["treadles"])
