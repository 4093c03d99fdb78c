"""A sign of life on the terminal for anything slower than a second, and none at all for anything quicker.

:func:`waiting` is for work whose end nobody knows; :func:`progress` for work that can be counted. A pipe, a file and a
command line that is done within a second see neither.
"""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

PATIENCE_SECONDS = 1.0
REFRESH_SECONDS = 0.1
STOPPING = "Ctrl-C stops it; nothing half done is kept"

#: The sign of the command that runs in this thread; a bar of progress takes its place while it lasts.
_current: ContextVar[_Sign | None] = ContextVar("current sign", default=None)
#: Who is told instead of a terminal, with the words, the whole and the count so far.
_listener: ContextVar[Callable[[str, int | None, int], None] | None] = ContextVar("listener", default=None)


@contextmanager
def told_to(listener: Callable[[str, int | None, int], None]) -> Iterator[None]:
    """Tell ``listener`` what a terminal would show; as seldom as a terminal is written to.

    >>> with told_to(lambda words, total, done: print(words, total, done)), progress("Labels", 2) as told:
    ...     told(2)
    Labels 2 0
    Labels 2 2
    """
    token = _listener.set(listener)
    try:
        yield
    finally:
        _listener.reset(token)


@contextmanager
def waiting(words: str) -> Iterator[None]:
    """Show ``words`` with the time gone by on stderr once a second has passed; a pipe or a file sees nothing.

    >>> with waiting("Planning"):
    ...     1 + 1
    2
    """
    with _shown(words, None):
        yield


@contextmanager
def progress(words: str, total: int) -> Iterator[Callable[[int], None]]:
    """Show how many of ``total`` are done and how much time is left; what is given back is told the count so far.

    It may be told as often as one likes: the terminal is written to ten times a second at most, and nothing is where
    stderr is no terminal.

    >>> with progress("Labels", 3) as told:
    ...     for done in (1, 2, 3):
    ...         told(done)
    """
    with _shown(words, total) as sign:
        yield sign.tell if sign else _unheard


def _unheard(done: int) -> None:
    """Nobody looks on."""


@contextmanager
def _shown(words: str, total: int | None) -> Iterator[_Sign | _Told | None]:
    if listener := _listener.get():
        yield _Told(words, total, listener)
        return
    if not sys.stderr.isatty():
        yield None
        return
    outer = _current.get()
    sign = _Sign(words, total, outer.begun if outer else time.monotonic())
    token = _current.set(sign)
    if outer:
        outer.hide()
    sign.wait()
    try:
        yield sign
    finally:
        sign.hide()
        _current.reset(token)
        if outer:
            outer.begun = time.monotonic()
            outer.wait()


class _Told:
    """What a listener is told in place of a terminal."""

    def __init__(self, words: str, total: int | None, listener: Callable[[str, int | None, int], None]) -> None:
        self.words, self.total, self._listener = words, total, listener
        self._told_at = time.monotonic()
        listener(words, total, 0)

    def tell(self, done: int) -> None:
        """So many are done."""
        now = time.monotonic()
        if now - self._told_at >= REFRESH_SECONDS or done == self.total:
            self._told_at = now
            self._listener(self.words, self.total, done)


class _Sign:
    """The moving sign; shown by a timer's thread, told and hidden by the command's."""

    def __init__(self, words: str, total: int | None, begun: float) -> None:
        self.words, self.total = words, total
        self.begun = begun  # patience is counted from here; what comes after a count is given its own
        self._lock = threading.Lock()
        self._timer: threading.Timer | None = None
        self._bar = self._task = None
        self._done, self._told_at = 0, 0.0

    def wait(self) -> None:
        """Show the sign when the command has run for a second; at once where it has."""
        left = self.begun + PATIENCE_SECONDS - time.monotonic()
        self._timer = threading.Timer(max(0.0, left), self._show)
        self._timer.daemon = True
        self._timer.start()

    def tell(self, done: int) -> None:
        """So many are done."""
        self._done, now = done, time.monotonic()
        if self._bar is None or (now - self._told_at < REFRESH_SECONDS and done != self.total):
            return
        self._told_at = now
        self._bar.update(self._task, completed=done)

    def hide(self) -> None:
        """Take the sign away, shown or not yet."""
        with self._lock:
            timer, self._timer = self._timer, None
            if timer:
                timer.cancel()
            if self._bar:
                self._bar.stop()
                self._bar = None

    def _show(self) -> None:
        from rich.console import Console
        from rich.progress import Progress

        with self._lock:
            if self._timer is None:
                return
            bar = Progress(*self._columns(), console=Console(file=sys.stderr), transient=True)
            words = f"{self.words} … ({STOPPING})" if self.total is None else self.words
            self._task = bar.add_task(words, total=self.total, completed=self._done)
            bar.start()
            self._bar = bar

    def _columns(self) -> list:
        from rich import progress as rich

        if self.total is None:
            return [rich.SpinnerColumn(), rich.TextColumn("{task.description}"), rich.TimeElapsedColumn()]
        counted = "{task.completed:,.0f} of {task.total:,.0f}"
        left = [rich.TextColumn(counted), rich.TimeRemainingColumn(compact=True), rich.TextColumn("left")]
        return [rich.TextColumn("{task.description}"), rich.BarColumn(), *left]
