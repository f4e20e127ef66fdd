"""The command line: exit codes, what goes where, and files that are whole or not there."""

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner

from cards.project import work_out
from cards.spec import read_spec, spec_schema
from layouts import folio
from layouts.cli import STARTERS, main

ROOT = Path(__file__).parents[1]
SPECS = sorted((ROOT / "specs").glob("*.yaml"))
BAD = ROOT / "tests" / "bad_specs"


def run(*arguments, **more):
    return CliRunner().invoke(main, [str(each) for each in arguments], **more)


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_the_worked_specs_have_nothing_to_mend(path):
    result = run("check", path)
    assert result.exit_code == 0
    assert result.stderr == f"{path}: nothing to mend\n"
    assert result.stdout == ""


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
    data = json.loads(run("plan", "--json", SPECS[0]).stdout)
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
    short = run("plan", "--json", "--no-drawdown", SPECS[0]).stdout
    assert "drawdown" not in short
    assert len(short) < 10_000


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
    result = run("print", SPECS[0], "-o", tmp_path)
    assert result.exit_code == 0
    written = sorted(path.name for path in tmp_path.iterdir())
    assert sorted(Path(line).name for line in result.stdout.split()) == written
    reader = pypdf.PdfReader(tmp_path / f"{SPECS[0].stem}.pdf", strict=True)
    assert len(written) == 1 + len(reader.pages)
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert reader.metadata.title == "Estuary kitchen towels (FW-007)"
    titles = [each.title for each in reader.outline if not isinstance(each, list)]
    assert titles == ["Warping card", "Threading chart", "Pick tally"]
    assert reader.page_labels[0] == "Warping card 1"


def test_some_sheets_do_not_replace_the_folio(tmp_path):
    run("print", SPECS[0], "-o", tmp_path)
    whole = (tmp_path / f"{SPECS[0].stem}.pdf").read_bytes()
    result = run("print", SPECS[0], "-o", tmp_path, "--sheet", "threading-chart", "--format", "pdf")
    assert [Path(line).name for line in result.stdout.split()] == [
        "kitchen-towels-threading-chart.pdf"
    ]
    assert (tmp_path / f"{SPECS[0].stem}.pdf").read_bytes() == whole


def test_pages_that_are_no_more_are_taken_away(tmp_path):
    run("print", SPECS[0], "-o", tmp_path, "--paper", "A5", "--format", "svg")
    more = set(tmp_path.iterdir())
    own = tmp_path / "kitchen-towels-pick-tally-notes.svg"
    own.write_text("mine")
    run("print", SPECS[0], "-o", tmp_path, "--paper", "A4", "--format", "svg")
    fewer = set(tmp_path.iterdir())
    assert own in fewer
    assert len(fewer) - 1 < len(more)


def test_same_spec_same_bytes(tmp_path):
    for name, seed, zone in (("one", "1", "UTC"), ("two", "77", "Asia/Tokyo")):
        subprocess.run(
            [sys.executable, "-m", "layouts", "print", str(SPECS[0]), "-o", str(tmp_path / name)],
            check=True,
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone},
            stdout=subprocess.DEVNULL,
        )
    for path in (tmp_path / "one").iterdir():
        assert path.read_bytes() == (tmp_path / "two" / path.name).read_bytes()


def test_errors_print_nothing_and_leave_the_older_print(tmp_path):
    spec = tmp_path / "towels.yaml"
    shutil.copy(SPECS[0], spec)
    run("print", spec, "-o", tmp_path / "folio")
    before = {path.name: path.read_bytes() for path in (tmp_path / "folio").iterdir()}
    spec.write_text(spec.read_text("utf-8").replace("width: 90 cm", "width: 30 cm"), "utf-8")
    result = run("print", spec, "-o", tmp_path / "folio")
    assert result.exit_code == 1
    assert "not printed" in result.stderr
    assert {p.name: p.read_bytes() for p in (tmp_path / "folio").iterdir()} == before


def test_a_folder_that_cannot_be_written_is_told(tmp_path):
    (tmp_path / "folio").write_text("a file, not a folder")
    result = run("print", SPECS[0], "-o", tmp_path / "folio")
    assert result.exit_code == 1
    assert "cannot be written" in result.stderr
    assert (tmp_path / "folio").read_text() == "a file, not a folder"


def test_a_full_disk_leaves_the_older_print_whole(tmp_path, monkeypatch):
    run("print", SPECS[0], "-o", tmp_path)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    calls = []

    def full(handle):
        calls.append(handle)
        if len(calls) > 2:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(folio.os, "fsync", full)
    result = run("print", SPECS[0], "-o", tmp_path, "--paper", "Letter")
    assert result.exit_code == 1
    assert "No space left" in result.stderr
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_a_print_that_is_killed_leaves_the_older_print_whole(tmp_path):
    run("print", SPECS[0], "-o", tmp_path)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    for wait in (0.2, 0.5, 0.8):
        process = subprocess.Popen(
            [sys.executable, "-m", "layouts", "print", str(SPECS[0]), "-o", str(tmp_path)],
            cwd=ROOT,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        time.sleep(wait)
        process.send_signal(signal.SIGKILL)
        process.wait()
        after = {p.name: p.read_bytes() for p in tmp_path.iterdir() if p.suffix != ".part"}
        assert after == before


def test_unsuitable_paper_is_refused_before_anything_is_written(tmp_path):
    result = run("print", SPECS[0], "-o", tmp_path / "x", "--paper", "90 x 120 mm")
    assert result.exit_code == 1
    assert "choose another paper" in result.stderr
    assert not (tmp_path / "x").exists()


def test_standard_input_is_read(tmp_path):
    result = run("print", "-", "-o", tmp_path, input=SPECS[0].read_bytes())
    assert result.exit_code == 0
    assert (tmp_path / "folio.pdf").exists()


def test_two_specs_of_one_name_are_refused(tmp_path):
    result = run("print", SPECS[0], tmp_path / SPECS[0].name, "-o", tmp_path)
    assert result.exit_code == 2


def test_an_unknown_sheet_is_refused_with_those_there_are():
    result = run("print", SPECS[0], "--sheet", "warp-card")
    assert result.exit_code == 2
    assert "warping-card" in result.stderr


@pytest.mark.parametrize("kind", STARTERS)
def test_a_starter_can_be_printed_as_it_is(kind, tmp_path):
    spec = tmp_path / "start.yaml"
    assert run("new", kind, spec).exit_code == 0
    result = run("print", spec, "-o", tmp_path)
    assert result.exit_code == 0
    assert result.stderr == ""
    assert "yaml-language-server" in spec.read_text("utf-8")


def test_new_never_overwrites(tmp_path):
    spec = tmp_path / "start.yaml"
    spec.write_text("mine")
    result = run("new", "plain", spec)
    assert result.exit_code == 1
    assert spec.read_text() == "mine"


def test_schema_is_that_of_the_models():
    assert json.loads(run("schema").stdout) == spec_schema()


def test_colours_only_for_people_who_want_them():
    result = run("check", BAD / "unknown-key.yaml", color=True)
    assert "\x1b[" not in result.stderr
