"""Files that cannot be read: each says why, at once, and how to mend it."""

import errno
import io
import os
import socket
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from cards.spec import read_spec
from cards.spec.source import LARGEST

GOOD = Path(__file__).parent / "good.yaml"


def finding_of(path):
    reading = read_spec(path)
    assert reading.spec is None
    (finding,) = reading.findings
    assert finding.mend
    return finding


def with_stdin(monkeypatch, source):
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=io.BytesIO(source)))


def test_the_system_says_why_and_so_do_we(tmp_path):
    file = tmp_path / "throw.yaml"
    file.write_bytes(GOOD.read_bytes())
    loop = tmp_path / "loop.yaml"
    loop.symlink_to(loop)
    assert "folder is named" in finding_of(file / "throw.yaml").message
    assert "back to itself" in finding_of(loop).message
    assert "too long" in finding_of(tmp_path / ("a" * 5000)).message
    assert finding_of("").message == "no file is named"
    assert finding_of("a\0b").mend == "check the name"


@pytest.mark.parametrize(
    ("number", "mend"), [(errno.EACCES, "check its permissions"), (errno.EIO, "copy it")]
)
def test_what_only_some_systems_refuse(monkeypatch, number, mend):
    def refuse(*_args, **_more):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(Path, "open", refuse)
    assert finding_of(GOOD).mend.startswith(mend)


def test_a_pipe_without_a_writer_is_refused_at_once(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    assert finding_of(pipe).code == "not-a-regular-file"


def test_sockets_and_devices_are_refused(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)  # the name of a socket must be short
    with socket.socket(socket.AF_UNIX) as listener:
        listener.bind("socket")
        assert finding_of("socket").code == "not-a-regular-file"
    assert finding_of("/dev/zero").code == "not-a-regular-file"


def test_a_pipe_that_the_shell_has_opened_is_read():
    reader, writer = os.pipe()
    os.write(writer, GOOD.read_bytes())
    os.close(writer)
    try:
        assert read_spec(f"/dev/fd/{reader}").spec is not None
    finally:
        os.close(reader)


@pytest.mark.parametrize("second", ["-", "/dev/stdin"])
def test_standard_input_is_read_once(monkeypatch, second):
    with_stdin(monkeypatch, GOOD.read_bytes())
    assert read_spec("-").spec is not None
    assert "read already" in finding_of(second).message
    with_stdin(monkeypatch, GOOD.read_bytes())
    assert read_spec(second).spec is not None


def test_no_standard_input_at_all(monkeypatch):
    closed = io.TextIOWrapper(io.BytesIO())
    closed.close()
    detached = io.TextIOWrapper(io.BytesIO())
    detached.detach()
    for stream in (None, closed, detached):
        monkeypatch.setattr(sys, "stdin", stream)
        assert finding_of("-").code == "no-standard-input"


def test_a_file_over_the_limit(tmp_path):
    file = tmp_path / "throw.yaml"
    file.write_bytes(b"#" * (LARGEST + 5000))
    assert finding_of(file).message == "the file has more than 1 MiB"
