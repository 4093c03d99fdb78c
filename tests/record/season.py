"""A small invented season, event by event, and short ways to book it."""

from __future__ import annotations

import tempfile
from datetime import date, datetime, timedelta, timezone
from decimal import Decimal
from functools import lru_cache, partial
from itertools import count
from pathlib import Path

from labelkit.lots.bucket import Blend, Drain, Part, Source, WeighIn
from labelkit.measures import Declared, Mass, Money
from labelkit.record import open_record
from labelkit.record.settings import Setting
from labelkit.run.bottling import Filled, Run, bottle
from labelkit.sale.events import Discard, Give, PriceSet, Return, Sale, SaleLine

ZONE = timezone(timedelta(hours=2))
AT = datetime(2026, 7, 20, 18, 30, tzinfo=ZONE)
DAY = date(2026, 7, 14)
LATER = date(2026, 7, 20)
LOT, SISTER = "L26201AAC", "L26201ACP"
POUND = Mass(453_592)


def kg(text: str) -> Mass:
    return Mass.read(f"{text} kg", "en_US")


def line(count: int, lot: str = LOT, price: str | None = "12.00") -> SaleLine:
    return SaleLine(lot, "one pound", count, POUND, Money.of(price, "USD") if price else None)


def weigh(bucket: str, net: str, *sources: Source, moisture: str | None = None, day: date = DAY) -> WeighIn:
    return WeighIn(bucket, day, kg(net), sources=sources, moisture=Decimal(moisture) if moisture else None)


B1 = weigh("B1", "27.3", Source("Mill meadow", ("H1", "H2")), moisture="17.6")
B2 = weigh("B2", "20", Source("Old orchard", ("H7",)), moisture="18.0")
LATE = Drain("B1", date(2026, 7, 17), kg("0.5"), sources=(Source("Mill meadow", ("H2",)),))
MIX = Blend("M1", LATER, (Part("B1", kg("10")), Part("B2", kg("5"))))


def run(work, bucket: str, lot: str, count: int, **more):
    """A run of one-pound jars out of a bucket as it stands."""
    return work.add(
        bottle(
            work.bucket(bucket),
            lot,
            LATER,
            [Filled("one pound", Declared.read("1 lb", "en_US"), count, POUND)],
            locale="en_US",
            **more,
        )
    )


@lru_cache(maxsize=1)
def _begun() -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "season.labelkit"
        open_record(file, create=True).close()
        return file.read_bytes()


def begin(file: Path) -> str:
    """Begin a season in which nothing is said or booked yet; the file's name."""
    file.write_bytes(_begun())
    return str(file)


def book_season(where, *, create: bool = True):
    """Book the whole season, in four steps; the open record."""
    record = open_record(where, create=create)
    salt = partial(next, (f"{n:064x}" for n in count(1)))  # so that the same season gives the same bytes
    with record.work(who="Ada", at=AT, salt=salt) as work:
        work.add(Setting(DAY, "market", ["us"]))
        work.add(
            PriceSet(
                DAY, "one pound", Declared.read("1 lb", "en_US"), Money.of("12.00", "USD"), Money.of("1.35", "USD")
            )
        )
        work.add_all((B1, B2))
        work.commit()
    with record.work(who="Bela", at=AT + timedelta(minutes=5)) as work:
        work.add_all((LATE, MIX))
        work.commit()
    with record.work(who="Ada", at=AT + timedelta(minutes=20)) as work:
        run(work, "M1", LOT, 30, left=kg("1.2"), lost=kg("0.1"))
        run(work, "B1", SISTER, 20)
        work.commit()
    with record.work(who="Ada", at=AT + timedelta(minutes=30), key="market day", salt=salt) as work:
        work.add(Sale(LATER, (line(12), line(3, SISTER)), to="shop", customer="Corner shop"))
        work.add(Sale(LATER, (line(2),), to="stall", place="Saturday market"))
        work.add(Give(LATER, (line(1, price=None),), to="gift"))
        work.add(Return(LATER, (line(2),), reason="lid dented", customer="Corner shop"))
        work.add(Discard(LATER, (line(1),), reason="lid dented"))
        work.commit()
    return record


def run_of(bucket: str, lot: str, count: int, held: str = "27.3") -> Run:
    """A run made up without looking at the bucket, for the guards to judge."""
    jars = (Filled("one pound", Declared.read("1 lb", "en_US"), count, POUND),)
    return Run(lot, LATER, bucket, kg(held), jars, left=kg(held) - count * POUND)
