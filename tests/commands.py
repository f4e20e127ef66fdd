"""Runs the command line, in this process or in one of its own."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from layouts.cli import main

ROOT = Path(__file__).parents[1]

TOWELS = ROOT / "specs" / "kitchen-towels.yaml"
BAD = ROOT / "tests" / "bad_specs"

FULL_DISK = Path("/dev/full")
needs_full_disk = pytest.mark.skipif(not FULL_DISK.exists(), reason="no /dev/full here")


def contents(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def start(*arguments, program="-m layouts", env=None, **more):
    """Run a process of its own, for what only one can have: closed streams, limits, signals."""
    return subprocess.run(
        [sys.executable, *program.split(" ", 1), *map(str, arguments)],
        check=False,
        env={**os.environ, **(env or {})},
        **({"capture_output": True, "cwd": ROOT} | more),
    )


def run(*arguments, **more):
    return CliRunner().invoke(main, [str(each) for each in arguments], **more)
