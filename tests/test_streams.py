"""What is said on stdout and stderr, when they are full, closed or of another encoding."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from cards.spec import spec_schema
from tests.commands import BAD, FULL_DISK, ROOT, TOWELS, needs_full_disk, start


@needs_full_disk
@pytest.mark.parametrize(
    "arguments",
    [["plan", TOWELS], ["plan", "--json", TOWELS], ["schema"], ["new", "plain", "-"]],
)
def test_a_full_disk_behind_stdout_is_told_in_a_line(arguments):
    with FULL_DISK.open("w") as full:
        result = start(*arguments, stdout=full, capture_output=False, stderr=subprocess.PIPE)
    assert result.returncode == 1
    assert result.stderr.startswith(b"standard output: cannot be written: ")
    assert result.stderr.count(b"\n") == 1


@needs_full_disk
def test_a_print_whose_paths_cannot_be_told_is_whole(tmp_path):
    with FULL_DISK.open("w") as full:
        command = ("print", TOWELS, "-o", tmp_path)
        result = start(*command, stdout=full, capture_output=False, stderr=subprocess.PIPE)
    assert result.returncode == 1
    assert result.stderr.startswith(b"standard output: cannot be written: ")
    assert result.stderr.count(b"\n") == 1
    assert (tmp_path / "kitchen-towels.pdf").exists()


@pytest.mark.parametrize("arguments", [["plan"], ["plan", "--json"], ["print", "-o"]])
def test_a_reader_that_has_seen_enough_is_no_error(arguments, tmp_path):
    reading, writing = os.pipe()
    os.close(reading)
    folder = [tmp_path] if "-o" in arguments else []
    result = start(
        *arguments, *folder, TOWELS, stdout=writing, capture_output=False, stderr=subprocess.PIPE
    )
    os.close(writing)
    assert (result.returncode, result.stderr) == (0, b"")


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (["check", TOWELS], 0),
        (["check", BAD / "unknown-key.yaml"], 1),
        (["plan", TOWELS], 0),
        (["print", TOWELS, "-o"], 0),
        (["print", BAD / "unknown-key.yaml", "-o"], 1),
    ],
)
@pytest.mark.parametrize("stderr", ["2>&-", pytest.param("2>/dev/full", marks=needs_full_disk)])
def test_nobody_who_listens_on_stderr_changes_nothing(arguments, code, stderr, tmp_path):
    folder = [tmp_path] if "-o" in arguments else []
    words = [sys.executable, "-m", "layouts", *arguments, *folder]
    shell = ["/bin/sh", "-c", f'"$@" {stderr}', "sh", *words]
    assert subprocess.run(shell, cwd=ROOT, capture_output=True, check=False).returncode == code


def test_a_command_that_is_not_understood_exits_2_though_stderr_is_closed():
    shell = ["/bin/sh", "-c", '"$@" 2>&-', "sh", sys.executable, "-m", "layouts", "nonsense"]
    assert subprocess.run(shell, cwd=ROOT, capture_output=True, check=False).returncode == 2


@pytest.mark.parametrize("encoding", ["latin-1", "cp437", "ascii"])
def test_data_is_utf_8_and_words_are_never_fatal_whatever_the_encoding(encoding, tmp_path):
    spec = tmp_path / "łódź.yaml"
    text = TOWELS.read_text("utf-8").replace("Estuary kitchen towels", "Łódź ½ × 24″ Жук")
    spec.write_text(text, "utf-8")
    env = {"PYTHONIOENCODING": encoding}
    data = start("plan", "--json", spec, env=env)
    assert (data.returncode, data.stderr) == (0, b"")
    assert "Łódź ½ × 24″ Жук" in json.dumps(
        json.loads(data.stdout.decode("utf-8")), ensure_ascii=False
    )
    table = start("plan", spec, env=env)
    assert table.returncode == 0
    table.stdout.decode(encoding)
    assert json.loads(start("schema", env=env).stdout.decode("utf-8")) == spec_schema()
    checked = start("check", spec, env=env)
    assert checked.returncode == 0
    checked.stderr.decode(encoding)
    printed = start("print", spec, "-o", tmp_path / "ü", env=env)
    names = printed.stdout.decode("utf-8").splitlines()
    assert names
    assert all(Path(name).exists() for name in names)
