"""Honey as it came in: what, when, and from which yards, each with its share (:mod:`labelkit.lots.sharing`), or from whom."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labelkit.lots.bucket import Source
from labelkit.lots.received import CameIn, Receive
from labelkit.lots.sharing import Shared, shared
from labelkit.measures import Mass
from labelkit.measures.wording import ENGLISH, Wording
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

    def says(self, words: Wording = ENGLISH) -> str:
        """The yards of own honey in words."""
        named = "; ".join(map(str, self.sources)) or words("not noted")
        return words("as the bucket: {sources}", sources=named) if self.as_bucket else named


def intakes(story: Iterable[Booked], lots: set[str]) -> tuple[Intake, ...]:
    """Everything that came into these lots from hives and suppliers, in the order it was booked.

    >>> from datetime import datetime, UTC
    >>> from labelkit.lots.bucket import Drain, WeighIn
    >>> day, at = date(2026, 7, 14), datetime(2026, 7, 14, tzinfo=UTC)
    >>> came = WeighIn("B1", day, Mass(900), sources=(Source("Heath", ("H1",)),)), Drain("B1", day, Mass(50))
    >>> [each.says() for each in intakes((Booked(n, c, "Ada", at) for n, c in enumerate(came, 1)), {"B1"})]
    ['Heath (H1)', 'as the bucket: Heath (H1)']
    """
    came = [each for each in story if each.stands and isinstance(each.event, CameIn) and each.event.bucket in lots]
    in_turn = sorted(came, key=lambda each: each.position)
    of = {each.seq: parts for each, parts in zip(in_turn, shared(each.event for each in in_turn), strict=True)}
    return tuple(_intake(each.seq, of[each.seq]) for each in came)


def _intake(seq: int, found: Shared) -> Intake:
    event, sources = found.event, found.sources
    receipt = event if isinstance(event, Receive) else None
    return Intake(
        seq,
        event.bucket,
        event.kind,
        event.title,
        event.day,
        None if isinstance(event, Receive) else event.harvested or event.day,
        event.net,
        sources,
        getattr(event, "plant", None),
        event.moisture,
        tuple(found.of_yard(source.yard) for source in sources),
        found.as_bucket,
        event.because,
        receipt,
    )
