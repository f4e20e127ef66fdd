"""The command that compares: exit codes, what goes where, and files that are there or not."""

import json
import shutil

import pypdf
import pytest

from tests.commands import BAD, FULL_DISK, ROOT, TOWELS, contents, needs_full_disk, run, start
from tests.project.worked import spec_text
from tests.worked_specs import LOOMS

THROW = ROOT / "specs" / "throw-three-ways.yaml"
NAMES = ["fine wool", "cotton", "alpaca", "alpaca, for the knees"]


def data_of(*arguments, **more):
    result = run("compare", "--json", *arguments, **more)
    return json.loads(result.stdout)["candidates"], result


def spec_with(*candidates, **changes):
    return spec_text(candidates=list(candidates), **changes)


def test_a_table_of_all_candidates():
    result = run("compare", THROW)
    assert result.exit_code == 0
    assert result.stderr == ""
    for name in NAMES[:3]:
        assert name in result.stdout
    assert "1360" in result.stdout


def test_data_of_all_candidates():
    data, result = data_of(THROW)
    assert result.exit_code == 0
    assert [each["candidate"] for each in data] == NAMES
    keys = {"candidate", "errors", "warnings", "fits", "sizes", "ends", "width_in_reed_mm",
            "warp_length_mm", "buy_g", "yarn_cost", "hours", "cloth_weight_g_m2", "loom"}  # fmt: skip
    assert all(keys <= set(each) for each in data)


def test_each_candidate_is_planned_as_it_is_compared():
    data, _ = data_of(THROW)
    for each in data:
        plan = run("plan", "--json", "--no-drawdown", THROW, "--candidate", each["candidate"])
        assert plan.exit_code == 0
        assert json.loads(plan.stdout)["warp"]["ends"] == each["ends"]
        assert json.loads(plan.stdout)["project"]["candidate"] == each["candidate"]


def test_several_specs_and_their_candidates():
    data, result = data_of(TOWELS, THROW)
    assert result.exit_code == 0
    assert [each["candidate"] for each in data] == [
        "Estuary kitchen towels", *(f"Headland throw: {name}" for name in NAMES),
    ]  # fmt: skip
    doubled, _ = data_of(TOWELS, TOWELS, TOWELS)
    assert len({each["candidate"] for each in doubled}) == 3


def test_on_another_loom():
    data, _ = data_of(THROW, "--loom", "class table loom")
    assert {each["loom"] for each in data} == {"class table loom"}
    assert [each["fits"] for each in data] == [False] * 4
    missing = run("compare", THROW, "--loom", "clas table loom")
    assert missing.exit_code == 1
    assert "did you mean 'class table loom'?" in missing.stderr


def test_what_fails_is_told_and_the_others_are_compared(tmp_path):
    spec = tmp_path / "x.yaml"
    loom = {"action": "rising", "shafts": "4", "treadles": "6", "width": "35 in"}
    wide = {"candidate": "wide", "cloth": {"width": "60 in"}}
    spec.write_text(spec_with(wide, {"candidate": "none", "without": ["sett"]}, loom=loom))
    data, result = data_of(spec)
    assert result.exit_code == 1
    assert [each["fits"] for each in data] == [True, False, False]
    assert [len(each["errors"]) > 0 for each in data] == [False, True, True]
    assert "in candidate 'wide': the warp is" in result.stderr
    table = run("compare", spec, env={"COLUMNS": "160"})
    assert table.exit_code == 1
    assert "in too wide for the loom" in table.stdout
    assert "not known" in table.stdout
    printed = run("compare", spec, "-o", tmp_path / "out")
    assert printed.exit_code == 1
    assert (tmp_path / "out" / "compare.pdf").exists()


def test_nothing_can_be_worked_out(tmp_path):
    spec = tmp_path / "x.yaml"
    spec.write_text(spec_with({"candidate": "b", "picks": "9 per cm"}, sett=None))
    result = run("compare", spec, "-o", tmp_path / "out")
    assert result.exit_code == 1
    assert "none of them could be worked out" in result.stderr
    assert not (tmp_path / "out").exists()
    data, again = data_of(spec)
    assert again.exit_code == 1
    assert len(data) == 2


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([TOWELS], "nothing to compare it with"),
        ([LOOMS, TOWELS], "file of looms and yarns"),
        ([THROW, "--paper", "A4"], "-o"),
        ([THROW, "--format", "svg"], "-o"),
        ([THROW, "--json", "-o", "x"], "either"),
        ([THROW, "-o", ""], "no name"),
        (["-", "-"], "read once"),
        ([THROW] * 11, "40 can be compared"),
    ],
)
def test_what_is_not_understood_exits_2(arguments, words):
    result = run("compare", *arguments)
    assert result.exit_code == 2
    assert words in " ".join(result.stderr.split()).replace("│ ", "").replace(" │", "")


def test_one_alone_that_is_wrong_is_told():
    result = run("compare", BAD / "unknown-key.yaml")
    assert result.exit_code == 1
    assert "did you mean 'colour'?" in result.stderr


def test_standard_input():
    data, result = data_of("-", TOWELS, input=spec_with({"candidate": "b", "sett": "20 per in"}))
    assert result.exit_code == 0
    assert [each["candidate"] for each in data] == [
        "A plain cloth: as written", "A plain cloth: b", "Estuary kitchen towels",
    ]  # fmt: skip


def test_a_narrow_terminal_and_no_colour():
    wide = run("compare", THROW, env={"COLUMNS": "200"}).stdout
    narrow = run("compare", THROW, env={"COLUMNS": "50"}).stdout
    assert max(map(len, narrow.splitlines())) <= 50 < max(map(len, wide.splitlines()))
    assert narrow.count("length of the warp") > wide.count("length of the warp") == 1
    spec = spec_with({"candidate": "b", "set": "9 per cm"})
    result = run("compare", "-", input=spec, color=True, env={"NO_COLOR": "1"})
    assert "\x1b[" not in result.stderr + result.stdout


