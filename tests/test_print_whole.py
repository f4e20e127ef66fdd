"""A print is there as a whole or not at all, whatever stands in its way."""

import errno
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from layouts import files
from tests.commands import ROOT, TOWELS, contents, run, start


def test_some_sheets_do_not_replace_the_folio(tmp_path):
    run("print", TOWELS, "-o", tmp_path)
    whole = (tmp_path / f"{TOWELS.stem}.pdf").read_bytes()
    result = run("print", TOWELS, "-o", tmp_path, "--sheet", "threading-chart", "--format", "pdf")
    assert [Path(line).name for line in result.stdout.split()] == [
        "kitchen-towels.threading-chart.pdf"
    ]
    assert (tmp_path / f"{TOWELS.stem}.pdf").read_bytes() == whole


def test_pages_that_are_no_more_are_taken_away(tmp_path):
    run("print", TOWELS, "-o", tmp_path, "--paper", "A5", "--format", "svg")
    more = set(tmp_path.iterdir())
    own = tmp_path / "kitchen-towels-pick-tally-notes.svg"
    own.write_text("mine")
    run("print", TOWELS, "-o", tmp_path, "--paper", "A4", "--format", "svg")
    fewer = set(tmp_path.iterdir())
    assert own in fewer
    assert len(fewer) - 1 < len(more)


def test_a_folder_that_cannot_be_written_is_told(tmp_path):
    (tmp_path / "folio").write_text("a file, not a folder")
    result = run("print", TOWELS, "-o", tmp_path / "folio")
    assert result.exit_code == 1
    assert result.stderr == f"{tmp_path}/folio: is a file, not a folder (choose another -o)\n"
    below = run("print", TOWELS, "-o", tmp_path / "folio" / "below")
    assert below.stderr == result.stderr
    assert (tmp_path / "folio").read_text() == "a file, not a folder"


def test_a_full_disk_leaves_the_older_print_whole(tmp_path, monkeypatch):
    run("print", TOWELS, "-o", tmp_path)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    calls = []

    def full(handle):
        calls.append(handle)
        if len(calls) > 2:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, "fsync", full)
    result = run("print", TOWELS, "-o", tmp_path, "--paper", "Letter")
    assert result.exit_code == 1
    assert "No space left" in result.stderr
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_a_print_that_is_killed_leaves_the_older_print_whole(tmp_path):
    run("print", TOWELS, "-o", tmp_path)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    for wait in (0.2, 0.5, 0.8):
        process = subprocess.Popen(
            [sys.executable, "-m", "layouts", "print", str(TOWELS), "-o", str(tmp_path)],
            cwd=ROOT,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        time.sleep(wait)
        process.send_signal(signal.SIGKILL)
        process.wait()
        after = {p.name: p.read_bytes() for p in tmp_path.iterdir() if p.suffix != ".part"}
        assert after == before


def test_a_folder_where_an_svg_should_go_leaves_everything_as_it_is(tmp_path):
    run("print", TOWELS, "-o", tmp_path)
    page = tmp_path / "kitchen-towels-warping-card-1.svg"
    page.unlink()
    page.mkdir()
    before = contents(tmp_path)
    result = run("print", TOWELS, "-o", tmp_path, "--paper", "Letter")
    assert result.exit_code == 1
    assert result.stderr.startswith(f"{page}: is a folder, where a file is to be written (")
    assert contents(tmp_path) == before


@pytest.mark.parametrize("links", [True, False])
@pytest.mark.parametrize("older", [True, False])
def test_a_move_that_fails_half_way_brings_the_older_print_back(
    tmp_path, monkeypatch, older, links
):
    if older:
        run("print", TOWELS, "-o", tmp_path)
    before = contents(tmp_path)
    moved = []

    def replace(one, other, really=os.replace):
        moved.append(other)
        if len(moved) == 3:
            raise OSError(errno.EIO, "Input/output error")
        really(one, other)

    def no_links(*_names, **_more):
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "replace", replace)
    if not links:
        monkeypatch.setattr(os, "link", no_links)
    result = run("print", TOWELS, "-o", tmp_path, "--paper", "Letter")
    assert len(moved) >= 3
    assert result.exit_code == 1
    assert "Input/output error" in result.stderr
    assert "an older print there is whole" in result.stderr
    assert contents(tmp_path) == before


def test_an_older_file_that_cannot_come_back_is_kept_and_named(tmp_path, monkeypatch):
    run("print", TOWELS, "-o", tmp_path)
    pdf = (tmp_path / "kitchen-towels.pdf").read_bytes()
    moved = []

    def replace(one, other, really=os.replace):
        moved.append(other)
        if len(moved) > 1:
            raise OSError(errno.EIO, "Input/output error")
        really(one, other)

    monkeypatch.setattr(os, "replace", replace)
    result = run("print", TOWELS, "-o", tmp_path, "--paper", "Letter")
    assert result.exit_code == 1
    assert "is whole" not in result.stderr
    kept = result.stderr.rsplit("kept as ", 1)[1].removesuffix(")\n")
    assert Path(kept).read_bytes() == pdf


