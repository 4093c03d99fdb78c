"""Honey by yard and by hive, from what was weighed in, shared as :mod:`labelkit.lots.sharing` says; shared parts are marked."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from labelkit.lots.received import CameIn
from labelkit.lots.sharing import Part, shared
from labelkit.measures import NOTHING, Mass, total
from labelkit.measures.period import Period

UNNAMED = ""


@dataclass(frozen=True, slots=True)
class HiveYield:
    """One hive's honey: weighed from it alone, and its equal part of buckets it shares. No name: nobody named one."""

    hive: str
    alone: Mass
    shared: Mass

    @property
    def mass(self) -> Mass:
        """Both together."""
        return self.alone + self.shared


@dataclass(frozen=True, slots=True)
class YardYield:
    """One yard's honey, by hive; ``shared`` is the part that comes from buckets with honey of other yards too."""

    yard: str
    hives: tuple[HiveYield, ...]
    shared: Mass

    @property
    def mass(self) -> Mass:
        """All of it."""
        return total(hive.mass for hive in self.hives)

    @property
    def named(self) -> int:
        """How many hives are named."""
        return sum(hive.hive != UNNAMED for hive in self.hives)

    @property
    def per_hive(self) -> Mass | None:
        """The mean of its hives; ``None`` where some honey names no hive, since nobody knows how many there were."""
        return Mass(self.mass.mg // self.named) if self.named and self.named == len(self.hives) else None


def hive_yields(intake: Iterable[CameIn], period: Period | None = None) -> tuple[YardYield, ...]:
    """Yields by yard and hive, yards and hives by name, from what came in, in its order; ``period`` counts only its days.

    >>> from datetime import date
    >>> from labelkit.lots.bucket import Source, WeighIn
    >>> day = date(2026, 7, 14)
    >>> mill = WeighIn("B1", day, Mass.of_grams(30), sources=(Source("Mill", ("H1", "H2")),))
    >>> both = WeighIn("B2", day, Mass.of_grams(30), sources=(Source("Mill", ("H1",)), Source("Hill")))
    >>> [(y.yard, y.mass.g, y.shared.g, y.per_hive) for y in hive_yields([mill, both])][1]
    ('Mill', Decimal('45'), Decimal('15'), Mass(mg=22500))
    """
    alone: dict[tuple[str, str], Mass] = {}
    with_others: dict[tuple[str, str], Mass] = {}
    by_others: dict[str, Mass] = {}
    for each in shared(intake):
        if period is not None and each.event.day not in period:
            continue  # what came in before still says whose honey a later drain is
        parts = each.parts or (Part(UNNAMED, UNNAMED, each.event.net),)
        to = alone if len(parts) == 1 and parts[0].hive != UNNAMED else with_others
        many_yards = len({part.yard for part in parts}) > 1
        for part in parts:
            name = part.yard, part.hive
            to[name] = to.get(name, NOTHING) + part.mass
            if many_yards:
                by_others[part.yard] = by_others.get(part.yard, NOTHING) + part.mass
    named = sorted({*alone, *with_others})
    return tuple(
        YardYield(
            yard,
            tuple(
                HiveYield(hive, alone.get((yard, hive), NOTHING), with_others.get((yard, hive), NOTHING))
                for of, hive in named
                if of == yard
            ),
            by_others.get(yard, NOTHING),
        )
        for yard in dict.fromkeys(yard for yard, _ in named)
    )
