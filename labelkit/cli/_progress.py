"""Progress on the terminal for anything slower than a second, and nothing for anything quicker.

A pipe, a file and a command that is done within a second see nothing. rich draws it; it is loaded when it is shown.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from labelkit.season.progress import listening, progress

SHOWN_AFTER_SECONDS = 1.0
STOPPING = "Ctrl-C stops it; nothing half done is kept"


@contextmanager
def shown_on_terminal(words: str) -> Iterator[None]:
    """Show ``words``, and within them whatever work tells its progress, on stderr once a second has passed.

    >>> with shown_on_terminal("labelkit plan"):
    ...     1 + 1
    2
    """
    if not sys.stderr.isatty():
        yield
        return
    with listening(TerminalProgress()), progress(words):
        yield


@dataclass
class _Work:
    words: str
    total: int | None
    done: int = 0


class TerminalProgress:
    """Shows the work that began last; when it ends, the work around it again."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._works: list[_Work] = []
        self._bar: Any = None
        self._timer: threading.Timer | None = None

    def begin(self, words: str, total: int | None) -> Callable[[int], None]:
        """Show this work in place of the one around it."""
        work = _Work(words, total)
        with self._lock:
            self._works.append(work)
            if self._bar is None and self._timer is None:
                self._wait()
            else:
                self._draw()

        def tell(done: int) -> None:
            work.done = done
            if self._bar is not None:
                self._bar.update(self._bar.task_ids[0], completed=done)

        return tell

    def end(self) -> None:
        """Show the work around it again, once it lasts; after the last, take the display away."""
        with self._lock:
            self._works.pop()
            self._stop()
            if self._works:
                self._wait()

    def _wait(self) -> None:
        self._timer = threading.Timer(SHOWN_AFTER_SECONDS, self._show)
        self._timer.daemon = True
        self._timer.start()

    def _stop(self) -> None:
        if self._timer:
            self._timer.cancel()
            self._timer = None
        if self._bar is not None:
            self._bar.stop()
            self._bar = None

    def _show(self) -> None:
        with self._lock:
            self._timer = None
            if self._works:
                self._bar = _bar_of(self._works[-1])
                self._bar.start()

    def _draw(self) -> None:
        """Show the innermost work in place of what is shown; what is not shown yet waits its second."""
        if self._bar is not None:
            self._bar.stop()
            self._bar = _bar_of(self._works[-1])
            self._bar.start()


def _bar_of(work: _Work) -> Any:
    from rich import progress as rich
    from rich.console import Console

    words = rich.TextColumn("{task.description}")
    if work.total is None:
        columns = [rich.SpinnerColumn(), words, rich.TimeElapsedColumn()]
    else:
        counted = rich.TextColumn("{task.completed:,.0f} of {task.total:,.0f}")
        columns = [words, rich.BarColumn(), counted, rich.TimeRemainingColumn(compact=True), rich.TextColumn("left")]
    bar = rich.Progress(*columns, console=Console(file=sys.stderr), transient=True)
    description = f"{work.words} … ({STOPPING})" if work.total is None else work.words
    bar.add_task(description, total=work.total, completed=work.done)
    return bar
