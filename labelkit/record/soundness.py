"""Damage is told as damage: looked for before anything is read from a record, and behind every failure nobody foresaw.

A changed event fits its hash no longer, and that is seen whenever it is read. The rows derived from events have no hash
of their own, and a missing one is not missed by whoever looks for it; so a record is verified whole before it is read,
which takes a tenth of a millisecond an event. Beyond ``LOOKED_THROUGH`` events only ``record verify`` does.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from time import time_ns

from labelkit.errors.record import RecordDamaged
from labelkit.record.engine import sa
from labelkit.record.reading import Reading
from labelkit.record.tables import event
from labelkit.record.verify import AsItIs, Fault, damage, verify

LOOKED_THROUGH = 3000
# What says that a record is not as it was booked. A clock that was set back, and rules taken off, change no event.
_DAMAGE = ("changed", "missing", "order", "rows", "person", "engine")
_UNFORESEEN = (
    ValueError,
    TypeError,
    LookupError,
    ArithmeticError,
    AttributeError,
    AssertionError,
    RecursionError,
    sa.exc.SQLAlchemyError,
)
_RACY = 2_000_000_000  # nanoseconds: a change this fresh may not show in a file's time yet
_sound: dict[str, tuple] = {}  # what this process found sound, as it stood then


def check_sound(state: Reading, path: Path | None) -> None:
    """Verify a record of ordinary length whole, unless this process did and it has not been touched since.

    Raises :class:`~labelkit.errors.record.RecordDamaged`, and :class:`~labelkit.errors.record.EventUnreadable` for what a
    newer labelkit may have written.
    """
    stamp = _stamp(path) if path is not None else (state.head().seq, state.head().hash)
    if stamp and _sound.get(state.where) == stamp:
        return
    many = state.connection.execute(sa.select(sa.func.count()).select_from(event)).scalar() or 0
    if many <= LOOKED_THROUGH:
        faults = damage(state)
        _tell(state.where, faults)
        for fault in faults:
            if fault.sort == "unreadable":
                state.event(fault.seq)
        _sound[state.where] = stamp


@contextmanager
def damage_told(record: AsItIs, where: str) -> Iterator[None]:
    """Where something failed that nobody foresaw, look whether the record is damaged before labelkit is blamed."""
    try:
        yield
    except _UNFORESEEN:
        _tell(where, verify(record).faults)
        raise


def _tell(where: str, faults: tuple[Fault, ...]) -> None:
    found = [fault for fault in faults if fault.sort in _DAMAGE]
    if found:
        located = next((fault for fault in found if fault.seq), found[0])
        raise RecordDamaged(where, located.found)


def _stamp(path: Path) -> tuple:
    """How a file and its log stand; nothing where a change just now could hide."""
    stats = [each.stat() for each in (path, path.with_name(path.name + "-wal")) if each.exists()]
    if any(time_ns() - stat.st_mtime_ns < _RACY for stat in stats):
        return ()
    return tuple((stat.st_ino, stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns) for stat in stats)
