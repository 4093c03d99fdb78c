"""Repeating a step under its key: what it booked the first time is the answer, and nothing is booked twice."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from labelkit.errors.record import KeyReused

if TYPE_CHECKING:
    from labelkit.record.work import Work
    from labelkit.trace.booked import Booked


def booked_once(work: Work, kind: str, same: Callable[[Any], bool] = lambda event: True) -> Booked | None:
    """What an earlier step with this key booked, or nothing where the key is new.

    Raises :class:`~labelkit.errors.record.KeyReused` where the key was spent on something else.
    """
    if not work.booked_before:
        return None
    found = next((booked for booked in work.booked_before if booked.kind == kind), None)
    if found is None or not same(found.event):
        first = work.booked_before[0]
        raise KeyReused(work.key or "", first.seq, first.day.isoformat())
    return found
