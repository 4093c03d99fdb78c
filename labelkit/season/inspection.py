"""Inspection: what an inspector of a small packer asks for, for a period and a lot of their choice, read off the record."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from labelkit.errors.run import NothingInPeriod
from labelkit.lots.bucket_life import WARMED, Treated
from labelkit.measures.locales import show_day, show_number, show_percent
from labelkit.run.batch_sheet import BOILING, DAMAGED, ICE, REFRACTOMETER, BatchLine
from labelkit.season.settings import settings_of
from labelkit.season.trace import TraceFrom, trace
from labelkit.season.unmet import moisture_limit
from labelkit.shipped import template_text

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.season.trace import Traced
    from labelkit.trace.booked import Booked

CLEANING = ("room", "kit", "cleaned")


@dataclass(frozen=True, slots=True)
class InspectionAsked:
    """The period from ``since`` to ``until``, both days counted, and the lot to trace: the last one filled, unless named."""

    since: date
    until: date
    lot: str = ""


@dataclass(frozen=True, slots=True)
class Inspection:
    """What the folder holds: the runs and the lines of the batch sheets of the period, the plan's words, one trace."""

    asked: InspectionAsked
    maker: Mapping[str, Any]
    market: str  # the first it sells in
    runs: Sequence[Booked]
    lines: Sequence[Booked]
    warmings: Sequence[Booked]
    figures: Mapping[str, str]
    plan: Mapping[str, Any]
    traced: Traced

    def lines_of(self, *names: str) -> list[Booked]:
        """The entries of some lines of the sheet, in the order they were booked."""
        return [each for each in self.lines if each.event.line in names]


def inspection(state: Reading, asked: InspectionAsked, locale: str) -> Inspection:
    """Gather the folder.

    Raises :class:`~labelkit.errors.run.NothingInPeriod`, and :class:`~labelkit.errors.record.LotUnknown` with the
    nearest names.
    """
    found = [
        each
        for each in state.latest(("run", BatchLine.kind, Treated.kind), since=asked.since)
        if each.stands and each.day <= asked.until
    ]
    found.sort(key=lambda each: (each.day, each.seq))
    runs = [each for each in found if each.kind == "run"]
    if not runs:
        raise NothingInPeriod(show_day(asked.since, locale), show_day(asked.until, locale))
    lines = [each for each in found if isinstance(each.event, BatchLine)]
    warmings = [each for each in found if isinstance(each.event, Treated) and each.event.how == WARMED]
    season = settings_of(state)
    return Inspection(
        asked,
        season.maker,
        season.first_market,
        runs,
        lines,
        warmings,
        _figures(state, runs, lines, warmings, asked.until, locale),
        tomllib.loads(template_text("trace/inspection.toml")),
        trace(state, TraceFrom(asked.lot or runs[-1].event.lot)),
    )


def _figures(
    state: Reading,
    runs: Sequence[Booked],
    lines: Sequence[Booked],
    warmings: Sequence[Booked],
    day: date,
    locale: str,
) -> dict[str, str]:
    """The season's own figures for the places the hazard plan leaves for them."""

    def of(*names: str) -> list[BatchLine]:
        return [each.event for each in lines if each.event.line in names]

    buckets = [state.bucket(name) for name in dict.fromkeys(each.event.bucket for each in runs)]
    waters = [bucket.moisture for bucket in buckets if bucket.moisture is not None and bucket.moisture_is_whole]
    heats = [each.event.hottest_c for each in warmings if each.event.hottest_c is not None]
    strainers, places = of("strainer-before", "strainer-after"), settings_of(state).places(day)
    broken = sum(jars.count for each in runs for jars in each.event.broken)
    counts = {
        "jars_looked_at": sum(line.looked_at or 0 for line in of("jars")),
        "jars_rejected": sum(line.rejected or 0 for line in of("jars")),
        "jars_broken": broken,
        "strainers": len(strainers),
        "strainers_damaged": sum(line.words == DAMAGED for line in strainers),
        "buckets": len(buckets),
        "buckets_measured": len(waters),
        "refractometer_checks": len(of(REFRACTOMETER)),
        "thermometer_checks": len(of(ICE, BOILING)),
        "cleanings": len(of(*CLEANING)),
        "warmings": len(warmings),
    }
    hundredth = Decimal("0.01")
    return {name: str(count) for name, count in counts.items()} | {
        "moisture_limit": show_percent(moisture_limit(places), locale),
        "wettest": show_percent(max(waters).quantize(hundredth), locale) if waters else "no moisture on record",
        "warmest": f"{show_number(max(heats), locale)} °C" if heats else "not on record",
    }
