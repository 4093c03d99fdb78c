"""What every event of the record has in common: its kind, its day, what it moves and how lists show it.

A new event is a frozen dataclass below :class:`Event` in its own stage, and one line in ``record/kinds.py``.
"""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from labelkit.lots.movement import Account, Movement
from labelkit.measures import show_first

# The fields of events that name a person, tell where one lives or how to reach one, or may speak of one.
PERSONAL = ("customer", "supplier", "address", "phone", "email", "carrier", "consignor", "consignee", "note")
_NAMED_WHEN_REACHED = (Account.BROKEN, Account.SAMPLE, Account.LOST, Account.UNEXPLAINED)


class Event:
    """Something that happened on a day. The fields of the dataclass are what the record keeps of it."""

    __slots__ = ()
    kind: ClassVar[str]  # its name in the record; never changes
    title: ClassVar[str]  # what happened, for lists: "weighed in"
    voidable: ClassVar[bool] = False  # whether the page offers to undo it by a correction
    ignores_holds: ClassVar[bool] = False  # whether it may concern what is on hold: set apart, release, destroy
    preposition: ClassVar[str] = "at"  # between what moved and the customer or place
    day: date

    @property
    def personal(self) -> tuple[str, ...]:
        """Return its fields about a person: kept where they can be taken out again."""
        return PERSONAL

    def movements(self) -> tuple[Movement, ...]:
        """Return what it moves between accounts; nothing unless a class says otherwise. The masses add up to 0."""
        return ()

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists: what moved, to whom, and why.

        >>> from labelkit.lots.bucket import Drain
        >>> from labelkit.measures import Mass
        >>> Drain("B1", date(2026, 7, 17), Mass.of_grams(500)).describe("en_US")
        'B1 500 g'
        """
        arrived = [m for m in self.movements() if m.mass.mg > 0 or m.count > 0 or m.account == Account.UNEXPLAINED]
        jars = [f"{m.lot} {m.count} × {m.size}{_ending(m.account)}" for m in arrived if m.count > 0]
        honey = [f"{m.lot} {show_first(m.mass, locale)}{_ending(m.account)}" for m in arrived if not m.size]
        what = "; ".join((*jars, *honey)) or ", ".join(getattr(self, "lots", ()))
        whom = getattr(self, "customer", None) or getattr(self, "place", None)
        why = getattr(self, "because", None) or getattr(self, "reason", None)
        return what + (f" {self.preposition} {whom}" if whom else "") + (f": {why}" if why else "")


def _ending(account: Account) -> str:
    return f" {account}" if account in _NAMED_WHEN_REACHED else ""
