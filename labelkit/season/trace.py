"""Trace: from a jar, a bucket, a hive or a customer, back to the hives and on to everybody who has a jar."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors.trace import TraceOfNoYear, TraceStartUnclear
from labelkit.measures.period import Period
from labelkit.record.lookup import find_buyer, find_lot, find_source, find_supplier
from labelkit.trace.alarms import Limits, limits_of
from labelkit.trace.follow import Start, Trace, follow

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.trace.booked import Booked


@dataclass(frozen=True, slots=True)
class TraceFrom:
    """Where a trace begins: one of a code (lot or bucket), a source of honey, a supplier, a customer, a place of sale."""

    code: str = ""
    yard: str = ""
    hive: str = ""
    harvested: date | None = None
    customer: str = ""
    place: str = ""
    supplier: str = ""
    their_lot: str = ""
    on: date | None = None  # with a customer or a place: only what was sold on this day
    within: Period | None = None  # only what was harvested, delivered or sold in this time


@dataclass(frozen=True, slots=True)
class StruckCode:
    """A step that was struck though the code it gave may be on jars: which event, why, and the lots that stand instead."""

    event: int
    lot: str
    reason: str
    instead: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Traced:
    """A trace, the losses worth a word in this season, and the state of the record it was made of."""

    trace: Trace
    limits: Limits
    record: str
    as_of_event: int
    head: str
    struck: StruckCode | None = None

    @property
    def lots(self) -> tuple[str, ...]:
        """The jar lots it is about; a code once given is never without its lot, whatever became of its run."""
        return self.trace.lots or ((self.struck.lot,) if self.struck else ())


def trace(state: Reading, asked: TraceFrom) -> Traced:
    """Follow the honey both ways.

    Raises :class:`~labelkit.errors.trace.TraceStartUnclear` unless it begins at one thing, and
    :class:`~labelkit.errors.record.LotUnknown` with the nearest names; of a year it begins at what came in or went out
    in it, and :class:`~labelkit.errors.trace.TraceOfNoYear` where that says nothing.
    """
    start = _start(state, asked)
    head = state.head()
    found, limits = follow(start, state.story(start.lots)), limits_of(state.settings())
    return Traced(found, limits, state.where, head.seq, head.hash, _struck(state, start.lots))


def _struck(state: Reading, lots: Iterable[str]) -> StruckCode | None:
    """The last struck run or relabelling that gave one of these codes, where nothing that gave it stands."""
    asked = set(lots)
    gave = [each for each in state.events_about(asked, _GIVES) if _code(each) in asked]
    standing = {_code(each) for each in gave if each.stands}
    struck = [each for each in gave if _code(each) not in standing and each.struck_by]
    if not struck:
        return None
    last = struck[-1]
    correction = state.event(last.struck_by or 0)
    because = correction.event.because if correction else ""
    return StruckCode(last.seq, _code(last), because, tuple(dict.fromkeys(_instead(state, last))))


_GIVES = ("run", "relabel")  # the steps that put a code on jars


def _code(gave: Booked) -> str:
    """The code a step put on jars."""
    code: str = gave.event.lot if gave.kind == "run" else gave.event.into
    return code


def _instead(state: Reading, struck: Booked) -> Iterable[str]:
    """Where the jars are told of now: the other runs of the bucket, or the lot they were before they were relabelled."""
    if struck.kind == "relabel":
        return [line.lot for line in struck.event.lines]
    bucket = struck.event.bucket
    return [
        each.event.lot for each in state.events_about([bucket], ("run",)) if each.stands and each.event.bucket == bucket
    ]


def _start(state: Reading, asked: TraceFrom) -> Start:
    source = bool(asked.yard or asked.hive or asked.harvested)
    within, on = asked.within, asked.on or asked.harvested
    supplied = bool(asked.supplier or asked.their_lot)
    if sum((bool(asked.code), source, supplied, bool(asked.customer), bool(asked.place))) != 1:
        raise TraceStartUnclear()
    if within and (asked.code or on):
        raise TraceOfNoYear(asked.code or str(on), str(within))
    within = Period.of_day(on) if on else within
    if asked.code:
        return find_lot(state, asked.code)
    if source:
        return find_source(state, asked.yard, asked.hive, within)
    if supplied:
        return find_supplier(state, asked.supplier, asked.their_lot, within)
    return find_buyer(state, asked.customer, asked.place, within)


def trace_of(state: Reading, lots: Iterable[str]) -> Trace:
    """The trace of several lots at once."""
    found = tuple(dict.fromkeys(lot for text in lots for lot in find_lot(state, text).lots))
    return follow(Start("lot", " ".join(found), found), state.story(found))


def story_of(state: Reading, *kinds: str) -> tuple[Booked, ...]:
    """Everything of these kinds that stands."""
    return tuple(each for each in state.events(kinds) if each.stands)
