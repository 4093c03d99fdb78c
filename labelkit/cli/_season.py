"""What the season's commands share: the record on the context, the season's settings, and jars by name."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from labelkit.record.work import Work
    from labelkit.trace.booked import Booked


def pairs(texts: tuple[str, ...], option: str, example: str) -> list[tuple[str, str]]:
    """``name=value`` options, split. Raises :class:`~labelkit.errors.cli.UsageUnclear`.

    >>> pairs(("one pound=57",), "--jar", "one pound=57")
    [('one pound', '57')]
    """
    found = []
    for text in texts:
        name, equals, value = text.rpartition("=")  # a name may hold the sign, a count or a weight does not
        if not equals or not name.strip() or not value.strip():
            raise UsageUnclear(
                f"“{option} {text}” is not a name and a value; write {option} '{example}'.", "labelkit --help"
            )
        found.append((name.strip(), value.strip()))
    return found


def counts(texts: tuple[str, ...], option: str) -> list[tuple[str, int]]:
    """``size=count`` options, with whole counts above zero.

    >>> counts(("one pound=57",), "--jar")
    [('one pound', 57)]
    """
    found = []
    for name, value in pairs(texts, option, "one pound=57"):
        if not value.isdigit() or int(value) < 1:
            raise UsageUnclear(
                f"“{value}” is not a count of {name} jars; give a whole number above zero.", "labelkit --help"
            )
        found.append((name, int(value)))
    return found


def booked_once(work: Work, kind: str, same: Callable[[Any], bool] = lambda event: True) -> Booked | None:
    """What an earlier command with this key booked, or nothing where the key is new.

    Raises :class:`~labelkit.errors.record.KeyReused` where the key was spent on something else.
    """
    if not work.booked_before:
        return None
    found = next((booked for booked in work.booked_before if booked.kind == kind), None)
    if found is None or not same(found.event):
        from labelkit.errors.record import KeyReused

        first = work.booked_before[0]
        raise KeyReused(work.key or "", first.seq, first.day.isoformat())
    return found