def test_the_sheet_is_one_pdf_and_one_svg_a_page(tmp_path):
    result = run("compare", THROW, "-o", tmp_path)
    assert result.exit_code == 0
    reader = pypdf.PdfReader(tmp_path / "compare.pdf", strict=True)
    svgs = [f"compare-{number}.svg" for number in range(1, len(reader.pages) + 1)]
    assert sorted(contents(tmp_path)) == sorted(["compare.pdf", *svgs])
    assert [line.rsplit("/", 1)[1] for line in result.stdout.split()] == ["compare.pdf", *svgs]
    assert reader.metadata.title == "Headland throw: candidates compared"


def test_pages_that_are_no_more_are_taken_away(tmp_path):
    run("compare", THROW, "-o", tmp_path, "--paper", "A5")
    assert len(contents(tmp_path)) > 2
    (tmp_path / "compare-notes-2.svg").write_text("mine")
    run("compare", THROW, "-o", tmp_path, "--paper", "A4")
    assert set(contents(tmp_path)) == {"compare.pdf", "compare-1.svg", "compare-notes-2.svg"}


@pytest.mark.parametrize("form", ["pdf", "svg"])
def test_only_some_files(form, tmp_path):
    run("compare", THROW, "-o", tmp_path, "--format", form)
    assert {name.rsplit(".", 1)[1] for name in contents(tmp_path)} == {form}


def test_same_specs_same_bytes(tmp_path):
    for seed in ("1", "77"):
        start("compare", THROW, "-o", tmp_path / seed, env={"PYTHONHASHSEED": seed})
    assert contents(tmp_path / "1") == contents(tmp_path / "77")


def test_what_cannot_be_written_is_told(tmp_path):
    (tmp_path / "file").write_text("mine")
    result = run("compare", THROW, "-o", tmp_path / "file")
    assert result.exit_code == 1
    assert "is a file, not a folder" in result.stderr
    small = run("compare", THROW, "-o", tmp_path / "out", "--paper", "90 x 120 mm")
    assert small.exit_code == 1
    assert "choose another paper" in small.stderr
    assert not (tmp_path / "out").exists()


@needs_full_disk
def test_a_full_disk_behind_the_table_is_told():
    with FULL_DISK.open("w") as full:
        result = start("compare", THROW, stdout=full, stderr=-1, capture_output=False)
    assert result.returncode == 1
    assert b"cannot be written" in result.stderr


def test_a_candidate_is_printed_under_its_name(tmp_path):
    shutil.copy(THROW, tmp_path / "throw.yaml")
    shutil.copy(LOOMS, tmp_path / "looms.yaml")
    out = tmp_path / "out"
    result = run("print", tmp_path / "throw.yaml", "-o", out, "--candidate", "Alpaca, for the KNEES",
                 "--sheet", "warping-card")  # fmt: skip
    assert result.exit_code == 0
    stem = "throw.as-alpaca-for-the-knees"
    assert set(contents(out)) == {f"{stem}.warping-card.pdf", f"{stem}-warping-card-1.svg"}
    # The card says which candidate it is, as it is written in the spec.
    assert "Headland throw · alpaca, for the knees" in (
        out / f"{stem}-warping-card-1.svg"
    ).read_text("utf-8")
    both = run("print", tmp_path / "throw.yaml", "-o", out, "--candidate", "cotton", "--loom", "dobby",
               "--sheet", "tie-up-card", "--format", "pdf")  # fmt: skip
    assert both.exit_code == 1  # the dobby is too narrow, and that is told of the candidate
    run("print", tmp_path / "throw.yaml", "-o", out, "--candidate", "alpaca, for the knees", "--loom",
        "old eight-shaft counterbalance", "--sheet", "warping-card", "--format", "pdf")  # fmt: skip
    assert f"{stem}.on-old-eight-shaft-counterbalance.warping-card.pdf" in contents(out)


def test_check_looks_into_every_candidate(tmp_path):
    spec = tmp_path / "x.yaml"
    spec.write_text(spec_with({"candidate": "b", "set": "9 per cm"}))
    result = run("check", spec)
    assert result.exit_code == 1
    assert "in candidate 'b': unknown key 'set' (did you mean 'sett'?)" in result.stderr
    assert run("plan", spec).exit_code == 0
    assert run("check", spec, "--candidate", "as written").exit_code == 0
    missing = run("plan", spec, "--candidate", "c")
    assert missing.exit_code == 1
    assert "there is no candidate 'c'" in missing.stderr


@pytest.mark.parametrize(
    ("changes", "shown"),
    [
        ({"candidate": "plain", "picks": "\N{ARABIC PERCENT SIGN}"}, "`?` stands where a number"),
        ({"candidate": "\N{CJK UNIFIED IDEOGRAPH-7DBF}", "picks": "6 per cm"}, "font cannot print"),
    ],
)
def test_what_the_font_lacks_is_printed_as_a_question_mark(changes, shown, tmp_path):
    spec = tmp_path / "spec.yaml"
    spec.write_text(spec_with({"candidate": "as written"}, changes), "utf-8")
    result = run("compare", spec, "-o", tmp_path / "folio")
    assert result.exit_code == 1
    assert ": error: " in result.stderr
    text = pypdf.PdfReader(tmp_path / "folio" / "compare.pdf").pages[0].extract_text()
    text = " ".join(text.split())
    assert "?" in text
    assert "as written" in text
    assert shown in text or shown in result.stderr
