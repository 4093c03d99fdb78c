"""A trace: from anything a person holds, back to the hives and forward to everybody who has a jar.

Pure: it is given the events about the lots concerned (:meth:`labelkit.record.reading.Reading.story` picks them) and
says what follows from them. Struck events count for nothing and are listed beside their corrections.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from labelkit.lots.bucket import Blend, BucketStep
from labelkit.lots.bucket_life import Note, TakenOut
from labelkit.lots.movement import Account
from labelkit.measures import Mass
from labelkit.run.batch_sheet import BatchLine
from labelkit.trace.balance import Balance, balances
from labelkit.trace.booked import Booked, Correct
from labelkit.trace.heritage import Heritage, heritage
from labelkit.trace.hold import Hold, Release
from labelkit.trace.intake import Intake, intakes
from labelkit.trace.links import Link, ancestors, descendants, links


@dataclass(frozen=True, slots=True)
class Start:
    """Where a trace begins: what was asked (a lot, bucket, yard, hive, harvest, customer or stall), and its lots."""

    what: str
    name: str
    lots: tuple[str, ...]
    only: tuple[int, ...] = ()  # for a customer or a stall day: the events that name it


@dataclass(frozen=True, slots=True)
class Mixed:
    """A blend, and what of each parent went into it."""

    seq: int
    into: str
    day: date
    parts: tuple[tuple[str, Mass], ...]


@dataclass(frozen=True, slots=True)
class Bottled:
    """A run: one bucket, one day, one lot code."""

    seq: int
    lot: str
    day: date
    bucket: str
    taken: Mass
    jars: tuple[Any, ...]
    broken: tuple[Any, ...]
    samples: tuple[Any, ...]
    lost: Mass
    unexplained: Mass
    because: str = ""  # said where its balance was asked about; marks it for good


@dataclass(frozen=True, slots=True)
class Went:
    """Jars that changed places: loaded, sold, given, brought back, discarded, set apart, found missing.

    Honey that left its bucket without a jar has no size and a count of 0.
    """

    seq: int
    day: date
    how: str  # the kind of event
    where: Account  # the place they came to
    lot: str
    size: str
    count: int
    mass: Mass
    to: str
    customer: str | None
    address: tuple[str, ...]
    place: str | None
    number: str  # of the delivery note
    because: str
    came_from: Account | None = None  # the place they left


@dataclass(frozen=True, slots=True)
class Labelled:
    """Labels that were printed for a lot: which wording in which design, and how many."""

    seq: int
    day: date
    lot: str
    size: str
    label: str
    design: str
    wording: str
    said: tuple[str, ...]
    count: int
    spoiled: int
    product: str = ""  # what the jars are sold as; the season's own honey unless named
    because: str = ""  # why it was printed, where it was asked about


@dataclass(frozen=True, slots=True)
class HeldOrFreed:
    """A hold or a release that named a lot of this trace."""

    seq: int
    day: date
    how: str
    title: str
    lots: tuple[str, ...]
    because: str


@dataclass(frozen=True, slots=True)
class Struck:
    """A correction: the event struck out, by which, when, by whom, and why."""

    seq: int
    by: int
    day: date
    who: str
    kind: str
    title: str
    because: str


@dataclass(frozen=True, slots=True)
class Trace:
    """Everything the record holds about where some jars came from and went to."""

    start: Start
    lots: tuple[str, ...]  # the jar lots concerned
    buckets: tuple[str, ...]  # the buckets and blends they came from, and the start itself
    sisters: tuple[str, ...]  # jar lots not asked for that share a bucket with these
    intakes: tuple[Intake, ...]
    blends: tuple[Mixed, ...]
    steps: tuple[Booked, ...]  # what happened to honey in its bucket
    runs: tuple[Bottled, ...]
    went: tuple[Went, ...]
    labels: tuple[Labelled, ...]
    notes: tuple[Booked, ...]
    holds: tuple[HeldOrFreed, ...]
    balances: tuple[Balance, ...]
    sister_balances: tuple[Balance, ...]
    links: tuple[Link, ...]
    struck: tuple[Struck, ...]
    batch_lines: tuple[Booked, ...] = ()  # the batch sheets of its runs
    heritages: tuple[Heritage, ...] = ()  # what each jar lot is made of

    def balance(self, lot: str) -> Balance:
        """The balance of one lot of this trace: empty where all that made it was struck."""
        held = {each.lot: each for each in (*self.balances, *self.sister_balances)}
        return held.get(lot) or balances((), [lot])[0]


def follow(start: Start, booked: Iterable[Booked]) -> Trace:
    """Trace from a start through the events about its lots."""
    story = tuple(booked)
    web = links(story)
    ahead = descendants(start.lots, web)
    chosen = set(start.lots) | ahead
    jar_lots = _jar_lots(story)
    first = {m.lot: each.seq for each in reversed(story) for m in each.movements()}
    in_order = sorted(first, key=lambda lot: (first[lot], lot))
    behind = ancestors(chosen, web)
    lots = tuple(lot for lot in in_order if lot in (chosen | behind) & jar_lots)
    buckets = tuple(lot for lot in in_order if lot in (behind | chosen) - jar_lots)
    kin = descendants(ancestors(start.lots, web), web) if set(start.lots) & jar_lots else frozenset()
    sisters = tuple(lot for lot in in_order if lot in (kin & jar_lots) - chosen - behind)
    here = {*lots, *buckets}
    return Trace(
        start=start,
        lots=lots,
        buckets=buckets,
        sisters=sisters,
        intakes=intakes(story, here),
        blends=tuple(_blends(story, here)),
        steps=tuple(_steps(story, here)),
        runs=tuple(_runs(story, set(lots))),
        went=tuple(_went(story, here, start.only)),
        labels=tuple(_labels(story, set(lots))),
        notes=tuple(_notes(story, here)),
        holds=tuple(_holds(story, here)),
        balances=balances(story, (*buckets, *lots)),
        sister_balances=balances(story, sisters),
        links=tuple(link for link in web if link.child in here and link.parent in here),
        struck=tuple(_struck(story, here)),
        batch_lines=tuple(_batch_lines(story, here)),
        heritages=heritage(story, lots),
    )


def _jar_lots(story: Iterable[Booked]) -> set[str]:
    return {m.lot for each in story for m in each.movements() if m.size}


def _blends(story: Iterable[Booked], lots: set[str]) -> Iterable[Mixed]:
    for each in story:
        if each.stands and isinstance(each.event, Blend) and each.event.into in lots:
            parts = tuple((part.bucket, part.mass) for part in each.event.parts)
            yield Mixed(each.seq, each.event.into, each.day, parts)


def _steps(story: Iterable[Booked], lots: set[str]) -> Iterable[Booked]:
    return (b for b in story if b.stands and isinstance(b.event, BucketStep) and b.event.bucket in lots)


def _notes(story: Iterable[Booked], lots: set[str]) -> Iterable[Booked]:
    return (b for b in story if b.stands and isinstance(b.event, Note) and lots & set(b.event.lots))


def _batch_lines(story: tuple[Booked, ...], lots: set[str]) -> Iterable[Booked]:
    """Lines that name one of the lots, and those of every run of the day one of them was bottled."""
    days = {each.day for each in story if each.stands and each.kind == "run" and each.event.lot in lots}
    for each in story:
        if each.stands and isinstance(each.event, BatchLine):
            named = set(each.event.lots)
            if named & lots or (not named and each.day in days):
                yield each


def _runs(story: Iterable[Booked], lots: set[str]) -> Iterable[Bottled]:
    for each in story:
        run = each.event
        if each.stands and each.kind == "run" and run.lot in lots:
            yield Bottled(
                each.seq,
                run.lot,
                run.day,
                run.bucket,
                run.taken,
                run.jars,
                run.broken,
                run.samples,
                run.lost,
                run.unexplained,
                run.because,
            )


def _went(story: Iterable[Booked], lots: set[str], only: tuple[int, ...]) -> Iterable[Went]:
    for each in story:
        happened = each.event
        if (only and each.seq not in only) or each.kind in ("run", Correct.kind):
            continue
        bulk, left = isinstance(happened, TakenOut), None
        for m in each.movements():
            left = m.account if m.mass.mg < 0 else left
            if m.lot in lots and (m.count > 0 or (bulk and m.mass.mg > 0)):
                yield Went(
                    each.seq,
                    each.day,
                    each.kind,
                    m.account,
                    m.lot,
                    m.size,
                    m.count,
                    m.mass,
                    to=getattr(happened, "to", ""),
                    customer=getattr(happened, "customer", None),
                    address=tuple(getattr(happened, "address", ())),
                    place=getattr(happened, "place", None),
                    number=getattr(happened, "number", ""),
                    because=getattr(happened, "because", "") or getattr(happened, "reason", ""),
                    came_from=left,
                )


def _labels(story: Iterable[Booked], lots: set[str]) -> Iterable[Labelled]:
    for each in story:
        done = each.event
        if each.stands and each.kind == "print" and done.lot in lots:
            yield Labelled(
                each.seq,
                done.day,
                done.lot,
                done.size,
                done.label,
                done.design,
                done.wording,
                done.said,
                done.count,
                done.spoiled,
                done.product,
                done.because,
            )


def _holds(story: Iterable[Booked], lots: set[str]) -> Iterable[HeldOrFreed]:
    for each in story:
        if each.stands and isinstance(each.event, Hold | Release) and lots & set(each.event.lots):
            yield HeldOrFreed(each.seq, each.day, each.kind, each.event.title, each.event.lots, each.event.because)


def _struck(story: tuple[Booked, ...], lots: set[str]) -> Iterable[Struck]:
    by_seq = {each.seq: each for each in story}
    for each in story:
        wrong = by_seq.get(each.event.corrects) if isinstance(each.event, Correct) else None
        if wrong is not None and any(m.lot in lots for m in wrong.event.movements()):
            yield Struck(wrong.seq, each.seq, each.day, each.who, wrong.kind, wrong.event.title, each.event.because)
