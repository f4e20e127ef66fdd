"""The command line: exit codes, what goes where, and what every command does."""

import json
import os
import resource
import shutil
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest
import yaml

from cards.project import work_out
from cards.spec import read_spec, spec_schema
from layouts.cli import STARTERS
from tests.commands import BAD, ROOT, TOWELS, run, start
from tests.worked_specs import SPECS


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_worked_specs_have_nothing_to_mend(path):
    result = run("check", path)
    assert result.exit_code == 0
    assert result.stdout == ""
    # What the builder of a layered draft chose is told as a note; the uneven sheds of layers on a
    # counterbalance are in the nature of the loom.
    lines = [line for line in result.stderr.splitlines() if "hang unevenly" not in line]
    assert lines == [f"{path}: nothing to mend"] or all(": note: " in line for line in lines)


def test_check_names_place_fault_and_mend_and_exits_1():
    path = BAD / "unknown-key.yaml"
    result = run("check", path)
    assert result.exit_code == 1
    assert result.stderr == (f"{path}:5:25: error: unknown key 'color' (did you mean 'colour'?)\n")


def test_warnings_do_not_fail():
    result = run("check", BAD / "too-few-heddles.yaml")
    assert result.exit_code == 0
    assert "warning" in result.stderr


@pytest.mark.parametrize(
    "arguments", [[], ["nonsense"], ["print"], ["print", "x", "--format", "x"]]
)
def test_a_command_that_is_not_understood_exits_2(arguments):
    assert run(*arguments).exit_code == 2


def test_a_missing_spec_is_told():
    result = run("print", "nowhere.yaml")
    assert result.exit_code == 1
    assert result.stderr.startswith("nowhere.yaml:1:1: error:")


def test_plan_as_data_is_the_contract():
    data = json.loads(run("plan", "--json", TOWELS).stdout)
    assert {"project", "findings", "warp", "weft", "sett", "sley", "loom", "draft"} <= set(data)
    warp = data["warp"]
    assert {"ends", "width_in_reed_mm", "length_mm", "first_end", "order", "by_yarn"} <= set(warp)
    assert sum(run["ends"] for run in warp["order"]) == warp["ends"]
    draft = data["draft"]
    assert len(draft["drawdown"]) == len(draft["lifts"]) == data["weft"]["picks_per_piece"]
    assert {len(row) for row in draft["drawdown"]} == {warp["ends"]}
    for row, lift in zip(draft["drawdown"][:20], draft["lifts"], strict=False):
        assert row == "".join("01"[shaft in lift] for shaft in draft["threading"])


def test_plan_without_drawdown_is_short():
    short = run("plan", "--json", "--no-drawdown", TOWELS).stdout
    assert "drawdown" not in short
    data = json.loads(short)
    told = {key: data.pop(key) for key in ("allowances", "bill", "hours", "bobbins", "most")}
    data["sett"].pop("advice")
    assert len(json.dumps(data, indent=1, ensure_ascii=False)) < 12_000
    assert all(len(json.dumps(each)) < 6_000 for each in told.values())


def test_plan_of_a_spec_with_errors_still_gives_the_findings():
    result = run("plan", "--json", BAD / "too-wide-for-the-loom.yaml")
    assert result.exit_code == 1
    data = json.loads(result.stdout)
    assert [each["code"] for each in data["findings"]] == ["too-wide"]
    assert data["warp"]["ends"] > 0


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_plan_as_a_table(path):
    project = work_out(read_spec(path)).project
    table = run("plan", path).stdout
    assert str(project.warp.ends) in table
    assert str(project.weft.picks) in table
    for total in project.totals:
        assert total.yarn.name in table


def test_a_folio_is_one_pdf_and_one_svg_a_page(tmp_path):
    result = run("print", TOWELS, "-o", tmp_path)
    assert result.exit_code == 0
    written = sorted(path.name for path in tmp_path.iterdir())
    assert sorted(Path(line).name for line in result.stdout.split()) == written
    reader = pypdf.PdfReader(tmp_path / f"{TOWELS.stem}.pdf", strict=True)
    assert len(written) == 1 + len(reader.pages)
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert reader.metadata.title == "Estuary kitchen towels (FW-007)"
    titles = [each.title for each in reader.outline if not isinstance(each, list)]
    assert titles == [
        "Yarn list",
        "Warping card",
        "Heddle count",
        "Threading chart",
        "Sley card",
        "Tie-up card",
        "Pick tally",
        "Draft sheet",
        "Record",
    ]
    assert reader.page_labels[0] == "Yarn list 1"


def test_same_spec_same_bytes(tmp_path):
    for name, seed, zone in (("one", "1", "UTC"), ("two", "77", "Asia/Tokyo")):
        subprocess.run(
            [sys.executable, "-m", "layouts", "print", str(TOWELS), "-o", str(tmp_path / name)],
            check=True,
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone},
            stdout=subprocess.DEVNULL,
        )
    for path in (tmp_path / "one").iterdir():
        assert path.read_bytes() == (tmp_path / "two" / path.name).read_bytes()


def test_errors_print_nothing_and_leave_the_older_print(tmp_path):
    spec = tmp_path / "towels.yaml"
    shutil.copy(TOWELS, spec)
    run("print", spec, "-o", tmp_path / "folio")
    before = {path.name: path.read_bytes() for path in (tmp_path / "folio").iterdir()}
    spec.write_text(spec.read_text("utf-8").replace("width: 90 cm", "width: 30 cm"), "utf-8")
    result = run("print", spec, "-o", tmp_path / "folio")
    assert result.exit_code == 1
    assert "not printed" in result.stderr
    assert {p.name: p.read_bytes() for p in (tmp_path / "folio").iterdir()} == before


