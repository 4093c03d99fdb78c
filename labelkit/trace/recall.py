"""A recall: why, which lots, whose jars, who was told, what came back, and what is still missing.

A small packer decides nothing here that an authority must decide: labelkit proposes, the authority's word goes before
it, and every finding ends in "check your local rules".
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from labelkit.errors.trace import RecallCauseUnknown
from labelkit.lots.movement import Account
from labelkit.measures import Mass
from labelkit.sale.events import SaleLine
from labelkit.trace.balance import JarsAt
from labelkit.trace.booked import Booked
from labelkit.trace.follow import Trace, Went
from labelkit.trace.hold import Hold, Release
from labelkit.trace.recall_events import Recall

_PHONE = re.compile(r"\+?[0-9][0-9 ()/.-]{4,24}")  # a line of an address that is a telephone number
_GONE_OUT = (Account.SOLD, Account.GIVEN)


@dataclass(frozen=True, slots=True)
class Cause:
    """Why jars are called back, and how far that reaches: the lot, all of its buckets, or all with its label."""

    id: str
    title: str
    reach: str  # lot | bucket | wording
    hazard: str
    urgent: bool
    edible: bool = False  # the honey itself is sound


CAUSES = {
    cause.id: cause
    for cause in (
        Cause(
            "foreign-body", "a foreign body (glass, metal, splinter)", "bucket", "it can injure whoever eats it", True
        ),
        Cause("ferment", "too much water, or fermenting", "bucket", "jars can build up pressure, leak or burst", False),
        Cause(
            "allergen",
            "an allergen the label does not name",
            "bucket",
            "it can be dangerous to people with that allergy",
            True,
        ),
        Cause("wording", "a wrong label", "wording", "the label leads whoever reads it astray", False, True),
        Cause("authority", "ordered by the food authority", "lot", "see the authority's order", True),
    )
}


@dataclass(frozen=True, slots=True)
class Scope:
    """Which lots a cause reaches, and by what each was taken in."""

    cause: Cause
    lots: tuple[str, ...]
    taken_in: dict[str, str]
    buckets: tuple[str, ...] = ()  # honey of the same that is not in jars yet
    to_ask: str = ""  # what the record cannot tell


def cause_of(id: str) -> Cause:
    """A cause by its name. Raises :class:`~labelkit.errors.trace.RecallCauseUnknown`.

    >>> cause_of("ferment").reach
    'bucket'
    """
    if id not in CAUSES:
        raise RecallCauseUnknown(id, ", ".join(CAUSES))
    return CAUSES[id]


def scope(trace: Trace, cause: Cause, story: Iterable[Booked]) -> Scope:
    """The lots a recall should reach, proposed from the trace of the lots it began with.

    A fault in the honey reaches every lot from the same buckets, through blends. A wrong label reaches every lot that
    wore the same wording. An authority's order reaches what it names.
    """
    bulk = {went.lot for went in trace.went if _in_bulk(went) and went.customer}
    asked = dict.fromkeys((*trace.lots, *(lot for lot in trace.start.lots if lot in bulk)), "named")
    if cause.reach == "bucket":
        reached = asked | dict.fromkeys(trace.sisters, "from the same buckets")
        left = tuple(bucket for bucket in trace.buckets if trace.balance(bucket).in_bucket)
        reached |= dict.fromkeys(sorted(bulk - set(reached)), "sold or given in bulk")
        return Scope(cause, tuple(reached), reached, left)
    if cause.reach == "wording":
        printed = [each.event for each in story if each.stands and each.kind == "print"]
        wrong = {each.wording for each in printed if each.lot in asked}
        others = sorted({each.lot for each in printed if each.wording in wrong} - set(asked))
        reached = asked | dict.fromkeys(others, "with the same label wording")
        unknown = ", ".join(sorted(set(asked) - {each.lot for each in printed}))
        to_ask = f"No printing of labels was booked for {unknown}: ask which other lots wore the same label."
        return Scope(cause, tuple(reached), reached, to_ask=to_ask if unknown else "")
    return Scope(cause, tuple(asked), asked)


def hold_for(day: date, because: str, trace: Trace, lots: Iterable[str]) -> Hold:
    """The event that sets apart every jar of these lots still in stock or at the stall; buckets are held by name."""
    lots = tuple(lots)
    here: dict[Account, list[SaleLine]] = defaultdict(list)
    for lot in lots:
        for jars in trace.balance(lot).jars:
            if jars.account in (Account.JARS, Account.STALL) and jars.count > 0:
                here[jars.account] += _lines(jars)
    return Hold(day, lots, because, tuple(here[Account.JARS]), tuple(here[Account.STALL]))


def release_for(
    day: date, because: str, trace: Trace, lots: Iterable[str], stay: Mapping[tuple[str, str], int]
) -> Release:
    """The event that puts the held jars of these lots back into stock, but for so many of a lot and size that ``stay``."""
    lots = tuple(lots)
    lines = [
        line
        for lot in lots
        for jars in trace.balance(lot).jars
        if jars.account == Account.HELD and (free := jars.count - stay.get((jars.lot, jars.size), 0)) > 0
        for line in lines_of(jars.lot, jars.size, free, jars.count, jars.mass)
    ]
    return Release(day, lots, because, tuple(lines))


def _lines(jars: JarsAt) -> tuple[SaleLine, ...]:
    return lines_of(jars.lot, jars.size, jars.count, jars.count, jars.mass)


def lines_of(lot: str, size: str, count: int, there: int, mass: Mass) -> tuple[SaleLine, ...]:
    """So many of the jars that are there, as lines; all of them add up to their very mass, however they were filled.

    >>> [(line.count, line.fill.mg) for line in lines_of("L1", "jar", 3, 3, Mass(1000))]
    [(2, 333), (1, 334)]
    """
    each, rest = divmod(mass.mg, there)
    if count < there or not rest:
        return (SaleLine(lot, size, count, Mass(each)),)
    alike = (SaleLine(lot, size, count - 1, Mass(each)),) if count > 1 else ()
    return (*alike, SaleLine(lot, size, 1, Mass(each + rest)))


@dataclass(frozen=True, slots=True)
class ToTell:
    """A customer to be told: what they had, less what came back, and the deliveries it was in."""

    customer: str
    address: tuple[str, ...]
    jars: tuple[tuple[str, str, int], ...]  # lot, size, count
    days: tuple[date, ...]
    numbers: tuple[str, ...]
    phone: str = ""
    email: str = ""
    gift: bool = False  # everything they had was given to them
    bulk: tuple[tuple[str, Mass], ...] = ()  # honey they had without a jar: bucket, and how much of it
    language: str = ""  # they are written to in; empty: the season's

    @property
    def count(self) -> int:
        """All jars they had."""
        return sum(count for _, _, count in self.jars)


@dataclass(frozen=True, slots=True)
class SoldDirect:
    """Jars sold or given to people nobody wrote down: where, when, and how many of them can still be out."""

    day: date
    place: str
    lot: str
    size: str
    count: int


def to_tell(trace: Trace, lots: Iterable[str], settings: Mapping[str, Any] | None = None) -> tuple[ToTell, ...]:
    """Every customer by name, those with most jars first; ``settings`` remember how each is reached."""
    wanted = set(lots)
    theirs: dict[str, list[Went]] = defaultdict(list)
    for went in trace.went:
        out = went.where in _GONE_OUT or went.how == "return"
        if went.lot in wanted and went.customer and out:
            theirs[went.customer].append(went)
    found = []
    for customer, all_went in theirs.items():
        jars: Counter = Counter()
        bulk: Counter = Counter()
        for went in all_went:
            if _in_bulk(went):
                bulk[went.lot] += went.mass.mg
                continue
            jars[went.lot, went.size] += -went.count if went.how == "return" else went.count
        lines = tuple((lot, size, count) for (lot, size), count in jars.items() if count > 0)
        known = (settings or {}).get(f"customer {customer}", {})
        address = tuple(known.get("address", ())) or next((w.address for w in all_went if w.address), ())
        found.append(
            ToTell(
                customer,
                address,
                lines,
                tuple(sorted({w.day for w in all_went if w.how != "return"})),
                tuple(dict.fromkeys(w.number for w in all_went if w.number)),
                known.get("phone") or next((part for part in address if _PHONE.fullmatch(part.strip())), ""),
                known.get("email", ""),
                all(w.where == Account.GIVEN for w in all_went if w.how != "return"),
                tuple((lot, Mass(mg)) for lot, mg in bulk.items()),
                known.get("language", ""),
            )
        )
    return tuple(
        sorted((each for each in found if each.jars or each.bulk), key=lambda each: (-each.count, each.customer))
    )


def _in_bulk(went: Went) -> bool:
    return not went.size and went.where in _GONE_OUT


def sold_direct(trace: Trace, lots: Iterable[str]) -> tuple[SoldDirect, ...]:
    """Where jars went to people without a name: the signs and notices must reach them."""
    jars: Counter[tuple[date, str, str, str, Account]] = Counter()
    out: Counter[tuple[str, str, Account]] = Counter()
    for went in _unnamed(trace, lots):
        if went.where in _GONE_OUT:
            jars[went.day, went.place or went.to, went.lot, went.size, went.where] += went.count
            out[went.lot, went.size, went.where] += went.count
        elif went.came_from in _GONE_OUT:
            out[went.lot, went.size, went.came_from] -= went.count
    # Nobody knows at which place a jar that came back was bought: at each there are at most as many as are still out.
    left = ((key, min(count, out[key[2:]])) for key, count in sorted(jars.items()))
    return tuple(SoldDirect(*key[:4], count) for key, count in left if count > 0)


def _unnamed(trace: Trace, lots: Iterable[str]) -> list[Went]:
    """Jars that went to, or came from, people without a name; a name that never had any is nobody's."""
    wanted = set(lots)
    names = {went.customer for went in trace.went if went.where in _GONE_OUT} - {None}
    return [went for went in trace.went if went.size and went.lot in wanted and went.customer not in names]


