"""Honey that was bought in: who supplied it, under which lot of theirs, and what their papers say of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import ClassVar

from labelkit.lots.bucket import Drain, WeighIn, Weighing
from labelkit.lots.event import Event
from labelkit.lots.movement import Account, Movement, moved
from labelkit.measures import Mass, Money

# What a supplier's paper can state beyond origin and plant; a label may say it only where every part of a lot has it.
STATES = ("raw", "unfiltered", "organic", "local")


@dataclass(frozen=True, slots=True)
class OriginShare:
    """How much of the honey comes from a country, in per cent by mass; the country by its ISO 3166-1 code."""

    country: str
    percent: Decimal


@dataclass(frozen=True, slots=True)
class Receive(Event):
    """A bucket of honey bought from a supplier, as weighed on arrival."""

    kind: ClassVar[str] = "receive"
    title: ClassVar[str] = "bought in"
    voidable: ClassVar[bool] = True
    bucket: str
    day: date
    net: Mass
    supplier: str
    their_lot: str
    origin: tuple[OriginShare, ...]
    weighing: Weighing | None = None
    moisture: Decimal | None = None
    container_ml: Decimal | None = None
    number: str = ""  # of the supplier's delivery note
    harvest: str = ""  # in the supplier's words
    plant: str | None = None
    states: tuple[str, ...] = ()  # what their papers state, of STATES
    paid: Money | None = None  # for all of it
    because: str = ""  # said by a person where the weight was asked about
    fill: int = 1  # how often this bucket was filled, this time among them
    moisture_read: Decimal | None = None  # what the refractometer showed, where that was put right

    @property
    def harvest_days(self) -> tuple[date, ...]:
        """None that the producer can vouch for: the supplier's words stand in ``harvest``."""
        return ()

    def movements(self) -> tuple[Movement, ...]:
        """From the supplier, into the bucket."""
        return moved(Account.SUPPLIERS, Account.BUCKET, self.bucket, self.net)

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"{Event.describe(self, locale)} from {self.supplier}, their lot {self.their_lot}"


# Every event that brings honey in from outside.
CameIn = WeighIn | Drain | Receive
