"""What a person enters about a bucket, understood: one road for the command line, season files and spreadsheets.

An :class:`Entry` holds texts as they were typed; :func:`read_intake` reads them, once.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeVar

from labelkit.errors import Refused
from labelkit.lots.bucket import Source
from labelkit.lots.intake import Intake
from labelkit.measures import Mass, read_volume
from labelkit.measures.numerals import read_day, read_percent

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Entry:
    """One weighing as typed: texts, empty where nothing was said."""

    bucket: str
    net: str = ""
    gross: str = ""
    tare: str = ""
    division: str = ""
    container: str = ""
    moisture: str | Decimal = ""  # a number where a file gives one
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


def read_moisture(given: str | Decimal, locale: str) -> Decimal | None:
    """A moisture in percent, with or without the sign; nothing where nothing was said.

    >>> read_moisture("17.6 %", "en_US"), read_moisture("", "en_US")
    (Decimal('17.6'), None)
    """
    if isinstance(given, Decimal):
        return given
    return read_percent(given, locale) if given.strip(" %") else None


def read_intake(entry: Entry, locale: str) -> Intake:
    """What an entry means, in values.

    >>> read_intake(Entry("B1", gross="28.4 kg", tare="1.1 kg", sources=("Mill meadow: H1",)), "en_US").gross.kg
    Decimal('28.4')
    """
    return Intake(
        entry.bucket,
        _read("net", entry.net, Mass.read, locale),
        _read("gross", entry.gross, Mass.read, locale),
        _read("tare", entry.tare, Mass.read, locale),
        _read("division", entry.division, Mass.read, locale),
        container_ml=_read("container", entry.container, read_volume, locale),
        moisture=_read("moisture", entry.moisture, read_moisture, locale),
        weighed=_read("weighed", entry.weighed, read_day, locale),
        harvested=_read("harvested", entry.harvested, read_day, locale),
        sources=tuple(read_source(source) for source in entry.sources if source.strip()),
        plant=entry.plant,
    )


def _read(field: str, text: Any, reader: Callable[[Any, str], T], locale: str) -> T | None:
    """One field, read; nothing where nothing was said. A refusal learns which field it is about."""
    try:
        return reader(text, locale) if text else None
    except Refused as refusal:
        refusal.field = refusal.field or field
        raise
