"""Batch: the batch sheet of a run as it comes back, line by line; and the offset of a refractometer that was checked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any, TypeVar

from labelkit.errors import Way, unless_said
from labelkit.errors.record import DayLaterThanClock
from labelkit.errors.run import BatchLineEmpty, BreakageOfWhat, InstrumentFarOff
from labelkit.lots.bucket import check_moisture
from labelkit.measures.locales import show_number
from labelkit.record.lookup import find_lot
from labelkit.run.batch_sheet import (
    BOILING,
    BREAKAGE,
    DAMAGED,
    ICE,
    INSTRUMENTS,
    JARS,
    LINES,
    REFRACTOMETER,
    SAMPLE,
    SCALE,
    STRAINER_STATES,
    BatchLine,
    Breakage,
)
from labelkit.run.check_weighing.scale import tolerance_at
from labelkit.season.once import booked_once
from labelkit.season.sell import JarsGone, sell
from labelkit.season.settings import settings_of

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.trace.booked import Booked

Measuring = TypeVar("Measuring", bound=Any)  # an event with a moisture that was read
SCALE_TOLERANCES = "tolerances of the scale"
# A probe for food is good to 1 °C: California Health and Safety Code 114159 (c), read in a public copy; US Food Code
# 4-203.11 from memory.
PROBE = Decimal(1)
# Olive oil shows 71.5 on the Brix scale, which is 27.0 % water in honey: handed down in the trade; see reckon moisture.
OLIVE_OIL = Decimal("27.0")
MELTING_ICE, BOILING_WATER = Decimal(0), Decimal(100)  # °C; water boils lower on a hill
_IN_WORDS = ("room", "kit", "start", "end", "cleaned")
_SHOULD = {ICE: MELTING_ICE, BOILING: BOILING_WATER, REFRACTOMETER: OLIVE_OIL}
_UNITS = {SCALE: "g", REFRACTOMETER: "%", "honey": "°C", "air": "°C", ICE: "°C", BOILING: "°C"}
# Further off than this is asked about: labelkit's own lines, no source.
_FAR = {ICE: Decimal(5), BOILING: Decimal(8), REFRACTOMETER: Decimal(2)}
_FAR_SCALE = Decimal("0.05")  # of the weight on it


@dataclass(frozen=True, slots=True)
class SheetEntry:
    """One line of the sheet as somebody says it: masses in grams, temperatures in °C, water in per cent.

    ``against`` is what an instrument should have shown, its usual reference where nothing is said; ``because`` why a
    figure that is asked about is right.
    """

    line: str
    words: str = ""
    read: Decimal | None = None
    against: Decimal | None = None
    instrument: str = ""
    looked_at: int | None = None
    rejected: int | None = None
    broken: tuple[Breakage, ...] = ()
    until: date | None = None
    because: str = ""


@dataclass(frozen=True, slots=True)
class LineBooked:
    """A line as it was booked, the number of its event, and what to do about it, where it must not pass."""

    line: BatchLine
    event: int
    ways: tuple[Way, ...] = ()


def batch(
    work: Work, lots: Sequence[str], entries: Iterable[SheetEntry], day: date, locale: str
) -> tuple[LineBooked, ...]:
    """Book lines of the batch sheet of some buckets or lots, or of every run of the day where none is named.

    Broken jars of a bucket wait for its run; those of a lot are taken out of stock at once. Raises
    :class:`~labelkit.errors.run.BatchLineEmpty`, :class:`~labelkit.errors.run.BreakageOfWhat`, unless ``because`` says
    why :class:`~labelkit.errors.run.InstrumentFarOff`, and :class:`~labelkit.errors.record.LotUnknown`.
    """
    if booked_once(work, BatchLine.kind):
        return tuple(_line_booked(work, each) for each in work.booked_before if isinstance(each.event, BatchLine))
    if day > work.at.date():
        raise DayLaterThanClock(BatchLine.title, day.isoformat(), work.at.date().isoformat())
    known = tuple(dict.fromkeys(find_lot(work, lot).name for lot in lots))
    return tuple(_booked(work, known, entry, day, locale) for entry in entries)


def _booked(work: Work, lots: tuple[str, ...], entry: SheetEntry, day: date, locale: str) -> LineBooked:
    _check(entry, lots)
    unit, against = _UNITS.get(entry.line, ""), entry.against if entry.against is not None else _SHOULD.get(entry.line)
    season = settings_of(work)
    for each in entry.broken:
        season.size(each.size)
    line = BatchLine(
        day,
        entry.line,
        lots,
        entry.words.strip(),
        entry.read,
        against if entry.line in INSTRUMENTS else None,
        unit if entry.read is not None else "",
        _tolerance(work, entry.line, against, day),
        str(season.division) if entry.line == SCALE else "",
        entry.instrument.strip(),
        entry.looked_at,
        entry.rejected,
        entry.broken,
        entry.until,
        entry.because.strip(),
    )
    _ask_if_far(line, entry.because, locale)
    booked = _line_booked(work, work.add(line))
    for lot in lots:
        gone = Counter({each.size: each.count for each in entry.broken})
        if gone and work.bottled(lot):
            sell(work, JarsGone(lot, dict(gone), "discarded", reason="broken glass, and the jars beside it"), day)
    return booked


def _check(entry: SheetEntry, lots: Sequence[str]) -> None:
    says = LINES[entry.line][1]
    if entry.line == BREAKAGE:
        if len(lots) != 1:
            raise BreakageOfWhat(len(lots))
        if not any(each.count for each in entry.broken):
            raise BatchLineEmpty(says, "the size and how many jars broke")
    if entry.line in _UNITS and entry.read is None:
        raise BatchLineEmpty(says, "what was read")
    if entry.line == SCALE and not entry.against:
        raise BatchLineEmpty(says, "the weight that was put on, and what the scale showed")
    if entry.line in _IN_WORDS and not entry.words.strip():
        raise BatchLineEmpty(says, "it in words")
    if entry.line == SAMPLE and entry.until is None:
        raise BatchLineEmpty(says, "the day")
    if entry.line == JARS and entry.looked_at is None and entry.rejected is None:
        raise BatchLineEmpty(says, "how many")
    if entry.line.startswith("strainer") and entry.words not in STRAINER_STATES:
        raise BatchLineEmpty(says, " or ".join(STRAINER_STATES))


def _tolerance(state: Reading, line: str, against: Decimal | None, day: date) -> Decimal | None:
    """How far off an instrument may be; nothing where nobody says."""
    if line in (ICE, BOILING):
        return PROBE
    if line != SCALE or not against:
        return None
    season = settings_of(state)
    places = [place for place in season.places(day) if place.holds(SCALE_TOLERANCES)]
    # What the scale can weigh in all is not known, so it is held to the class of shop scales.
    return min((tolerance_at(place, "III", season.division.g, against) for place in places), default=None)


def _ask_if_far(line: BatchLine, because: str, locale: str) -> None:
    if line.offset is None or line.against is None or line.read is None:
        return
    far = line.against * _FAR_SCALE if line.line == SCALE else _FAR[line.line]
    if abs(line.offset) > far:
        shown = (f"{show_number(each, locale)} {line.unit}" for each in (line.read, line.against))
        unless_said(because, InstrumentFarOff(LINES[line.line][1], *shown))


def _line_booked(state: Reading, booked: Booked) -> LineBooked:
    """A damaged strainer leads to holding what was filled through it: the runs of that day, of the buckets it names."""
    line: BatchLine = booked.event
    if line.words != DAMAGED:
        return LineBooked(line, booked.seq)
    runs = [each.event for each in state.latest(("run",), since=line.day) if each.stands and each.day == line.day]
    filled = [run.lot for run in runs if not line.lots or {run.lot, run.bucket} & set(line.lots)]
    return LineBooked(line, booked.seq, tuple(Way("hold", lot) for lot in dict.fromkeys((*line.lots, *filled))))


def batch_sheet(state: Reading, day: date, lots: Sequence[str] = ()) -> tuple[Booked, ...]:
    """What stands on the batch sheet of a day: lines of these buckets and lots, and those of every run; all where none is named.

    Raises :class:`~labelkit.errors.record.LotUnknown`.
    """
    named = {find_lot(state, lot).name for lot in lots}
    lines = [each for each in state.events((BatchLine.kind,)) if each.stands and each.day == day]
    return tuple(each for each in lines if not named or not each.event.lots or named & set(each.event.lots))


def waiting_breakages(state: Reading, bucket: str) -> Counter[str]:
    """Jars of a bucket that broke or were thrown away beside broken ones, which no run of it has taken over yet; by size."""
    found = Counter[str]()
    for each in state.events_about([bucket], (BatchLine.kind, "run")):
        if not each.stands:
            continue
        if each.kind == "run" and each.event.bucket == bucket:
            found.clear()
        elif each.kind == BatchLine.kind:
            found.update({one.size: one.count for one in each.event.broken})
    return found


def refractometer_checks(state: Reading) -> tuple[BatchLine, ...]:
    """Every check of a refractometer that stands, the newest first."""
    lines = (each.event for each in state.latest((BatchLine.kind,)) if each.stands)
    return tuple(line for line in lines if line.line == REFRACTOMETER)


def offset_of(checks: Iterable[BatchLine], instrument: str, day: date) -> Decimal:
    """How much too much water a refractometer shows, by its last check up to a day; nought where it was never checked.

    A refractometer without a name is the house's own.
    """
    name = instrument.strip().casefold()
    found = [check for check in checks if check.instrument.casefold() == name and check.day <= day]
    # Of the same day the first is the one booked last; a check booked late is still of its own day.
    last = max(found, key=lambda check: check.day, default=None)
    return last.offset or Decimal(0) if last else Decimal(0)


def put_right(checks: Iterable[BatchLine], event: Measuring, instrument: str = "") -> Measuring:
    """The event with its moisture as the refractometer would show it if it were not off; what it showed is kept beside.

    Raises :class:`~labelkit.errors.lots.MoistureUnlikely`.
    """
    offset = offset_of(checks, instrument, event.day)
    if event.moisture is None or not offset:
        return event
    check_moisture(event.bucket, event.moisture - offset)
    return replace(event, moisture=event.moisture - offset, moisture_read=event.moisture)
