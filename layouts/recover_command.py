"""The command that gives a spec back out of what was printed from it."""

from __future__ import annotations

import os
import stat
import sys
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import click

from layouts.options import not_empty
from layouts.streams import give_bytes, give_path, tell

if TYPE_CHECKING:
    from layouts.attachment import Attachment


@click.command()
@click.argument("file", callback=not_empty)
@click.option(
    "-o",
    "--output",
    metavar="DIR",
    callback=not_empty,
    help="Write the spec, and the files it refers to, into this folder.",
)
def recover(file: str, output: str | None) -> None:
    """Give back the spec that a printed FILE, PDF or SVG, was printed from, byte for byte.

    It goes to standard output, or with -o into a folder, where no file is ever written over.
    """
    from layouts.not_recovered import NotRecovered  # noqa: PLC0415
    from layouts.recovered import recovered  # noqa: PLC0415

    name = "<stdin>" if file == "-" else file
    try:
        found = recovered(_read(file))
    except OSError as error:
        tell(f"{name}: cannot be read: {error.strerror or error} (check the name)")
        sys.exit(1)
    except NotRecovered as error:
        tell(f"{name}: {error} ({error.mend})")
        sys.exit(1)
    given = _to_folder(found, Path(output)) if output is not None else _to_stdout(found, name)
    sys.exit(0 if given else 1)


def _read(file: str) -> bytes:
    """Return the bytes of a file; raises OSError, and NotRecovered for what no print is."""
    from layouts.not_recovered import NotRecovered  # noqa: PLC0415
    from layouts.recovered import LARGEST_FILE  # noqa: PLC0415

    if file == "-":
        buffer = getattr(sys.stdin, "buffer", None)
        if buffer is None or buffer.closed:
            raise NotRecovered("standard input is closed", "pipe a file into it, or name one")
        data = bytes(buffer.read(LARGEST_FILE + 1))
    else:
        try:
            mode = Path(file).stat().st_mode
        except ValueError as error:  # a null character
            raise NotRecovered("no file can have this name", "check the name") from error
        if stat.S_ISDIR(mode):
            raise NotRecovered("this is a folder", "name a file that was printed")
        if not stat.S_ISREG(mode):
            raise NotRecovered("this is no regular file", "copy it into one, or name -")
        with Path(file).open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    if len(data) > LARGEST_FILE:
        raise NotRecovered("the file is larger than any print", "name a file that was printed")
    return data


def _to_stdout(found: list[Attachment], name: str) -> bool:
    specs = [each for each in found if each.relationship == "Source"]
    others = [each.name for each in found if each.relationship != "Source"]
    if len(specs) > 1:
        tell(f"{name}: there are {len(specs)} specs in it (name a folder for them: -o DIR)")
        return False
    if others:
        listed = ", ".join(map(_shown, others[:5]))
        more = f" and {len(others) - 5} more" if len(others) > 5 else ""
        tell(f"{name}: note: the spec refers to {listed}{more}; -o DIR writes all that is in it")
    return give_bytes(specs[0].data)


def _shown(name: str) -> str:
    """Return a name as it may stand in a line for a person."""
    return repr(name[:100])


def _to_folder(found: list[Attachment], folder: Path) -> bool:
    """Write all files or none, each under a name that is free; tell where they are."""
    from layouts.safe_names import safe_names  # noqa: PLC0415

    names = safe_names([each.name for each in found])
    for each, name in zip(found, names, strict=True):
        if name != each.name:
            tell(f"note: {_shown(each.name)} is no name for a file here; it is written as {name}")
    finals = [folder / name for name in names]
    try:
        _write_new(folder, finals, [each.data for each in found])
    except FileExistsError as error:
        tell(f"{error.filename}: is there already (choose another -o; nothing was written)")
        return False
    except OSError as error:
        where = error.filename or folder
        why = error.strerror or error
        tell(f"{where}: cannot be written: {why} (choose another -o; nothing was written)")
        return False
    given = [give_path(path) for path in finals]
    return all(given)


def _write_new(folder: Path, finals: list[Path], contents: list[bytes]) -> None:
    """Write files that are not there yet; raises OSError, and then none of them is there."""
    written: list[Path] = []
    made: list[Path] = []
    try:
        for final, data in zip(finals, contents, strict=True):
            _make_folders(final.parent, made)
            _check_within(folder, final)
            with final.open("xb") as stream:
                written.append(final)
                stream.write(data)
    except BaseException:
        for path in written:
            with suppress(OSError):
                path.unlink()
        for path in reversed(made):
            with suppress(OSError):
                path.rmdir()
        raise


def _make_folders(folder: Path, made: list[Path]) -> None:
    """Make a folder and those above it that are not there; note which."""
    for each in (*reversed(folder.parents), folder):
        if not os.path.lexists(each):
            each.mkdir()
            made.append(each)


def _check_within(folder: Path, final: Path) -> None:
    """Raise OSError where a link leads out of the folder."""
    if not final.parent.resolve().is_relative_to(folder.resolve()):
        raise OSError(0, "a link there leads out of the folder", str(final.parent))
