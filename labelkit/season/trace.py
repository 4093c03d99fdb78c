"""Trace: from a jar, a bucket, a hive or a customer, back to the hives and on to everybody who has a jar."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors.trace import TraceStartUnclear
from labelkit.record.lookup import find_buyer, find_lot, find_source
from labelkit.trace.alarms import Limits, limits_of
from labelkit.trace.follow import Start, Trace, follow

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.trace.booked import Booked


@dataclass(frozen=True, slots=True)
class TraceFrom:
    """Where a trace begins: one of a code (lot or bucket), a source of honey, a customer, a place of sale."""

    code: str = ""
    yard: str = ""
    hive: str = ""
    harvested: date | None = None
    customer: str = ""
    place: str = ""
    on: date | None = None  # with a customer or a place: only what was sold on this day


@dataclass(frozen=True, slots=True)
class Traced:
    """A trace, the losses worth a word in this season, and the state of the record it was made of."""

    trace: Trace
    limits: Limits
    record: str
    as_of_event: int
    head: str


def trace(state: Reading, asked: TraceFrom) -> Traced:
    """Follow the honey both ways.

    Raises :class:`~labelkit.errors.trace.TraceStartUnclear` unless it begins at one thing, and
    :class:`~labelkit.errors.record.LotUnknown` with the nearest names.
    """
    start = _start(state, asked)
    head = state.head()
    return Traced(follow(start, state.story(start.lots)), limits_of(state.settings()), state.where, head.seq, head.hash)


def _start(state: Reading, asked: TraceFrom) -> Start:
    source = bool(asked.yard or asked.hive or asked.harvested)
    if sum((bool(asked.code), source, bool(asked.customer), bool(asked.place))) != 1:
        raise TraceStartUnclear()
    if asked.code:
        return find_lot(state, asked.code)
    if source:
        return find_source(state, asked.yard, asked.hive, asked.harvested)
    return find_buyer(state, asked.customer, asked.place, asked.on)


def trace_of(state: Reading, lots: Iterable[str]) -> Trace:
    """The trace of several lots at once."""
    found = tuple(dict.fromkeys(lot for text in lots for lot in find_lot(state, text).lots))
    return follow(Start("lot", " ".join(found), found), state.story(found))


def story_of(state: Reading, *kinds: str) -> tuple[Booked, ...]:
    """Everything of these kinds that stands."""
    return tuple(each for each in state.events(kinds) if each.stands)
