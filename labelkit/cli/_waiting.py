"""A sign of life on the terminal for anything slower than a second, and none at all for anything quicker."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager

PATIENCE_SECONDS = 1.0


@contextmanager
def waiting(words: str) -> Iterator[None]:
    """Show ``words`` with the time gone by on stderr once a second has passed; a pipe or a file sees nothing.

    >>> with waiting("Planning"):
    ...     1 + 1
    2
    """
    if not sys.stderr.isatty():
        yield
        return
    sign = _Sign(words)
    timer = threading.Timer(PATIENCE_SECONDS, sign.show)
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        sign.hide()


class _Sign:
    """The moving sign; shown by the timer's thread, hidden by the command's."""

    def __init__(self, words: str) -> None:
        self.words = words
        self._lock = threading.Lock()
        self._over = False
        self._progress = None

    def show(self) -> None:
        from rich.console import Console
        from rich.progress import Progress, SpinnerColumn, TextColumn, TimeElapsedColumn

        with self._lock:
            if self._over:
                return
            self._progress = Progress(
                SpinnerColumn(), TextColumn("{task.description}"), TimeElapsedColumn(),
                console=Console(file=sys.stderr), transient=True,
            )  # fmt: skip
            self._progress.add_task(f"{self.words} … (Ctrl-C stops it; nothing half done is kept)", total=None)
            self._progress.start()

    def hide(self) -> None:
        with self._lock:
            self._over = True
            if self._progress:
                self._progress.stop()
