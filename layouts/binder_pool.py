"""Folios drawn by as many processes as there are cores, in batches, each with new processes.

A process that works out hundreds of specs grows, since Python and numpy keep what they once had;
so it is given up after some. Where processes cannot be started, one does all the work.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from functools import partial
from multiprocessing import get_context
from pathlib import Path

from layouts.binder_folio import BoundFolio, Unbound, folio_for_binder
from layouts.paper import Frame

# Fewer are drawn before other processes have even begun.
WORTH_SHARING = 6
_FOLIOS_EACH = 24
_MOST_PROCESSES = 8


def drawn_folios(
    folder: Path, names: Sequence[str], frame: Frame, processes: int | None = None
) -> Iterator[BoundFolio | Unbound]:
    """Yield the folio of every spec named, in their order."""
    number = min(processes or _cores(), _MOST_PROCESSES, len(names))
    if len(names) < WORTH_SHARING or number < 2:
        yield from (folio_for_binder(folder, name, frame) for name in names)
        return
    done = 0
    try:
        for folio in _shared(folder, names, frame, number):
            yield folio
            done += 1
    except (OSError, BrokenProcessPool, ImportError, NotImplementedError):
        yield from (folio_for_binder(folder, name, frame) for name in names[done:])


def _shared(
    folder: Path, names: Sequence[str], frame: Frame, number: int
) -> Iterator[BoundFolio | Unbound]:
    # An executor that is to renew its processes itself stands still in some Pythons (gh-115634),
    # so every batch has new ones.
    batch = number * _FOLIOS_EACH
    for first in range(0, len(names), batch):
        executor = ProcessPoolExecutor(number, get_context("spawn"), _begin)
        try:
            yield from executor.map(partial(_one, folder, frame), names[first : first + batch])
        finally:
            executor.shutdown(wait=True, cancel_futures=True)


def _one(folder: Path, frame: Frame, name: str) -> BoundFolio | Unbound:
    return folio_for_binder(folder, name, frame)


def _begin() -> None:
    """Leave it to the process that is waited for to end the work when the weaver stops it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _cores() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
