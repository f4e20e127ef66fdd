"""A project printed on several looms: which sheets, under which names, and for one loom alone."""

import json

import yaml

from tests.commands import ROOT, contents, run
from tests.project.worked import spec_text

MAT = ROOT / "specs" / "class-mat.yaml"
OTHERS = [loom["name"] for loom in yaml.safe_load(MAT.read_text("utf-8"))["looms"]]
SLUGS = ["counterbalance-by-the-door", "long-countermarch", "class-table-loom", "dobby"]


def sheets_in(folder, stem):
    return {name.removeprefix(f"{stem}-").rsplit("-", 1)[0] for name in contents(folder)}


def warp_length(*loom):
    data = json.loads(run("plan", "--json", "--no-drawdown", MAT, *loom).stdout)
    return data["warp"]["length_mm"]


def test_every_other_loom_has_a_tie_up_card_and_a_pick_tally(tmp_path):
    result = run("print", MAT, "-o", tmp_path, "--format", "svg")
    assert result.exit_code == 0
    printed = sheets_in(tmp_path, "class-mat")
    on_others = {f"{sheet}-on-{slug}" for sheet in ("tie-up-card", "pick-tally") for slug in SLUGS}
    lengths = [warp_length(), *(warp_length("--loom", name) for name in OTHERS)]
    assert lengths[0] == lengths[1]
    on_others |= {
        f"warping-card-on-{slug}"
        for slug, length in zip(SLUGS, lengths[1:], strict=True)
        if length != lengths[0]
    }
    assert {name for name in printed if "-on-" in name} == on_others
    assert {"warping-card", "tie-up-card", "pick-tally", "sley-card"} <= printed
    for name, slug in zip(OTHERS, SLUGS, strict=True):
        assert name in (tmp_path / f"class-mat-tie-up-card-on-{slug}-1.svg").read_text("utf-8")


def test_looms_whose_names_look_alike_in_a_file_replace_none(tmp_path):
    looms = [{"name": name, "action": "table", "shafts": "4"} for name in ("a 4", "a", "a!")]
    (tmp_path / "x.yaml").write_text(spec_text(looms=looms), "utf-8")
    result = run("print", tmp_path / "x.yaml", "-o", tmp_path / "out", "--sheet", "tie-up-card")
    files = result.stdout.split()
    assert len(set(files)) == len(files) == len(contents(tmp_path / "out"))
    assert sum("tie-up-card-on-a" in name for name in files) == 3


def test_a_spec_is_printed_whole_for_one_loom(tmp_path):
    before = MAT.read_bytes()
    result = run("print", MAT, "-o", tmp_path, "--loom", "Long Countermarch", "--format", "pdf")
    assert result.exit_code == 0
    assert list(contents(tmp_path)) == ["class-mat.on-long-countermarch.pdf"]
    assert MAT.read_bytes() == before
    plan = run("plan", "--json", "--no-drawdown", MAT, "--loom", "dobby").stdout
    data = json.loads(plan)
    assert (data["loom"]["name"], data["looms"]) == ("dobby", [])


def test_a_loom_that_nobody_knows_is_told():
    result = run("check", MAT, "--loom", "long countermarsh")
    assert result.exit_code == 1
    assert "long countermarch" in result.stderr


def test_a_file_of_looms_is_nothing_to_print(tmp_path):
    looms = ROOT / "specs" / "looms.yaml"
    assert run("check", looms).exit_code == 0
    result = run("print", looms, "-o", tmp_path / "out")
    assert (result.exit_code, result.stdout) == (0, "")
    assert "nothing to print" in result.stderr
    assert not (tmp_path / "out").exists()
