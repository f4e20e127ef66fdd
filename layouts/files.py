"""The writing of files: all of them or none, and an older print stays whole until it is replaced.

Every file is first written under a hidden name beside its place, `.NAME.xxxxxxxx.part`. Only when
all are there are they moved into place, while what they replace is kept under a hidden name too
and comes back if any move fails. What a killed print left behind goes with the next one.
"""

from __future__ import annotations

import errno
import os
import re
import shutil
import stat
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from layouts.signals import held


@dataclass(frozen=True, slots=True)
class File:
    """One finished file, still in memory."""

    name: str
    data: bytes


class NotRestored(OSError):  # noqa: N818 -- it names what is wrong
    """Raised when a file was replaced, the next could not be, and the older one cannot come back.

    `filename` is the file that is of the newer print, `filename2` where the older one is kept.
    """


@dataclass(frozen=True, slots=True)
class _Move:
    """A file that waits beside its place, and where the older one of that name is kept."""

    waiting: Path
    final: Path
    older: Path


def write_files(
    files: Sequence[File], folder: Path, stem: str, further: Sequence[str] = ()
) -> list[Path]:
    """Write all files of `stem` and of `further` ones into `folder`, or none; return their paths.

    Pages of an earlier print of the same sheets that are no more, and what a killed print left,
    are taken away. Raises OSError when not everything can be written; then every older file
    is as it was, unless it is a NotRestored, which says where the older file lies.
    """
    folder.mkdir(parents=True, exist_ok=True)
    finals = [folder / file.name for file in files]
    for final in finals:
        check_target(final)
    with _shared(folder) as alone, held() as caught:
        moves: list[_Move] = []
        try:
            for file, final in zip(files, finals, strict=True):
                moves.append(_write_aside(file, final))
                if caught:
                    raise InterruptedError(errno.EINTR, "stopped", str(final))
            _move_all(moves)
        finally:
            for move in moves:
                with suppress(OSError):
                    move.waiting.unlink(missing_ok=True)
        stale = alone()
        for each in (stem, *further):
            remove_stale_pages(folder, each, finals)
            if stale:
                remove_unfinished(folder, each)
    return finals


def check_target(path: Path) -> None:
    """Raise OSError for what stands in the place of a file and is none."""
    try:
        mode = path.lstat().st_mode
    except FileNotFoundError:
        return
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    if not stat.S_ISREG(mode) and not stat.S_ISLNK(mode):
        raise FileExistsError(errno.EEXIST, "something that is no file is in its place", str(path))


def _write_aside(file: File, final: Path) -> _Move:
    handle, name = tempfile.mkstemp(prefix=f".{file.name}.", suffix=".part", dir=final.parent)
    path = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(file.data)
            stream.flush()
            os.fsync(stream.fileno())
        path.chmod(0o666 & ~_umask())
    except BaseException:
        with suppress(OSError):
            path.unlink()
        raise
    return _Move(path, final, path.with_suffix(".old.part"))


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _move_all(moves: Sequence[_Move]) -> None:
    """Move every file into its place; if one cannot be, put back what was there before."""
    done: list[_Move] = []
    try:
        for move in moves:
            _keep(move.final, move.older)
        for move in moves:
            move.waiting.replace(move.final)
            done.append(move)
    except BaseException as error:
        _put_back(done, error)
        _forget(moves)
        raise
    _forget(moves)


def _keep(path: Path, older: Path) -> None:
    """Give what is at `path` a second name. It keeps its first, so that a kill loses nothing."""
    try:
        os.link(path, older, follow_symlinks=False)
    except (OSError, NotImplementedError):  # a file has only one name on some sticks and shares
        if os.path.lexists(path):
            shutil.copy2(path, older, follow_symlinks=False)


def _put_back(moves: Sequence[_Move], error: BaseException) -> None:
    for move in moves:
        try:
            if os.path.lexists(move.older):
                move.older.replace(move.final)
            else:
                move.final.unlink()
        except OSError as again:
            kept = (str(move.final), None, str(move.older))
            raise NotRestored(again.errno, again.strerror, *kept) from error


def _forget(moves: Sequence[_Move]) -> None:
    for move in moves:
        with suppress(OSError):
            move.older.unlink(missing_ok=True)


def remove_stale_pages(folder: Path, stem: str, written: Sequence[Path]) -> list[Path]:
    """Remove SVG pages of an earlier print of the same sheets that this print no longer has.

    A page that is no longer part of the sheet would be worked from by mistake. Only files that
    bear the name of such a page go, and one that cannot be removed is left.
    """
    kept = {path.name for path in written}
    slugs = {name.rsplit("-", 1)[0] for name in kept if name.endswith(".svg")}
    page = re.compile(rf"({re.escape(stem)}(?:-[\w-]+)?)-[1-9][0-9]*\.svg")

    def stale(name: str) -> bool:
        match = page.fullmatch(name)
        return match is not None and match[1] in slugs and name not in kept

    return _remove(folder, stale) if slugs else []


def remove_unfinished(folder: Path, stem: str) -> list[Path]:
    """Remove hidden files that a print of the same stem left there when it was killed."""
    name = rf"\.{re.escape(stem)}(?:(?:-[\w-]+)?-[1-9][0-9]*\.svg|(?:\.[a-z-]+)*\.pdf)"
    left = re.compile(name + r"\.[^.]+(?:\.old)?\.part")
    return _remove(folder, lambda name: left.fullmatch(name) is not None)


def _remove(folder: Path, unwanted: Callable[[str], bool]) -> list[Path]:
    """Remove the regular files of a folder that are unwanted, as far as that can be done."""
    removed = []
    with suppress(OSError):
        for path in sorted(folder.iterdir()):
            if not unwanted(path.name):
                continue
            with suppress(OSError):
                if stat.S_ISREG(path.lstat().st_mode):
                    path.unlink()
                    removed.append(path)
    return removed


@contextmanager
def _shared(folder: Path) -> Iterator[Callable[[], bool]]:
    """Let other prints into the folder too; yield what says, at the end, whether there are none.

    Where folders cannot be locked that is never sure.
    """
    try:
        import fcntl  # noqa: PLC0415 - not on every system

        handle = os.open(folder, os.O_RDONLY)
    except (ImportError, OSError):
        yield lambda: False
        return

    def alone() -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True

    try:
        with suppress(OSError):
            fcntl.flock(handle, fcntl.LOCK_SH)
        yield alone
    finally:
        os.close(handle)