@dataclass(frozen=True, slots=True)
class JarCount:
    """Every jar of some lots, by what became of it."""

    jars_made: int  # those found at a count beyond what was filled too
    surplus: int  # how many of these nobody filled by the record
    on_hold: int
    in_stock: int  # at home or at the stall
    destroyed: int
    broken_or_sampled: int
    opened: int  # emptied into a bucket as seed
    with_customers: int  # at customers known by name
    sold_direct: int
    given: int
    missing: int

    @property
    def unnamed(self) -> int:
        """Jars that went to people nobody wrote down: a sign may reach them, nobody can call them."""
        return self.sold_direct + self.given

    @property
    def found(self) -> int:
        """Jars somebody can lay hands on or call about, and those that are no more."""
        return self.jars_made - self.unnamed - self.missing

    @property
    def reachable(self) -> Decimal:
        """What could still be fetched, in per cent of what was made and not destroyed, broken, eaten or opened as seed."""
        there = self.jars_made - self.destroyed - self.broken_or_sampled - self.opened
        return Decimal(100 * (self.on_hold + self.in_stock + self.with_customers)) / there if there else Decimal(100)


def count_of(trace: Trace, lots: Iterable[str]) -> JarCount:
    """JarCount the jars of these lots to the last one."""
    lots = tuple(lots)
    at: Counter = Counter()
    for lot in lots:
        for jars in trace.balance(lot).jars:
            at[jars.account] += jars.count
    named = sum(each.count for each in to_tell(trace, lots))
    unnamed = _unnamed(trace, lots)
    given = sum(w.count for w in unnamed if w.where == Account.GIVEN)
    given -= sum(w.count for w in unnamed if w.came_from == Account.GIVEN)
    return JarCount(
        jars_made=sum(trace.balance(lot).jars_under_code for lot in lots),
        surplus=sum(trace.balance(lot).jars_surplus for lot in lots),
        on_hold=at[Account.HELD],
        in_stock=at[Account.JARS] + at[Account.STALL],
        destroyed=at[Account.DISCARDED],
        broken_or_sampled=at[Account.BROKEN] + at[Account.SAMPLE],
        opened=sum(trace.balance(lot).jars_opened for lot in lots),
        with_customers=named,
        sold_direct=at[Account.SOLD] + at[Account.GIVEN] - named - given,
        given=given,
        missing=at[Account.UNEXPLAINED],
    )


@dataclass(frozen=True, slots=True)
class Closing:
    """Where a recall stands: every jar of its lots, and the customers by how far they are."""

    count: JarCount
    told: tuple[str, ...]
    answered: tuple[str, ...]
    not_told: tuple[str, ...]
    still_hold: int


def closing(trace: Trace, recall: Recall, story: Iterable[Booked]) -> Closing:
    """JarCount a recall to its last jar."""
    said = [each.event for each in story if each.stands and each.kind == "tell" and each.event.recall == recall.name]
    told = tuple(dict.fromkeys(each.customer for each in said))
    last = {each.customer: each for each in said if each.answered}
    return Closing(
        count_of(trace, recall.lots),
        told=told,
        answered=tuple(last),
        not_told=tuple(each.customer for each in to_tell(trace, recall.lots) if each.customer not in told),
        still_hold=sum(each.has for each in last.values()),
    )
