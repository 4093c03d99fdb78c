"""What a lot is made of: each delivery and each harvest in it, with its exact share by mass through all blends and drains.

A bucket is taken to be mixed evenly (common practice, no source): what leaves it has the shares of what is in it then.
What a label may say of where the honey came from is read off these shares alone.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from labelkit.errors.sentence import Sentence
from labelkit.lots.movement import Account
from labelkit.lots.received import CameIn, Receive
from labelkit.trace.booked import Booked
from labelkit.trace.links import links_of

WHOLE = Fraction(1)
#: Milligrams by the number of the event that brought them; 0 for honey the scale found and nobody booked.
Pool = dict[int, Fraction]


@dataclass(frozen=True, slots=True)
class Strand:
    """One weigh-in, drain or delivery, and its share of the lot."""

    seq: int
    came: CameIn
    share: Fraction

    @property
    def bucket(self) -> str:
        """The bucket it came in."""
        return self.came.bucket

    @property
    def bought(self) -> bool:
        """Whether it was bought in."""
        return isinstance(self.came, Receive)

    @property
    def plant(self) -> str | None:
        """The plant that was noted."""
        return getattr(self.came, "plant", None)

    @property
    def year(self) -> int | None:
        """The year it was harvested in, where that is known."""
        years = {day.year for day in self.came.harvest_days}
        return years.pop() if len(years) == 1 else None

    @property
    def yards(self) -> tuple[str, ...]:
        """The yards noted for it."""
        return tuple(dict.fromkeys(source.yard for source in getattr(self.came, "sources", ()) if source.yard))

    def said(self) -> str:
        """Its bucket, and its supplier where it has one."""
        bought = f", bought in from {self.came.supplier}" if isinstance(self.came, Receive) else ""
        return f"bucket {self.bucket}{bought}"


@dataclass(frozen=True, slots=True)
class Heritage:
    """The strands of a lot, the largest first. Their shares add up to 1, less what the scale found and nobody booked."""

    lot: str
    strands: tuple[Strand, ...]

    @property
    def bought(self) -> tuple[Strand, ...]:
        """What was bought in."""
        return tuple(strand for strand in self.strands if strand.bought)

    def not_stating(self, claim: str) -> tuple[Strand, ...]:
        """The bought-in strands whose papers do not state a claim such as “raw”; for own honey the producer answers."""
        return tuple(
            strand for strand in self.strands if isinstance(strand.came, Receive) and claim not in strand.came.states
        )

    def not_of(self, plant: str) -> tuple[Strand, ...]:
        """The strands of another plant, and those bought in without one."""
        wanted = plant.casefold()
        return tuple(
            strand
            for strand in self.strands
            if (strand.plant and wanted not in strand.plant.casefold()) or (strand.bought and not strand.plant)
        )

    def countries(self, home: str | None) -> dict[str | None, Fraction]:
        """The exact share of each country, the largest first; own honey is from ``home``, ``None`` where nobody said."""
        shares: dict[str | None, Fraction] = defaultdict(Fraction)
        for strand in self.strands:
            if isinstance(strand.came, Receive):
                for part in strand.came.origin:
                    shares[part.country] += strand.share * Fraction(part.percent) / 100
            else:
                shares[home] += strand.share
        if unknown := WHOLE - sum((strand.share for strand in self.strands), Fraction(0)):
            shares[None] += unknown
        return dict(sorted(shares.items(), key=lambda item: (-item[1], str(item[0]))))

    @property
    def yards(self) -> tuple[str, ...]:
        """The yards of the own honey in it."""
        return tuple(dict.fromkeys(yard for strand in self.strands for yard in strand.yards))

    @property
    def years(self) -> tuple[int | None, ...]:
        """The years of its harvests; None where one is not known."""
        return tuple(dict.fromkeys(strand.year for strand in self.strands))

    @property
    def plants(self) -> tuple[str, ...]:
        """The plants noted for any of it."""
        return tuple(dict.fromkeys(strand.plant for strand in self.strands if strand.plant))

    @property
    def bears(self) -> tuple[str, ...]:
        """What a label may say of it, as far as the record can tell: every strand bears it."""
        if not self.strands:
            return ()
        found: list[str] = [] if self.bought else [Sentence("from our own hives")]
        if not self.bought and len(self.yards) == 1 and all(getattr(s.came, "sources", ()) for s in self.strands):
            found.append(Sentence("from {yard}", yard=self.yards[0]))
        if len(self.plants) == 1 and all(strand.plant for strand in self.strands):
            found.append(self.plants[0])
        if len(self.bought) == len(self.strands):
            stated = [set(strand.came.states) for strand in self.strands if isinstance(strand.came, Receive)]
            found += sorted(set.intersection(*stated))
        return tuple(found)


def heritage(story: Iterable[Booked], lots: Iterable[str]) -> tuple[Heritage, ...]:
    """What each of these lots is made of, out of the events about it and its ancestors.

    >>> from datetime import date, datetime, UTC
    >>> from labelkit.lots.bucket import Blend, Part, WeighIn
    >>> from labelkit.measures import Mass
    >>> day, at = date(2026, 7, 14), datetime(2026, 7, 14, tzinfo=UTC)
    >>> came = WeighIn("B1", day, Mass(900)), WeighIn("B2", day, Mass(300))
    >>> mixed = Blend("M1", day, (Part("B1", Mass(600)), Part("B2", Mass(300))))
    >>> one, = heritage((Booked(n, e, "Ada", at) for n, e in enumerate((*came, mixed), 1)), ["M1"])
    >>> [(strand.bucket, strand.share) for strand in one.strands]
    [('B1', Fraction(2, 3)), ('B2', Fraction(1, 3))]
    """
    standing = sorted((each for each in story if each.stands), key=lambda each: (each.day, each.position))
    came = {each.seq: each.event for each in standing if isinstance(each.event, CameIn)}
    pools: dict[str, Pool] = defaultdict(dict)
    for each in standing:
        _happen(pools, each)
    return tuple(Heritage(lot, _strands(pools[lot], came)) for lot in lots)


def _happen(pools: dict[str, Pool], each: Booked) -> None:
    """Take one event into the pools: what comes out of each parent first, then what is left, then what is added."""
    moves = each.event.movements()
    added: dict[str, Pool] = defaultdict(dict)
    for (child, parent), mg in links_of(moves).items():
        _pour(added[child], pools[parent], Fraction(mg))
    if isinstance(each.event, CameIn):
        added[each.event.bucket][each.seq] = Fraction(each.event.net.mg)
    held: dict[str, int] = defaultdict(int)
    for move in moves:
        if move.account == Account.BUCKET:
            held[move.lot] += move.mass.mg
    for lot, mg in held.items():
        _scale(pools[lot], mg - sum(added[lot].values(), Fraction(0)))
    for lot, more in added.items():
        for seq, part in more.items():
            pools[lot][seq] = pools[lot].get(seq, Fraction(0)) + part


def _pour(into: Pool, pool: Pool, mg: Fraction) -> None:
    whole = sum(pool.values(), Fraction(0))
    for seq, part in pool.items():
        into[seq] = into.get(seq, Fraction(0)) + mg * part / whole


def _scale(pool: Pool, change: Fraction) -> None:
    """Less or more of the same; found in an empty bucket, it is of nobody knows where."""
    whole = sum(pool.values(), Fraction(0))
    if not whole:
        if change > 0:
            pool[0] = change
        return
    for seq in tuple(pool):
        pool[seq] *= (whole + change) / whole
        if pool[seq] <= 0:
            del pool[seq]


def _strands(pool: Pool, came: dict[int, CameIn]) -> tuple[Strand, ...]:
    whole = sum(pool.values())
    found = [Strand(seq, came[seq], mg / whole) for seq, mg in pool.items() if seq in came]
    return tuple(sorted(found, key=lambda strand: (-strand.share, strand.seq)))


def percent(share: Fraction, digits: int = 1) -> Decimal:
    """A share in per cent for readers, half to even; the exact share is never rounded on the way.

    >>> percent(Fraction(1, 3))
    Decimal('33.3')
    """
    return Decimal(round(share * 100 * 10**digits)).scaleb(-digits)
