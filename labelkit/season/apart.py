"""Jars that came back and stand apart: how many of a lot, and whether whole, opened or in a recall."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from labelkit.sale.events import OPENED

if TYPE_CHECKING:
    from labelkit.record.reading import Reading

_KINDS = ("return", "release", "discard")


def apart(state: Reading, lot: str) -> dict[tuple[str, str], int]:
    """The jars of a lot that came back and were neither released nor discarded, by size and state.

    Nobody can tell discarded jars by their state, so opened ones count as discarded first. A release leaves them.
    """
    left: Counter[tuple[str, str]] = Counter()
    for event in (each.event for each in state.events_about([lot], _KINDS) if each.stands):
        if event.kind == "return" and event.held:
            for line in (*event.lines, *event.gifts):
                if line.lot == lot:
                    left[line.size, event.state] += line.count
        elif event.kind == "release":
            left = Counter({key: count for key, count in left.items() if key[1] == OPENED})
        elif event.kind == "discard" and event.held:
            for line in event.lines:
                if line.lot == lot:
                    _discard(left, line.size, line.count)
    return {key: count for key, count in left.items() if count > 0}


def _discard(left: Counter[tuple[str, str]], size: str, count: int) -> None:
    for key in sorted((key for key in left if key[0] == size), key=lambda key: key[1] != OPENED):
        gone = min(count, left[key])
        left[key] -= gone
        count -= gone


def opened(state: Reading, lot: str) -> dict[str, int]:
    """How many opened jars of each size of a lot stand apart."""
    return {size: count for (size, how), count in apart(state, lot).items() if how == OPENED}
