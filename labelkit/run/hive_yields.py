"""Honey by yard and by hive, from what was weighed in.

A bucket seldom holds one hive's honey. Where it names several, each hive is given an equal part and the part is marked
as shared: a convention, not a measurement. The parts add up to the bucket to the milligram.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from labelkit.lots.bucket import Drain, Source, WeighIn
from labelkit.measures import NOTHING, Mass, total

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


def hive_yields(intake: Iterable[WeighIn | Drain]) -> tuple[YardYield, ...]:
    """Yields by yard and hive, yards and hives by name. Cappings honey without a source goes where its bucket's went.

    >>> from datetime import date
    >>> day = date(2026, 7, 14)
    >>> mill = WeighIn("B1", day, Mass.of_grams(30), sources=(Source("Mill", ("H1", "H2")),))
    >>> both = WeighIn("B2", day, Mass.of_grams(30), sources=(Source("Mill", ("H1",)), Source("Hill")))
    >>> [(y.yard, y.mass.g, y.shared.g, y.per_hive) for y in hive_yields([mill, both])][1]
    ('Mill', Decimal('45'), Decimal('15'), Mass(mg=22500))
    """
    intake = tuple(intake)
    of_bucket = {each.bucket: each.sources for each in intake if isinstance(each, WeighIn) and each.sources}
    alone: dict[tuple[str, str], Mass] = {}
    shared: dict[tuple[str, str], Mass] = {}
    by_others: dict[str, Mass] = {}
    for each in intake:
        sources = each.sources or of_bucket.get(each.bucket, ()) or (Source(UNNAMED),)
        named = [(source.yard, hive) for source in sources for hive in source.hives or (UNNAMED,)]
        to = alone if len(named) == 1 and named[0][1] != UNNAMED else shared
        many_yards = len({yard for yard, _ in named}) > 1
        for (yard, hive), part in zip(named, _parts(each.net, len(named)), strict=True):
            to[yard, hive] = to.get((yard, hive), NOTHING) + part
            if many_yards:
                by_others[yard] = by_others.get(yard, NOTHING) + part
    yards = sorted({yard for yard, _ in (*alone, *shared)})
    return tuple(
        YardYield(
            yard,
            tuple(
                HiveYield(hive, alone.get((yard, hive), NOTHING), shared.get((yard, hive), NOTHING))
                for hive in sorted({h for y, h in (*alone, *shared) if y == yard})
            ),
            by_others.get(yard, NOTHING),
        )
        for yard in yards
    )


def _parts(mass: Mass, count: int) -> list[Mass]:
    """Equal parts that add up to the whole.

    >>> [part.mg for part in _parts(Mass(10), 3)]
    [4, 3, 3]
    """
    each, over = divmod(mass.mg, count)
    return [Mass(each + (place < over)) for place in range(count)]
