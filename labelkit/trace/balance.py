"""The mass balance of each lot: what came in, what it passed on, where the rest is, and what nobody can explain.

The masses of every event add up to nothing, so every lot closes exactly; what is missing by the scale stands under its
own name. No law or standard read sets how much may be missing; :mod:`labelkit.trace.alarms` has the producer's limits.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from labelkit.lots.movement import Account
from labelkit.measures import NOTHING, Mass, total
from labelkit.trace.booked import Booked
from labelkit.trace.links import links_of

# Accounts that hold jars somebody could still be asked about, in the order a reader looks for them.
JAR_PLACES = (
    Account.JARS,
    Account.STALL,
    Account.HELD,
    Account.SOLD,
    Account.GIVEN,
    Account.SAMPLE,
    Account.BROKEN,
    Account.DISCARDED,
    Account.UNEXPLAINED,
)
# Where honey goes from a bucket without a jar, in the order a reader looks for it.
BULK_PLACES = (
    Account.SOLD,
    Account.GIVEN,
    Account.FED,
    Account.DISCARDED,
    Account.WATER,
    Account.REWEIGHED,
)


@dataclass(frozen=True, slots=True)
class JarsAt:
    """Jars of one lot and size that are in one place now."""

    lot: str
    size: str
    account: Account
    count: int
    mass: Mass


@dataclass(frozen=True, slots=True)
class Balance:
    """One lot: what came in, where it went, and whether it closes."""

    lot: str
    from_hives: Mass
    from_suppliers: Mass
    from_lots: tuple[tuple[str, Mass], ...]
    to_lots: tuple[tuple[str, Mass], ...]
    in_bucket: Mass
    jars: tuple[JarsAt, ...]
    lost: Mass
    unexplained: Mass
    jars_made: int
    jars_relabelled: int = 0  # that bear another lot's code now
    bulk: tuple[tuple[Account, Mass], ...] = ()  # what left the bucket without a jar

    @property
    def came_in(self) -> Mass:
        """All that ever came into it."""
        return self.from_hives + self.from_suppliers + total(mass for _, mass in self.from_lots)

    @property
    def passed_on(self) -> Mass:
        """What went into other lots."""
        return total(mass for _, mass in self.to_lots)

    @property
    def in_jars(self) -> Mass:
        """What went into jars, wherever they are now; jars that are missing count as unexplained."""
        return total(jars.mass for jars in self.jars if jars.account != Account.UNEXPLAINED)

    @property
    def left_in_bulk(self) -> Mass:
        """What left the bucket without a jar, by all ways."""
        return total(mass for _, mass in self.bulk)

    @property
    def reweighed(self) -> Mass:
        """What it weighed less when it was weighed again."""
        return total(mass for where, mass in self.bulk if where == Account.REWEIGHED)

    @property
    def missing_mass(self) -> Mass:
        """The honey in jars found missing, which the unexplained mass holds too."""
        return total(jars.mass for jars in self.jars if jars.account == Account.UNEXPLAINED)

    def percent_of(self, mass: Mass) -> Decimal | None:
        """A mass in per cent of what came in; nothing where nothing came in."""
        return Decimal(mass.mg) * 100 / self.came_in.mg if self.came_in else None

    @property
    def accounted_percent(self) -> Decimal | None:
        """How much of what came in is accounted for, in per cent."""
        return self.percent_of(self.came_in - self.unexplained - self.reweighed)

    @property
    def jars_to_find(self) -> int:
        """Jars that bear its code: those that were given another since are to be found under that."""
        return self.jars_made - self.jars_relabelled

    @property
    def jars_unaccounted(self) -> int:
        """Jars that were made and that nobody can find."""
        found = sum(jars.count for jars in self.jars if jars.account != Account.UNEXPLAINED)
        return self.jars_to_find - found

    @property
    def rest(self) -> Mass:
        """What came in less all it became; anything but nothing is a fault in the record."""
        named = self.lost + self.unexplained + self.left_in_bulk
        return self.came_in - self.passed_on - self.in_bucket - self.in_jars - named


def balances(booked: Iterable[Booked], lots: Iterable[str]) -> tuple[Balance, ...]:
    """The balance of each of these lots, in their order.

    >>> from datetime import date, datetime, UTC
    >>> from labelkit.lots.bucket import WeighIn
    >>> filled = WeighIn("B1", date(2026, 7, 14), Mass.of_grams(20000))
    >>> one, = balances([Booked(1, filled, "Ada", datetime(2026, 7, 14, tzinfo=UTC))], ["B1"])
    >>> one.came_in.kg, one.in_bucket.kg, one.accounted_percent
    (Decimal('20'), Decimal('20'), Decimal('100'))
    """
    ends: dict[str, Counter] = defaultdict(Counter)
    counts: dict[str, Counter] = defaultdict(Counter)
    made: Counter = Counter()
    relabelled: Counter = Counter()
    came: dict[str, Counter] = defaultdict(Counter)
    gave: dict[str, Counter] = defaultdict(Counter)
    for each in booked:
        moves = each.movements()
        made_here: Counter = Counter()
        for m in moves:
            ends[m.lot][m.account, m.size] += m.mass.mg
            counts[m.lot][m.account, m.size] += m.count
            made_here[m.lot] += m.count
        made.update({lot: n for lot, n in made_here.items() if n > 0})
        relabelled.update({lot: -n for lot, n in made_here.items() if n < 0})
        for (child, parent), mg in links_of(moves).items():
            came[child][parent] += mg
            gave[parent][child] += mg
    return tuple(
        _balance(lot, ends[lot], counts[lot], came[lot], gave[lot], made[lot], relabelled[lot]) for lot in lots
    )


def _balance(
    lot: str, ends: Counter, counts: Counter, came: Counter, gave: Counter, made: int, relabelled: int
) -> Balance:
    def at(account: Account) -> Mass:
        return Mass(sum(mg for (where, _), mg in ends.items() if where == account))

    jars = [
        JarsAt(lot, size, account, counts[account, size], Mass(ends[account, size]))
        for account in JAR_PLACES
        for size in sorted({size for where, size in counts if where == account and size})
        if counts[account, size]
    ]
    return Balance(
        lot,
        from_hives=-at(Account.HIVES),
        from_suppliers=-at(Account.SUPPLIERS),
        from_lots=tuple((parent, Mass(mg)) for parent, mg in sorted(came.items())),
        to_lots=tuple((child, Mass(mg)) for child, mg in sorted(gave.items())),
        in_bucket=at(Account.BUCKET) if any(where == Account.BUCKET for where, _ in ends) else NOTHING,
        jars=tuple(jars),
        lost=at(Account.LOST),
        unexplained=at(Account.UNEXPLAINED),
        jars_made=made,
        jars_relabelled=relabelled,
        bulk=tuple((where, Mass(ends[where, ""])) for where in BULK_PLACES if ends[where, ""]),
    )
