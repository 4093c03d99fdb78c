"""The mass balance of each lot: what came in, what it passed on, where the rest is, and what nobody can explain.

The masses of every event add up to nothing, so every lot closes exactly; what is missing by the scale stands under its
own name. No law or standard read sets how much may be missing; :mod:`labelkit.trace.alarms` has the producer's limits.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
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
    jars_opened: int = 0  # whose honey went back into a bucket, as seed
    jars_surplus: int = 0  # found at a count beyond those that were filled
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
    def jars_under_code(self) -> int:
        """Jars made or found that bear its code: those that were given another since are to be found under that."""
        return self.jars_made + self.jars_surplus - self.jars_relabelled

    @property
    def jars_unaccounted(self) -> int:
        """Jars that were made and that nobody can find; never those that were opened as seed."""
        found = sum(jars.count for jars in self.jars if jars.account != Account.UNEXPLAINED)
        return self.jars_under_code - self.jars_opened - found

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
    sums: dict[str, _Sums] = defaultdict(_Sums)
    for each in booked:
        moves = each.movements()
        jars: Counter = Counter()
        for m in moves:
            sums[m.lot].ends[m.account, m.size] += m.mass.mg
            sums[m.lot].counts[m.account, m.size] += m.count
            jars[m.lot] += m.count
        for lot, more in jars.items():
            sums[lot].filled += max(0, more)
            # Jars that leave one lot enter another where they are relabelled; where they are opened none does.
            if any(n > 0 for n in jars.values()):
                sums[lot].relabelled += max(0, -more)
            else:
                sums[lot].opened += max(0, -more)
        for (child, parent), mg in links_of(moves).items():
            sums[child].came[parent] += mg
            sums[parent].gave[child] += mg
    return tuple(_balance(lot, sums[lot]) for lot in lots)


@dataclass(slots=True)
class _Sums:
    """What the events of one lot add up to: milligrams and jars by place and size, links, and jars in and out of it."""

    ends: Counter = field(default_factory=Counter)
    counts: Counter = field(default_factory=Counter)
    came: Counter = field(default_factory=Counter)
    gave: Counter = field(default_factory=Counter)
    filled: int = 0
    relabelled: int = 0
    opened: int = 0


def _balance(lot: str, sums: _Sums) -> Balance:
    ends, counts = sums.ends, sums.counts

    def at(account: Account) -> Mass:
        return Mass(sum(mg for (where, _), mg in ends.items() if where == account))

    jars = [
        JarsAt(lot, size, account, counts[account, size], Mass(ends[account, size]))
        for account in JAR_PLACES
        for size in sorted({size for where, size in counts if where == account and size})
        if counts[account, size]
    ]
    # More jars of a size counted than are missing are jars nobody filled: they hide no other size's missing ones.
    surplus = [each for each in jars if each.count < 0]
    return Balance(
        lot,
        from_hives=-at(Account.HIVES),
        from_suppliers=-at(Account.SUPPLIERS),
        from_lots=tuple((parent, Mass(mg)) for parent, mg in sorted(sums.came.items())),
        to_lots=tuple((child, Mass(mg)) for child, mg in sorted(sums.gave.items())),
        in_bucket=at(Account.BUCKET) if any(where == Account.BUCKET for where, _ in ends) else NOTHING,
        jars=tuple(each for each in jars if each.count > 0),
        lost=at(Account.LOST),
        unexplained=at(Account.UNEXPLAINED),
        jars_made=sums.filled,
        jars_relabelled=sums.relabelled,
        jars_opened=sums.opened,
        jars_surplus=-sum(each.count for each in surplus),
        bulk=tuple((where, Mass(ends[where, ""])) for where in BULK_PLACES if ends[where, ""]),
    )
