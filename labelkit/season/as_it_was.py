"""As it was: which values of an event can be put right, and the event as it really was.

Every kind says again what it said when it was booked; what it never said is refused and not added.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from labelkit.errors import AskedAbout
from labelkit.errors.lots import WeighsMoreAfter
from labelkit.errors.record import CorrectionRefused, CorrectionValueNotFor
from labelkit.lots.bucket import BucketStep, Part, WeighIn, Weighing, check_moisture, net_of
from labelkit.lots.bucket_life import DRIED, SKIMMED, SOLD, STIRRED, WARMED, Measured, TakenOut, Treated
from labelkit.lots.received import CameIn
from labelkit.measures import NOTHING, Mass, Money, show_both
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.run import Filled, Run
from labelkit.run import bottle as close_run
from labelkit.sale.events import Discard, Give, Return, Sale, SaleLine
from labelkit.season.bottle import explained
from labelkit.season.settings import settings_of
from labelkit.season.weigh import with_reason

if TYPE_CHECKING:
    from labelkit.record.work import Work
    from labelkit.trace.booked import Booked

_SCALE = ("net", "gross", "tare")
_HOLDS = {
    Measured: (*_SCALE, "moisture", "day"),
    Run: ("jars", "left", "day"),
    Sale: ("jars", "prices", "customer", "day"),
    Give: ("jars", "customer", "day"),
    Return: ("jars", "prices", "customer", "day"),
    Discard: ("jars", "day"),
}
_TREATED = {
    SKIMMED: ("removed", "left", "day"),
    DRIED: ("left", "moisture", "hottest_c", "hours", "day"),
    WARMED: ("hottest_c", "hours", "day"),
    STIRRED: ("seed", "seed_mass", "day"),
}
# How a person calls the values whose names here are others.
_SAID = {"jars": "jar", "prices": "price", "rate": "price", "hottest_c": "highest", "seed_mass": "seed"}


@dataclass(frozen=True, slots=True)
class Changes:
    """What was really so; what is left out stays as it was booked. Nought jars of a size take the size away.

    ``rate`` is the price of one kg or lb of honey sold in bulk, ``hottest_c`` in °C, ``moisture`` in per cent.
    """

    net: Mass | None = None
    gross: Mass | None = None
    tare: Mass | None = None
    moisture: Decimal | None = None
    jars: Mapping[str, int] | None = None
    left: Mass | None = None
    day: date | None = None
    removed: Mass | None = None
    hottest_c: Decimal | None = None
    hours: Decimal | None = None
    seed: str | None = None
    seed_mass: Mass | None = None
    prices: Mapping[str, Money] | None = None
    rate: Money | None = None
    customer: str | None = None

    @property
    def given(self) -> tuple[str, ...]:
        """The names of what was said."""
        return tuple(name for name in self.__dataclass_fields__ if getattr(self, name) not in (None, {}))


def held_values(event: Any) -> tuple[str, ...]:
    """The names of the values of an event that can be put right; none where it can only be struck."""
    if isinstance(event, CameIn):
        return (*_SCALE, "moisture", "day")
    if isinstance(event, Treated):
        return ("day",) if event.opened else _TREATED[event.how]
    if isinstance(event, TakenOut):
        return (*_SCALE, *(("rate", "customer") if event.how == SOLD else ()), "day")
    return _HOLDS.get(type(event), ())


def booked_values(event: Any) -> Changes:
    """What an event says of them now."""
    lines = getattr(event, "jars" if isinstance(event, Run) else "lines", ())
    weighing = getattr(event, "weighing", None)
    seed = getattr(event, "seed", None)
    known = {
        "net": getattr(event, "net", getattr(event, "mass", None)) if weighing is None else None,
        "gross": weighing and weighing.gross,
        "tare": weighing and weighing.tare,
        "moisture": getattr(event, "moisture", None),
        "jars": {line.size: line.count for line in lines},
        "left": event.after if isinstance(event, Treated) else getattr(event, "left", None),
        "day": event.day,
        "removed": getattr(event, "gone", None),
        "hottest_c": getattr(event, "hottest_c", None),
        "hours": getattr(event, "hours", None),
        "seed": seed and seed.bucket,
        "seed_mass": seed and seed.mass,
        "prices": {line.size: line.price for line in lines if getattr(line, "price", None)},
        "rate": getattr(event, "rate", None),
        "customer": getattr(event, "customer", None),
    }
    return Changes(**{name: known[name] for name in held_values(event)})


def as_it_was(work: Work, wrong: Booked, changes: Changes, because: str) -> Any:
    """The event as it really was.

    Raises :class:`~labelkit.errors.record.CorrectionValueNotFor`, :class:`~labelkit.errors.record.CorrectionRefused` for
    a size it has no jars of, and what its figures alone would be refused for when booked.
    """
    event = wrong.event
    for name in changes.given:
        if name not in held_values(event):
            has = dict.fromkeys(_SAID.get(each, each) for each in held_values(event))
            raise CorrectionValueNotFor(wrong.seq, wrong.event.title, _SAID.get(name, name), tuple(has))
    if isinstance(event, CameIn | BucketStep):
        check_moisture(event.bucket, changes.moisture)
    event = replace(event, day=changes.day or event.day)
    if isinstance(event, CameIn):
        return _weighed(wrong.event, event, changes, because)
    if isinstance(event, Measured):
        net, weighing = _scale(event.bucket, event.net, event.weighing, changes)
        return _moist(replace(event, net=net, weighing=weighing), changes.moisture)
    if isinstance(event, Treated):
        return _treated(work, event, changes)
    if isinstance(event, TakenOut):
        mass, weighing = _scale(event.bucket, event.mass, event.weighing, changes)
        rate, customer = changes.rate or event.rate, changes.customer or event.customer
        return replace(event, mass=mass or event.mass, weighing=weighing, rate=rate, customer=customer)
    if isinstance(event, Run):
        return _filled(work, event, changes, because)
    if isinstance(event, Sale | Give | Return | Discard):
        event = replace(event, lines=_lines(wrong, event.lines, changes))
    if isinstance(event, Sale | Give | Return) and changes.customer:
        return replace(event, customer=changes.customer)
    return event


def _said(now: Any, before: Any) -> Any:
    return before if now is None else now


def _moist(event: Any, moisture: Decimal | None) -> Any:
    """With the moisture it really had: no longer one that was put right after a reading of the refractometer."""
    if moisture is None:
        return event
    return replace(event, moisture=moisture, **{"moisture_read": None} if hasattr(event, "moisture_read") else {})


def _scale(
    bucket: str, net: Mass | None, before: Weighing | None, changes: Changes
) -> tuple[Mass | None, Weighing | None]:
    """The honey alone and the weighing behind it, as they really were."""
    if changes.net is None and changes.gross is None and changes.tare is None:
        return net, before
    gross = changes.gross or (before.gross if before and changes.net is None else None)
    tare = changes.tare or (before.tare if before and changes.net is None else None)
    return net_of(bucket, changes.net, gross, tare, before.division if before else None)


def _weighed(was: CameIn, event: CameIn, changes: Changes, because: str) -> CameIn:
    """A weight that is asked about is let through by the words of the correction."""
    net, weighing = _scale(event.bucket, event.net, event.weighing, changes)
    right: CameIn = _moist(replace(event, net=net or event.net, weighing=weighing), changes.moisture)
    if isinstance(right, WeighIn) and right.harvested == was.day:  # never said apart: the day it was weighed
        right = replace(right, harvested=right.day)
    return with_reason(right, DEFAULT_LOCALE, because)


def _treated(work: Work, step: Treated, changes: Changes) -> Treated:
    """Honey dried to another moisture keeps its solids; more or less seed makes the bucket heavier or lighter by it."""
    after, moisture = step.after, _said(changes.moisture, step.moisture)
    if step.how == DRIED and changes.moisture is not None and step.moisture is not None and not step.after_was_weighed:
        after = after.times((100 - step.moisture) / (100 - changes.moisture))
    seed = step.seed
    if changes.seed is not None or changes.seed_mass is not None:
        name = work.fill(changes.seed) if changes.seed else seed.bucket if seed else step.bucket
        seed = Part(name, changes.seed_mass or (seed.mass if seed else work.bucket(name).holds))
        after += seed.mass - (step.seed.mass if step.seed else NOTHING)
    if changes.removed is not None:
        after = step.held - changes.removed
    right = replace(
        step,
        after=_said(changes.left, after),
        moisture=moisture,
        after_was_weighed=changes.left is not None or (step.after_was_weighed and changes.removed is None),
        hottest_c=_said(changes.hottest_c, step.hottest_c),
        hours=_said(changes.hours, step.hours),
        seed=seed,
    )
    if right.gone < NOTHING or right.after < NOTHING:
        figures = (show_both(right.held, DEFAULT_LOCALE), show_both(right.after, DEFAULT_LOCALE))
        raise WeighsMoreAfter(right.bucket, *figures)
    return right


def _filled(work: Work, run: Run, changes: Changes, because: str) -> Run:
    jars = {filled.size: filled for filled in run.jars}
    season = settings_of(work)
    for size, count in (changes.jars or {}).items():
        known = jars.pop(size, None) or Filled(size, season.size(size).weight, 0, season.fill(size, run.day))
        if count:
            jars[size] = replace(known, count=count)
    left = _said(changes.left, run.left if run.left_was_weighed else None)
    return closed(work, replace(run, jars=tuple(jars.values())), run.held, left, because)


def closed(work: Work, run: Run, held: Mass, left: Mass | None, because: str) -> Run:
    """The run as it would have been closed had the bucket held this, under the code its jars bear.

    Where its balance is asked about, the words of the correction answer; jars that hold more than the bucket did are
    refused all the same, since then another figure is wrong as well.
    """
    bucket = replace(work.bucket(run.bucket), holds=held)
    more: dict[str, Any] = {"broken": run.broken, "samples": run.samples, "left": left, "lost": run.lost}
    more["explained"] = explained(work, bucket)
    try:
        return close_run(bucket, run.lot, run.day, run.jars, because=run.because, **more)
    except AskedAbout:
        if run.accounted > held:
            raise
        return close_run(bucket, run.lot, run.day, run.jars, because=because, **more)


def _lines(wrong: Booked, lines: tuple[SaleLine, ...], changes: Changes) -> tuple[SaleLine, ...]:
    jars, prices = changes.jars or {}, changes.prices or {}
    known = {line.size for line in lines}
    for size in (*jars, *prices):
        if size not in known:
            raise CorrectionRefused(wrong.seq, f"it has no jars of {size}")
    again = (
        replace(line, count=jars.get(line.size, line.count), price=prices.get(line.size, line.price)) for line in lines
    )
    return tuple(line for line in again if line.count)
