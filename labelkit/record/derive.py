"""The rows that make an event findable: what it moved, which lot came from which, from whose hives, to whom.

All of it follows from the event alone, so it can be derived again at any time and compared.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from labelkit.lots.movement import Movement
from labelkit.trace.links import links_of

# The fields of events that name somebody or some place a trace can begin from.
PARTIES = ("customer", "supplier", "place", "to")


@dataclass(frozen=True, slots=True)
class Rows:
    """What one event adds to each of the tables, as tuples in the order of their columns."""

    movement: list[tuple] = field(default_factory=list)  # event, line, account, lot, size, mass_mg, count
    link: list[tuple] = field(default_factory=list)  # event, child, parent, mass_mg
    source: list[tuple] = field(default_factory=list)  # event, line, lot, yard, hive, harvested
    party: list[tuple] = field(default_factory=list)  # event, role, name
    strike: list[tuple] = field(default_factory=list)  # event (the struck one), by, instead


def rows_of(seq: int, event: Any, struck: Any = None) -> Rows:
    """The rows of an event; ``struck`` is the event a correction strikes, whose movements it takes back.

    >>> from datetime import date
    >>> from labelkit.lots.bucket import Blend, Part
    >>> from labelkit.measures import Mass
    >>> blend = Blend("M1", date(2026, 7, 20), (Part("B1", Mass(7)), Part("B2", Mass(5))))
    >>> rows_of(3, blend).link
    [(3, 'M1', 'B1', 7), (3, 'M1', 'B2', 5)]
    """
    if struck is not None:
        back = tuple(Movement(m.account, m.lot, -m.mass, m.size, -m.count) for m in struck.movements())
        return Rows(movement=_movements(seq, back), strike=[(event.corrects, seq, event.instead)])
    moves = event.movements()
    return Rows(
        movement=_movements(seq, moves),
        link=[(seq, child, parent, mass) for (child, parent), mass in sorted(links_of(moves).items())],
        source=list(_sources(seq, event, moves)),
        party=list(_parties(seq, event, moves)),
    )


def _parties(seq: int, event: Any, moves: tuple[Movement, ...]):
    """Who and where an event names, and the lots it names without moving them: printed labels, holds."""
    for role in PARTIES:
        if getattr(event, role, None):
            yield (seq, role, getattr(event, role))
    named = {*getattr(event, "lots", ()), *([event.lot] if hasattr(event, "lot") else ())}
    for lot in sorted(named - {m.lot for m in moves}):
        yield (seq, "lot", lot)


def _movements(seq: int, moves: tuple[Movement, ...]) -> list[tuple]:
    return [(seq, n, str(m.account), m.lot, m.size, m.mass.mg, m.count) for n, m in enumerate(moves)]


def _sources(seq: int, event: Any, moves: tuple[Movement, ...]):
    if not hasattr(event, "sources") or not hasattr(event, "bucket"):
        return
    harvested = (event.harvested or event.day).isoformat()
    named = [(s.yard, hive) for s in event.sources for hive in (s.hives or ("",))] or [("", "")]
    for line, (yard, hive) in enumerate(named):
        yield (seq, line, event.bucket, yard, hive, harvested)