def test_unsuitable_paper_is_refused_before_anything_is_written(tmp_path):
    result = run("print", TOWELS, "-o", tmp_path / "x", "--paper", "90 x 120 mm")
    assert result.exit_code == 1
    assert "choose another paper" in result.stderr
    assert not (tmp_path / "x").exists()


def test_standard_input_is_read(tmp_path):
    result = run("print", "-", "-o", tmp_path, input=TOWELS.read_bytes())
    assert result.exit_code == 0
    assert (tmp_path / "folio.pdf").exists()


def test_two_specs_of_one_name_are_refused(tmp_path):
    result = run("print", TOWELS, tmp_path / TOWELS.name, "-o", tmp_path)
    assert result.exit_code == 2


def test_an_unknown_sheet_is_refused_with_those_there_are():
    result = run("print", TOWELS, "--sheet", "warp-card")
    assert result.exit_code == 2
    assert "warping-card" in result.stderr


@pytest.mark.parametrize("kind", STARTERS)
def test_a_starter_can_be_printed_as_it_is(kind, tmp_path):
    spec = tmp_path / "start.yaml"
    assert run("new", kind, spec).exit_code == 0
    result = run("print", spec, "-o", tmp_path)
    assert result.exit_code == 0
    assert all(": note: " in line for line in result.stderr.splitlines())
    assert "yaml-language-server" in spec.read_text("utf-8")


def test_new_never_overwrites(tmp_path):
    spec = tmp_path / "start.yaml"
    spec.write_text("mine")
    result = run("new", "plain", spec)
    assert result.exit_code == 1
    assert spec.read_text() == "mine"


def test_the_schema_beside_the_worked_specs_is_this_one():
    shipped = (ROOT / "specs" / "loomfolio.schema.json").read_text("utf-8")
    assert json.loads(shipped) == spec_schema()


def test_schema_is_that_of_the_models():
    assert json.loads(run("schema").stdout) == spec_schema()


def test_colours_only_for_people_who_want_them():
    result = run("check", BAD / "unknown-key.yaml", color=True)
    assert "\x1b[" not in result.stderr


@pytest.mark.parametrize(
    "arguments", [["-o", ""], ["--paper", ""], ["--paper", "A9"], ["--paper", "5 x"]]
)
def test_options_that_say_nothing_are_not_understood(arguments):
    result = run("print", "nowhere.yaml", *arguments)
    assert result.exit_code == 2
    assert "nowhere.yaml" not in result.stderr
    if "--paper" in arguments:
        assert "A3, A4, A5, Letter, Legal" in " ".join(result.stderr.split())


def test_new_on_a_full_disk_leaves_no_file(tmp_path):
    def no_room():
        resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))

    result = start("new", "plain", tmp_path / "a.yaml", preexec_fn=no_room)
    assert result.returncode == 1
    assert b"cannot be written" in result.stderr
    assert b"Traceback" not in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_new_says_how_to_print_a_file_with_an_unusual_name(tmp_path):
    first = start("new", "plain", "--", "-x.yaml", cwd=tmp_path, env={"PYTHONPATH": str(ROOT)})
    assert first.stderr.decode().endswith("loomfolio print ./-x.yaml\n")
    second = run("new", "plain", tmp_path / "two words.yaml")
    assert second.stderr.endswith(f"loomfolio print '{tmp_path}/two words.yaml'\n")
    assert run("new", "plain", "").exit_code == 2


def test_the_cloth_of_a_plan_is_the_contract():
    data = json.loads(run("plan", "--json", ROOT / "specs" / "cushion-cover.yaml").stdout)
    cloth, draft = data["cloth"], data["draft"]
    assert {"layers", "pieces", "longest_float", "fold_faults", "stretches"} <= set(cloth)
    assert [piece["kind"] for piece in cloth["pieces"]] == ["tube"]
    assert len(draft["shuttles"]) == len(draft["from"]) == len(draft["lifts"])
    for stretch in cloth["stretches"]:
        ends = sorted(end for layer in stretch["layers"] for end in layer["ends"])
        picks = sorted(pick for layer in stretch["layers"] for pick in layer["picks"])
        first = stretch["first_pick"]
        assert ends == list(range(data["warp"]["ends"]))
        assert picks == list(range(first, first + stretch["picks"]))
        # Plain weave: no thread passes more than one of the other kind at once.
        assert {each["threads"] for each in stretch["floats"]} == {1}
    shuttles = data["weft"]["by_shuttle"]
    assert sum(each["picks"] for each in shuttles) == data["weft"]["picks"]


def test_what_was_measured_is_given_to_paste():
    result = run("measured", ROOT / "specs" / "twill-scarf.yaml")
    assert result.exit_code == 0
    block = yaml.safe_load(result.stdout)
    assert set(block) == {"allowances", "loom"}
    data = json.loads(run("measured", ROOT / "specs" / "twill-scarf.yaml", "--json").stdout)
    assert {each["key"] for each in data["measured"]} >= {"allowances.take_up", "loom.waste"}
    nothing = run("measured", TOWELS)
    assert nothing.exit_code == 1
    assert nothing.stdout == ""
    assert "nothing is measured in it" in nothing.stderr
