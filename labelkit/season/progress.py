"""How far a long step is, told to whoever looks on: a terminal, the page's worker, or nobody.

A verb says ``with progress("Labels", 300) as done: done(1) …`` and never asks who hears it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Protocol


class Listener(Protocol):
    """Shows one piece of work while it lasts."""

    def begin(self, words: str, total: int | None) -> Callable[[int], None]:
        """Work begins; what is given back is told the count so far, as often as the work likes."""

    def end(self) -> None:
        """The work begun last is over."""


_listener: ContextVar[Listener | None] = ContextVar("listener", default=None)


@contextmanager
def listening(listener: Listener) -> Iterator[None]:
    """Within the block progress is told to ``listener``."""
    token = _listener.set(listener)
    try:
        yield
    finally:
        _listener.reset(token)


@contextmanager
def progress(words: str, total: int | None = None) -> Iterator[Callable[[int], None]]:
    """Tell whoever listens how many of ``total`` are done; with no total, only that the work goes on.

    >>> with progress("Labels", 3) as done:
    ...     for count in (1, 2, 3):
    ...         done(count)
    """
    listener = _listener.get()
    if listener is None:
        yield lambda count: None
        return
    done = listener.begin(words, total)
    try:
        yield done
    finally:
        listener.end()
