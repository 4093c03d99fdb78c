"""Sample seasons to try and throw away: each in a folder of its own for passing things, gone with the server.

The season is invented, and half way through: some honey in its buckets, one of them wet, some bottled, some sold. It
is booked by the commands a producer would type.
"""

from __future__ import annotations

import secrets
import tempfile
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta, timezone
from pathlib import Path
from time import monotonic

from labelkit.cli._runner import answer_to
from labelkit.errors.page import SampleFailed

# A visitor walks in on this morning.
SAMPLE_DAY = date(2026, 7, 22)
_ZONE = timezone(timedelta(hours=-4))
_SCALE = ("--tare", "2 lb 7 oz", "--division", "1 oz", "--container", "5 gal")
LOT = "the lot just bottled"
_WHO = "Robin at Pretend Hollow"

SEASON: tuple[tuple[date, tuple[str, ...]], ...] = (
    (
        date(2026, 7, 12),
        (
            "start",
            "--market",
            "us-va",
            "--currency",
            "USD",
            "--name",
            "Pretend Hollow Honey",
            "--street",
            "12 Sample Lane",
            "--city",
            "Pretend Hollow",
            "--region",
            "VA",
            "--postcode",
            "00000",
            "--phone",
            "555-0100",
        ),
    ),
    (
        date(2026, 7, 12),
        (
            "weigh",
            "--bucket",
            "B1",
            "--gross",
            "41 lb 3 oz",
            *_SCALE,
            "--moisture",
            "17.4",
            "--plant",
            "clover and lime",
            "--yard",
            "Mill meadow: H1, H2, H3",
            "--yard",
            "Hill orchard: H7",
        ),
    ),
    (
        date(2026, 7, 12),
        (
            "weigh",
            "--bucket",
            "B2",
            "--gross",
            "58 lb 15 oz",
            *_SCALE,
            "--moisture",
            "17.1",
            "--plant",
            "clover and lime",
            "--yard",
            "Hill orchard: H7, H8",
        ),
    ),
    (
        date(2026, 7, 13),
        ("drain", "--bucket", "B1", "--net", "2 lb 4 oz", "--moisture", "17.8", "--yard", "Mill meadow: H1, H2, H3"),
    ),
    (date(2026, 7, 14), ("price", "--set", "one pound", "--declares", "1 lb", "--price", "12.00", "--cost", "1.35")),
    (date(2026, 7, 14), ("price", "--set", "twelve ounce", "--declares", "12 oz", "--price", "9.50", "--cost", "1.20")),
    (
        date(2026, 7, 14),
        (
            "label-words",
            "--name",
            "Clover & Lime Honey",
            "--floral-source",
            "clover and lime",
            "--line",
            "From our own hives",
            "--origin",
            "US",
            "--best-before",
            "2028-07",
            "--jar",
            "one pound=3 in x 3.2 in",
            "--jar",
            "twelve ounce=2.6 in x 3 in",
            "--fact",
            "home_kitchen=yes",
            "--fact",
            "own_hives=yes",
            "--fact",
            "sells_to=stall, shop",
            "--fact",
            "gallons_per_year=90",
            "--fact",
            "infused=no",
            "--fact",
            "pasteurized=no",
        ),
    ),
    (
        date(2026, 7, 16),
        (
            "bottle",
            "--bucket",
            "B1",
            "--jar",
            "one pound=22",
            "--jar",
            "twelve ounce=23",
            "--broken",
            "twelve ounce=1",
            "--left",
            "14 oz",
        ),
    ),
    (
        date(2026, 7, 18),
        ("sell", "--lot", LOT, "--jar", "one pound=9", "--jar", "twelve ounce=6", "--place", "Imaginary Square market"),
    ),
    (
        date(2026, 7, 19),
        (
            "sell",
            "--lot",
            LOT,
            "--jar",
            "twelve ounce=12",
            "--to",
            "shop",
            "--customer",
            "Made-up Corner Shop",
            "--place",
            "1 Nowhere Road",
            "--price",
            "twelve ounce=7.25",
        ),
    ),
    (
        date(2026, 7, 20),
        (
            "weigh",
            "--bucket",
            "B3",
            "--gross",
            "34 lb 8 oz",
            *_SCALE,
            "--moisture",
            "19.4",
            "--plant",
            "bramble",
            "--yard",
            "Hill orchard: H8",
        ),
    ),
)


def book_sample(record: str) -> None:
    """Book the sample season into a new record."""
    lot = ""
    for hour, (day, arguments) in enumerate(SEASON):
        at = datetime(day.year, day.month, day.day, 8 + hour % 12, tzinfo=_ZONE)
        words = [lot if word == LOT else word for word in arguments]
        answer = answer_to(["--record", record, "--day", day.isoformat(), *words], clock=at, who=_WHO)
        if arguments[0] == "bottle":
            lot = answer.document["lot"]


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
