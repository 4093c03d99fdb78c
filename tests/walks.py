"""How much of an exhaustive walk a run takes: a fixed share by default, the whole where ``LABELKIT_WHOLE`` is set.

A test marked ``exhaustive(one_in=n)`` keeps its first case and about one in n of the others; a walk inside a test takes
:func:`share`; a property test draws :func:`examples`. Which cases these are depends on their names alone, so that two
runs of one tree try the same ones. A walk whose cases are mostly the same path many times may take a share in a whole
run too.
"""

from __future__ import annotations

import os
import zlib
from collections.abc import Iterable, Iterator
from typing import TypeVar

WHOLE = bool(os.environ.get("LABELKIT_WHOLE"))
T = TypeVar("T")


def is_taken(name: str, one_in: int, whole: int = 1) -> bool:
    """Whether the case of this name belongs to the share: one in ``one_in``, in a whole run one in ``whole``.

    >>> [n for n in range(20) if is_taken(str(n), 5)] == [n for n in range(20) if is_taken(str(n), 5)]
    True
    """
    return zlib.crc32(name.encode()) % (whole if WHOLE else one_in) == 0


def share(cases: Iterable[tuple[str, T]], one_in: int, whole: int = 1) -> Iterator[T]:
    """The first case and about one in ``one_in`` of the others, by their names; in a whole run one in ``whole``."""
    for n, (name, case) in enumerate(cases):
        if n == 0 or is_taken(name, one_in, whole):
            yield case


def examples(number: int) -> int:
    """How many examples a property test draws: all in a whole run, an eighth but at least 6 otherwise."""
    return number if WHOLE else min(number, max(6, number // 8))
