"""Whose honey is in a bucket: what came in, shared among the yards and hives it came from. The one rule for all sums.

A scale weighs a bucket and not a hive. Honey that names several hives is shared in equal parts among them, a yard without
named hives counting as one: a convention, not a measurement. Honey drained later without a source is the bucket's own
cappings (common practice, no source), so it has the bucket's hives, by what each had brought until then; where any of the
bucket's honey came from nobody noted where, that is not known either. The parts add up to the whole, to the milligram.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from labelkit.lots.bucket import Drain, Source
from labelkit.lots.received import CameIn
from labelkit.measures import Mass, total
from labelkit.measures.rounding import apportion


@dataclass(frozen=True, slots=True)
class Part:
    """One hive's part of what came in; without a name where only the yard is known."""

    yard: str
    hive: str
    mass: Mass


@dataclass(frozen=True, slots=True)
class Shared:
    """What came in and whose it was: no parts where nobody noted that; ``as_bucket`` where they are its bucket's."""

    event: CameIn
    parts: tuple[Part, ...]
    as_bucket: bool

    @property
    def sources(self) -> tuple[Source, ...]:
        """The yards, each with its hives."""
        hives: dict[str, list[str]] = {}
        for part in self.parts:
            hives.setdefault(part.yard, []).extend([part.hive] if part.hive else ())
        return tuple(Source(yard, tuple(named)) for yard, named in hives.items())

    def of_yard(self, yard: str) -> Mass:
        """What one yard brought of it."""
        return total(part.mass for part in self.parts if part.yard == yard)


def shared(came: Iterable[CameIn]) -> Iterator[Shared]:
    """Everything that came in, in the order it did, with its parts.

    >>> from datetime import date
    >>> from labelkit.lots.bucket import WeighIn
    >>> day, yards = date(2026, 7, 14), (Source("Mill", ("H1", "H2")), Source("Hill"))
    >>> came = WeighIn("B1", day, Mass(31), sources=yards), Drain("B1", day, Mass(5))
    >>> [[(part.yard, part.hive, part.mass.mg) for part in each.parts] for each in shared(came)]
    [[('Mill', 'H1', 11), ('Mill', 'H2', 10), ('Hill', '', 10)], [('Mill', 'H1', 2), ('Mill', 'H2', 2), ('Hill', '', 1)]]
    """
    brought: dict[str, dict[tuple[str, str], int]] = defaultdict(dict)  # milligrams by yard and hive so far
    unknown: set[str] = set()
    for event in came:
        holds = brought[event.bucket]
        noted = [(each.yard, hive) for each in getattr(event, "sources", ()) for hive in each.hives or ("",)]
        as_bucket = isinstance(event, Drain) and not noted and event.bucket not in unknown and bool(holds)
        names, weights = (list(holds), list(holds.values())) if as_bucket else (noted, [1] * len(noted))
        if not names:
            unknown.add(event.bucket)
        parts = apportion(event.net.mg, weights)
        for name, mg in zip(names, parts, strict=True):
            holds[name] = holds.get(name, 0) + mg
        named = (Part(*name, Mass(mg)) for name, mg in zip(names, parts, strict=True))
        yield Shared(event, tuple(named), as_bucket)
