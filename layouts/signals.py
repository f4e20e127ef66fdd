"""A print that is told to stop ends cleanly: it takes its unfinished files away, or finishes.

Signals are held back only while files are moved into place, and are then given as they came.
"""

from __future__ import annotations

import signal
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from types import FrameType

Handler = Callable[[int, FrameType | None], object]

_ENDING = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]


def _leave(number: int, _frame: FrameType | None) -> None:
    sys.exit(128 + number)  # what a shell calls a command that a signal ended


@contextmanager
def ended_by_exit() -> Iterator[None]:
    """Make SIGTERM and SIGHUP leave by way of every `finally`, where they would end at once."""
    chosen = [number for number in _ENDING if _handler(number) is signal.SIG_DFL]
    with _handled(chosen, _leave):
        yield


@contextmanager
def held() -> Iterator[Sequence[int]]:
    """Hold back what would end the work; it is listed, and given again at the end."""
    caught: list[int] = []
    numbers = [signal.SIGINT, *_ENDING]
    chosen = [each for each in numbers if _handler(each) not in {signal.SIG_IGN, None}]
    try:
        with _handled(chosen, lambda number, _frame: caught.append(number)):
            yield caught
    finally:
        if caught:
            signal.raise_signal(caught[0])


def _handler(number: int) -> object:
    return signal.getsignal(number)


@contextmanager
def _handled(numbers: Sequence[int], handler: Handler) -> Iterator[None]:
    """Handle signals in another way for a while; in any but the main thread, change nothing."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = [(number, signal.signal(number, handler)) for number in numbers]
    try:
        yield
    finally:
        for number, older in before:
            signal.signal(number, older)