_SIGNALLED = """
import os, signal, sys
from layouts.cli import main
calls, name = 0, sys.argv.pop(1)
really = getattr(os, name)
def stopped(*arguments, **more):
    global calls
    calls += 1
    if calls == 2:
        os.kill(os.getpid(), signal.{signal})
    return really(*arguments, **more)
setattr(os, name, stopped)
main()
"""


@pytest.mark.parametrize(("name", "code"), [("SIGTERM", 143), ("SIGHUP", 129), ("SIGINT", 1)])
@pytest.mark.parametrize(("function", "completed"), [("replace", True), ("fsync", False)])
def test_a_signal_ends_a_print_before_or_behind_it(tmp_path, name, code, function, completed):
    """128 and the number of the signal is what a shell calls such an end (from memory, POSIX)."""
    run("print", TOWELS, "-o", tmp_path)
    run("print", TOWELS, "-o", tmp_path / "new", "--paper", "Letter")
    want = contents(tmp_path / "new" if completed else tmp_path)
    program = f"-c {_SIGNALLED.format(signal=name)}"
    result = start(function, "print", TOWELS, "-o", tmp_path, "--paper", "Letter", program=program)
    assert result.returncode == code
    assert b"Traceback" not in result.stderr
    assert contents(tmp_path) == want


def test_what_a_killed_print_left_goes_with_the_next(tmp_path):
    left = [".kitchen-towels.pdf.abcd_123.part", ".kitchen-towels.pdf.abcd_123.old.part"]
    left += [".kitchen-towels-pick-tally-12.svg.x.part", ".kitchen-towels.pick-tally.pdf.x.part"]
    others = [".kitchen.pdf.abcd_123.part", "kitchen-towels.part", ".kitchen-towels.part"]
    for name in (*left, *others):
        (tmp_path / name).write_text("half")
    assert run("print", TOWELS, "-o", tmp_path).exit_code == 0
    names = {path.name for path in tmp_path.iterdir()}
    assert not names & set(left)
    assert names >= set(others)


def test_what_is_no_page_is_left_and_does_not_fail_a_print(tmp_path):
    folder = tmp_path / "kitchen-towels-pick-tally-90.svg"
    folder.mkdir()
    link = tmp_path / "kitchen-towels-pick-tally-91.svg"
    link.symlink_to("nowhere")
    page = tmp_path / "kitchen-towels-pick-tally-92.svg"
    page.write_text("a page of an older print")
    other = tmp_path / "kitchen-towels-warping-card-92.svg"
    other.write_text("of a sheet that is not printed now")
    result = run("print", TOWELS, "-o", tmp_path, "--sheet", "pick-tally")
    assert result.exit_code == 0
    assert folder.is_dir()
    assert link.is_symlink()
    assert other.exists()
    assert not page.exists()


def test_prints_into_one_folder_at_the_same_time_are_all_whole(tmp_path):
    command = [sys.executable, "-m", "layouts", "print", TOWELS, "-o", tmp_path]
    running = [subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL) for _ in range(4)]
    assert [process.wait() for process in running] == [0] * 4
    alone = tmp_path / "alone"
    run("print", TOWELS, "-o", alone)
    assert contents(tmp_path) == contents(alone)


def test_a_folder_that_may_not_be_written_is_told(tmp_path, monkeypatch):
    def forbidden(**_more):
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(files.tempfile, "mkstemp", forbidden)
    result = run("print", TOWELS, "-o", tmp_path)
    assert result.exit_code == 1
    assert "make the folder writable" in result.stderr


def test_a_name_that_is_too_long_is_told(tmp_path):
    result = run("print", TOWELS, "-o", tmp_path / ("x" * 300))
    assert result.exit_code == 1
    assert "choose another -o" in result.stderr
    assert "too long" in result.stderr


def test_a_sheet_never_takes_the_place_of_another_folio(tmp_path):
    other = tmp_path / "kitchen-towels-warping-card.yaml"
    shutil.copy(TOWELS, other)
    first = run("print", other, "-o", tmp_path)
    second = run("print", TOWELS, "-o", tmp_path, "--sheet", "warping-card")
    assert first.exit_code == second.exit_code == 0
    assert not set(first.stdout.split()) & set(second.stdout.split())


def test_no_loom_writes_over_the_cards_of_another(tmp_path):
    names = ("x", "x 2", "X!", "Станок", "Кросны", "w" * 120)
    looms = "".join(f'  - {{name: "{name}", action: table, shafts: 4}}\n' for name in names)
    spec = tmp_path / "towels.yaml"
    spec.write_text(f"{TOWELS.read_text('utf-8')}\nlooms:\n{looms}", "utf-8")
    result = run("print", spec, "-o", tmp_path / "folio", "--format", "svg")
    pages = result.stdout.split("\n")
    assert len(pages) == len(set(pages))
    assert sum("tie-up-card-on-" in page for page in pages) == len(names)
    alone = [
        run("print", spec, "-o", tmp_path, "--loom", name, "--format", "pdf").stdout.strip()
        for name in names[3:5]
    ]
    assert [Path(page).name for page in alone] == ["towels.on-станок.pdf", "towels.on-кросны.pdf"]
