"""What a person enters about a bucket, understood: one road for the command line, season files and spreadsheets.

An :class:`Entry` holds texts as they were typed; :func:`weigh_in` and :func:`drain` turn it into events or refuse it.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labelkit.errors.lots import WeightMissing
from labelkit.lots.bucket import Drain, Source, WeighIn, check_fits, check_moisture, net_of
from labelkit.measures import Mass, read_volume
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.measures.numerals import read_day, read_number


@dataclass(frozen=True, slots=True)
class Entry:
    """One weighing as typed; every field a text, empty where nothing was said."""

    bucket: str
    net: str = ""
    gross: str = ""
    tare: str = ""
    division: str = ""
    container: str = ""
    moisture: str = ""
    weighed: str = ""
    harvested: str = ""
    sources: tuple[str, ...] = ()
    plant: str = ""


def read_source(text: str) -> Source:
    """A yard and its hives from “Mill meadow: H1, H2”.

    >>> read_source("Mill meadow: H1, H2")
    Source(yard='Mill meadow', hives=('H1', 'H2'))
    """
    yard, _, hives = text.partition(":")
    return Source(yard.strip(), tuple(h.strip() for h in hives.replace(";", ",").split(",") if h.strip()))


def read_moisture(text: str, bucket: str, locale: str = DEFAULT_LOCALE) -> Decimal | None:
    """A moisture in percent, with or without the sign; nothing where nothing was said.

    >>> read_moisture("17.6 %", "B1"), read_moisture("", "B1")
    (Decimal('17.6'), None)
    """
    digits = text.strip().removesuffix("%").strip()
    if not digits:
        return None
    moisture = read_number(digits, locale, text=text)
    check_moisture(bucket, moisture)
    return moisture


def weigh_in(entry: Entry, day: date, locale: str = DEFAULT_LOCALE) -> WeighIn:
    """The weigh-in an entry means; ``day`` where the entry names none.

    >>> weigh_in(Entry("B1", gross="28.4 kg", tare="1.1 kg", sources=("Mill meadow: H1",)), date(2026, 7, 14)).net.kg
    Decimal('27.3')
    """
    net, weighing = _weights(entry, locale)
    container = read_volume(entry.container, locale) if entry.container else None
    check_fits(entry.bucket, net, container)
    weighed = read_day(entry.weighed, locale) if entry.weighed else day
    return WeighIn(
        bucket=entry.bucket,
        day=weighed,
        net=net,
        weighing=weighing,
        harvested=read_day(entry.harvested, locale) if entry.harvested else weighed,
        sources=tuple(read_source(source) for source in entry.sources if source.strip()),
        plant=entry.plant or None,
        moisture=read_moisture(entry.moisture, entry.bucket, locale),
        container_ml=container,
    )


def drain(entry: Entry, day: date, locale: str = DEFAULT_LOCALE, harvested: Collection[date] = ()) -> Drain:
    """The cappings honey an entry adds to its bucket.

    Cappings drain for days; unless the entry says otherwise their honey came off with the bucket's own, where that
    has one harvest day (``harvested`` holds the bucket's).

    >>> added = drain(Entry("B1", net="1.2 kg"), date(2026, 7, 17), harvested=[date(2026, 7, 14)])
    >>> added.net.g, added.harvested
    (Decimal('1200'), datetime.date(2026, 7, 14))
    """
    net, weighing = _weights(entry, locale)
    own = next(iter(harvested)) if len(harvested) == 1 else None
    return Drain(
        bucket=entry.bucket,
        day=read_day(entry.weighed, locale) if entry.weighed else day,
        net=net,
        weighing=weighing,
        harvested=read_day(entry.harvested, locale) if entry.harvested else own,
        sources=tuple(read_source(source) for source in entry.sources if source.strip()),
        moisture=read_moisture(entry.moisture, entry.bucket, locale),
    )


def _weights(entry: Entry, locale: str):
    if not entry.bucket.strip():
        raise WeightMissing("(unnamed)", "the bucket has no name")
    net, gross, tare, division = (
        Mass.read(text, locale) if text else None for text in (entry.net, entry.gross, entry.tare, entry.division)
    )
    return net_of(entry.bucket, net, gross, tare, division)
