"""Sample seasons to try and throw away: each in a folder of its own for passing things, gone with the server.

The season is invented, and half way through: some honey in its buckets, one of them wet, some bottled, some sold. It
is booked by the use cases a producer's own steps go through.
"""

from __future__ import annotations

import secrets
import tempfile
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta, timezone
from decimal import Decimal
from itertools import count
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING, Any

from labelkit.errors.page import SampleFailed
from labelkit.lots.bucket import Source
from labelkit.lots.intake import Intake
from labelkit.measures import Declared, Mass, Money, read_volume
from labelkit.season import open_season
from labelkit.season.bottle import Bottling, bottle
from labelkit.season.drain import drain
from labelkit.season.label_words import LabelWords, keep_words
from labelkit.season.price import SizePrice, set_price
from labelkit.season.sell import JarsGone, sell
from labelkit.season.start import SeasonStart, start
from labelkit.season.weigh import weigh

if TYPE_CHECKING:
    from labelkit.record.work import Work

# A visitor walks in on this morning.
SAMPLE_DAY = date(2026, 7, 22)
_ZONE = timezone(timedelta(hours=-4))
_WHO = "Robin at Pretend Hollow"
MILL, HILL = "Mill meadow", "Hill orchard"


def _mass(text: str) -> Mass:
    return Mass.read(text, "en_US")


def _bucket(name: str, gross: str, moisture: str, plant: str, *sources: Source) -> Intake:
    return Intake(
        name,
        gross=_mass(gross),
        tare=_mass("2 lb 7 oz"),
        division=_mass("1 oz"),
        container_ml=read_volume("5 gal", "en_US"),
        moisture=Decimal(moisture),
        sources=sources,
        plant=plant,
    )


def _price(size: str, declares: str, price: str, cost: str) -> SizePrice:
    return SizePrice(size, Money.of(price, "USD"), Declared.read(declares, "en_US"), Money.of(cost, "USD"))


MAKER = {
    "name": "Pretend Hollow Honey",
    "street": "12 Sample Lane",
    "city": "Pretend Hollow",
    "region": "VA",
    "postcode": "00000",
    "phone": "555-0100",
}
CAPPINGS = Intake("B1", net=_mass("2 lb 4 oz"), moisture=Decimal("17.8"), sources=(Source(MILL, ("H1", "H2", "H3")),))
WORDS = LabelWords(
    {
        "name": "Clover & Lime Honey",
        "floral_source": "clover and lime",
        "origin": "US",
        "best_before": "2028-07",
    },
    ("From our own hives",),
    {
        "one pound": {"diameter": "3 in", "height": "3.2 in"},
        "twelve ounce": {"diameter": "2.6 in", "height": "3 in"},
    },
    facts={
        "home_kitchen": True,
        "own_hives": True,
        "sells_to": ["stall", "shop"],
        "gallons_per_year": 90,
        "infused": False,
        "pasteurized": False,
    },
)
RUN = Bottling("B1", {"one pound": 22, "twelve ounce": 23}, {"twelve ounce": 1}, left=_mass("14 oz"))


def book_sample(record: str) -> None:
    """Book the sample season into a new record, one step an hour of its days."""
    hours = count(8)
    lots: list[str] = []

    def step(day: int, book: Callable[[Work, date], Any]) -> Any:
        at = datetime(2026, 7, day, next(hours), tzinfo=_ZONE)
        with open_season(record, who=_WHO, clock=at, create=True) as season, season.work() as work:
            return book(work, at.date())

    def gone(**said: Any) -> Callable[[Work, date], Any]:
        return lambda work, day: sell(work, JarsGone(lots[0], **said), day)

    b1 = _bucket("B1", "41 lb 3 oz", "17.4", "clover and lime", Source(MILL, ("H1", "H2", "H3")), Source(HILL, ("H7",)))
    b2 = _bucket("B2", "58 lb 15 oz", "17.1", "clover and lime", Source(HILL, ("H7", "H8")))
    b3 = _bucket("B3", "34 lb 8 oz", "19.4", "bramble", Source(HILL, ("H8",)))
    step(12, lambda work, day: start(work, SeasonStart(("us-va",), "USD", MAKER), day))
    step(12, lambda work, day: weigh(work, b1, day, "en_US"))
    step(12, lambda work, day: weigh(work, b2, day, "en_US"))
    step(13, lambda work, day: drain(work, CAPPINGS, day, "en_US"))
    step(14, lambda work, day: set_price(work, _price("one pound", "1 lb", "12.00", "1.35"), day))
    step(14, lambda work, day: set_price(work, _price("twelve ounce", "12 oz", "9.50", "1.20"), day))
    step(14, lambda work, day: keep_words(work, WORDS, day))
    lots.append(step(16, lambda work, day: bottle(work, RUN, day, "en_US")).lot)
    step(18, gone(jars={"one pound": 9, "twelve ounce": 6}, place="Imaginary Square market"))
    step(
        19,
        gone(
            jars={"twelve ounce": 12},
            to="shop",
            customer="Made-up Corner Shop",
            place="1 Nowhere Road",
            prices={"twelve ounce": Money.of("7.25", "USD")},
        ),
    )
    step(20, lambda work, day: weigh(work, b3, day, "en_US"))


@dataclass
class Sample:
    """One sample season: its folder, and when it was begun by the machine's steady clock."""

    folder: tempfile.TemporaryDirectory
    begun: float = field(default_factory=monotonic)

    @property
    def record(self) -> str:
        """Its record."""
        return str(Path(self.folder.name) / "sample.labelkit")

    @property
    def clock(self) -> datetime:
        """The sample's own time: its day from nine in the morning on, going as the machine's does."""
        nine = datetime(SAMPLE_DAY.year, SAMPLE_DAY.month, SAMPLE_DAY.day, 9, tzinfo=_ZONE)
        return nine + timedelta(seconds=monotonic() - self.begun)


class Samples:
    """The sample seasons this server keeps, by a name nobody guesses."""

    MOST = 8  # a visitor who begins ever new ones loses the oldest

    def __init__(self) -> None:
        self._held: dict[str, Sample] = {}

    def make(self) -> str:
        """Make one; its name. Raises :class:`~labelkit.errors.page.SampleFailed`."""
        try:
            sample = Sample(tempfile.TemporaryDirectory(prefix="labelkit-sample-", ignore_cleanup_errors=True))
            book_sample(sample.record)
        except OSError as trouble:
            raise SampleFailed(trouble.strerror or "the system refused it") from None
        name = secrets.token_urlsafe(12)
        self._held[name] = sample
        while len(self._held) > self.MOST:
            self.throw_away(next(iter(self._held)))
        return name

    def find(self, name: str | None) -> Sample | None:
        """The sample of this name, if it is still there."""
        return self._held.get(name or "")

    def throw_away(self, name: str | None) -> None:
        """Delete a sample with all its files."""
        sample = self._held.pop(name or "", None)
        if sample:
            sample.folder.cleanup()

    def close(self) -> None:
        """Delete them all."""
        for name in list(self._held):
            self.throw_away(name)
