"""Honey as it came in: what, when, and from which yards, each with its share, or from which supplier.

A scale weighs a bucket and not a yard. Yards noted together share what was weighed in equal parts. Honey drained later
without a yard is the bucket's own cappings (common practice, no source), so it has the bucket's yards, in the parts
the bucket had until then; where any of the bucket's honey came from nobody noted where, that is not known either.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labelkit.lots.bucket import Drain, Source
from labelkit.lots.received import CameIn, Receive
from labelkit.measures import Mass
from labelkit.measures.rounding import plain
from labelkit.trace.booked import Booked


@dataclass(frozen=True, slots=True)
class Intake:
    """Honey as it came in; ``shares`` says how much of it each source stands for; ``receipt`` is of bought-in honey."""

    seq: int
    bucket: str
    how: str  # weigh, drain or receive
    title: str
    day: date
    harvested: date | None  # None: only the supplier's words say when
    mass: Mass
    sources: tuple[Source, ...]
    plant: str | None
    moisture: Decimal | None
    shares: tuple[Mass, ...] = ()
    as_bucket: bool = False  # nobody noted a yard; these are the bucket's
    because: str = ""  # said where its weight was asked about
    receipt: Receive | None = None

    @property
    def weighed(self) -> bool:
        """Whether the shares are the scale's and not reckoned: with one yard, or none."""
        return len(self.sources) < 2

    @property
    def said(self) -> str:
        """Its yards, or its supplier, in words."""
        if self.receipt is not None:
            origin = ", ".join(f"{share.country} {plain(share.percent)} %" for share in self.receipt.origin)
            return f"{self.receipt.supplier}, their lot {self.receipt.their_lot} ({origin})"
        named = "; ".join(map(str, self.sources)) or "not noted"
        return f"as the bucket: {named}" if self.as_bucket else named


def intakes(story: Iterable[Booked], lots: set[str]) -> tuple[Intake, ...]:
    """Everything that came into these lots from hives and suppliers, in the order it was booked.

    >>> from datetime import datetime, UTC
    >>> from labelkit.lots.bucket import WeighIn
    >>> day, at = date(2026, 7, 14), datetime(2026, 7, 14, tzinfo=UTC)
    >>> came = WeighIn("B1", day, Mass(900), sources=(Source("Heath", ("H1",)),)), Drain("B1", day, Mass(50))
    >>> [each.said for each in intakes((Booked(n, c, "Ada", at) for n, c in enumerate(came, 1)), {"B1"})]
    ['Heath (H1)', 'as the bucket: Heath (H1)']
    """
    came = [each for each in story if each.stands and isinstance(each.event, CameIn) and each.event.bucket in lots]
    found = {each.seq: made for each, made in _in_turn(sorted(came, key=lambda each: each.position))}
    return tuple(found[each.seq] for each in came)


def _in_turn(came: list[Booked]) -> Iterator[tuple[Booked, Intake]]:
    held: dict[str, dict[Source, int]] = defaultdict(dict)  # milligrams by source so far
    unknown: set[str] = set()
    for each in came:
        event = each.event
        holds = held[event.bucket]
        noted = getattr(event, "sources", ())
        as_bucket = isinstance(event, Drain) and not noted and event.bucket not in unknown and bool(holds)
        sources = _by_yard(holds) if as_bucket else noted
        if not sources:
            unknown.add(event.bucket)
        shares = _shared(event.net.mg, list(_weights(holds, sources)) if as_bucket else [1] * len(sources))
        for source, mg in zip(sources, shares, strict=True):
            holds[source] = holds.get(source, 0) + mg
        receipt = event if isinstance(event, Receive) else None
        yield (
            each,
            Intake(
                each.seq,
                event.bucket,
                event.kind,
                event.title,
                event.day,
                None if receipt else event.harvested or event.day,
                event.net,
                sources,
                getattr(event, "plant", None),
                event.moisture,
                tuple(map(Mass, shares)),
                as_bucket,
                event.because,
                receipt,
            ),
        )


def _by_yard(holds: Iterable[Source]) -> tuple[Source, ...]:
    hives: dict[str, dict[str, None]] = {}
    for source in holds:
        hives.setdefault(source.yard, {}).update(dict.fromkeys(source.hives))
    return tuple(Source(yard, tuple(sorted(names))) for yard, names in hives.items())


def _weights(holds: dict[Source, int], sources: tuple[Source, ...]) -> Iterator[int]:
    for wanted in sources:
        yield sum(mg for source, mg in holds.items() if source.yard == wanted.yard)


def _shared(mg: int, weights: list[int]) -> list[int]:
    """A weight in parts, each taken down to the milligram; what is over goes to the first.

    >>> _shared(5000, [20, 5]), _shared(10, [1, 1, 1])
    ([4000, 1000], [4, 3, 3])
    """
    if not weights:
        return []
    parts = [mg * weight // sum(weights) for weight in weights]
    return [parts[0] + mg - sum(parts), *parts[1:]]
