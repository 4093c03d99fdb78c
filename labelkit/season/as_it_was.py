"""As it was: an event as it really was, of what it said and what is put right.

Every kind says again what it said when it was booked; what it never said is refused and not added.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from labelkit.errors import AskedAbout
from labelkit.errors.lots import WeighsMoreAfter
from labelkit.errors.record import CorrectionRefused, CorrectionValueNotFor
from labelkit.errors.sentence import Figure
from labelkit.lots.bucket import Blend, BucketStep, Part, WeighIn, Weighing, check_blend, check_moisture, net_of
from labelkit.lots.bucket_life import DRIED, Measured, TakenOut, Treated
from labelkit.lots.movement import Account
from labelkit.lots.received import CameIn
from labelkit.measures import NOTHING, Mass, show_both, total
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.run import Filled, Run
from labelkit.run import bottle as close_run
from labelkit.sale.account_events import Delivery, Payment, Refund
from labelkit.sale.events import Discard, Give, Return, Sale, SaleLine
from labelkit.sale.settlement import WAYS, Count, Item, Till, settle
from labelkit.sale.stall_events import StallDay, StallLoad
from labelkit.season.bottle import explained
from labelkit.season.changes import COUNTED, SAID, Changes, held_values, line_names
from labelkit.season.settings import settings_of
from labelkit.season.stall import loaded_day
from labelkit.season.weigh import with_reason

if TYPE_CHECKING:
    from labelkit.record.work import Work
    from labelkit.trace.booked import Booked


def as_it_was(work: Work, wrong: Booked, changes: Changes, because: str) -> Any:
    """The event as it really was.

    Raises :class:`~labelkit.errors.record.CorrectionValueNotFor`, :class:`~labelkit.errors.record.CorrectionRefused` for
    a size it has no jars of, and what its figures alone would be refused for when booked.
    """
    event = wrong.event
    for name in changes.said:
        if name not in held_values(event):
            has = dict.fromkeys(SAID.get(each, each) for each in held_values(event))
            raise CorrectionValueNotFor(wrong.seq, wrong.event.title, SAID.get(name, name), tuple(has))
    if isinstance(event, CameIn | BucketStep):
        check_moisture(event.bucket, changes.moisture)
    event = replace(event, day=changes.day or event.day)
    if isinstance(event, CameIn):
        return _weighed(wrong.event, event, changes, because)
    if isinstance(event, Measured):
        net, weighing = _scale(event.bucket, event.net, event.weighing, changes)
        return _moist(replace(event, net=net, weighing=weighing), changes.moisture)
    if isinstance(event, Treated):
        return _treated(work, wrong, event, changes)
    if isinstance(event, TakenOut):
        mass, weighing = _scale(event.bucket, event.mass, event.weighing, changes)
        rate, customer = changes.rate or event.rate, changes.customer or event.customer
        return replace(event, mass=mass or event.mass, weighing=weighing, rate=rate, customer=customer)
    if isinstance(event, Run):
        return _filled(work, event, changes, because)
    if isinstance(event, Blend):
        return _blended(work, wrong, event, changes)
    if isinstance(event, StallDay):
        return settled_again(work, event, changes)
    if isinstance(event, Sale | Give | Return | Discard | Delivery):
        event = replace(event, lines=_lines(wrong, event.lines, changes))
    if isinstance(event, StallLoad):
        return replace(event, jars=_lines(wrong, event.jars, changes), change=changes.change or event.change)
    if isinstance(event, Payment | Refund):
        event = replace(event, amount=changes.amount or event.amount)
    if isinstance(event, Sale | Give | Return | Payment | Refund) and changes.customer:
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
    return net_of(bucket, changes.net, gross, tare, before.division if before else None, locale=DEFAULT_LOCALE)


def _weighed(was: CameIn, event: CameIn, changes: Changes, because: str) -> CameIn:
    """A weight that is asked about is let through by the words of the correction."""
    net, weighing = _scale(event.bucket, event.net, event.weighing, changes)
    right: CameIn = _moist(replace(event, net=net or event.net, weighing=weighing), changes.moisture)
    if isinstance(right, WeighIn) and right.harvested == was.day:  # never said apart: the day it was weighed
        right = replace(right, harvested=right.day)
    return with_reason(right, DEFAULT_LOCALE, because)


def _treated(work: Work, wrong: Booked, step: Treated, changes: Changes) -> Treated:
    """Honey dried to another moisture keeps its solids; more or less seed makes the bucket heavier or lighter by it."""
    after, moisture = step.after, _said(changes.moisture, step.moisture)
    if step.how == DRIED and changes.moisture is not None and step.moisture is not None and not step.after_was_weighed:
        after = after.times((100 - step.moisture) / (100 - changes.moisture))
    seed = step.seed
    if changes.seed is not None or changes.seed_mass is not None:
        name = work.fill(changes.seed) if changes.seed else seed.bucket if seed else step.bucket
        seed = Part(name, changes.seed_mass or (seed.mass if seed else held_before(work, name, wrong)))
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
        figures = (Figure(show_both, right.held), Figure(show_both, right.after))
        raise WeighsMoreAfter(right.bucket, *figures)
    return right


def _filled(work: Work, run: Run, changes: Changes, because: str) -> Run:
    jars = {filled.size: filled for filled in run.jars}
    season = settings_of(work)
    for name, count in (changes.jars or {}).items():
        size = season.meant(name, jars)
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
    more |= {"explained": explained(work, bucket), "locale": DEFAULT_LOCALE}
    try:
        return close_run(bucket, run.lot, run.day, run.jars, because=run.because, **more)
    except AskedAbout:
        if run.accounted > held:
            raise
        return close_run(bucket, run.lot, run.day, run.jars, because=because, **more)


def _lines(wrong: Booked, lines: tuple[SaleLine, ...], changes: Changes) -> tuple[SaleLine, ...]:
    jars, prices = changes.jars or {}, changes.prices or {}
    names = line_names((line.lot, line.size) for line in lines)
    for name in (*jars, *prices):
        if name not in names.values():
            raise CorrectionRefused(wrong.seq, f"it has no jars of {name}, but of {', '.join(names.values())}")
    again = []
    for line in lines:
        name = names[line.lot, line.size]
        again.append(replace(line, count=jars.get(name, line.count), price=prices.get(name, line.price)))
    right = tuple(line for line in again if line.count)
    if not right:
        raise CorrectionRefused(wrong.seq, "no jar would be left of it; to strike it whole, give the reason alone")
    return right


def _blended(work: Work, wrong: Booked, blend: Blend, changes: Changes) -> Blend:
    parts = {part.bucket: part.mass for part in blend.parts}
    for said, mass in (changes.parts or {}).items():
        name = work.fill(said)
        parts[name] = held_before(work, name, wrong) if mass is None else mass
    right = replace(blend, parts=tuple(Part(name, mass) for name, mass in parts.items() if mass))
    check_blend(right.into, right.parts)
    return right


def held_before(work: Work, bucket: str, wrong: Booked) -> Mass:
    """What a bucket held just before an event; what it holds now where it was weighed in later by the record."""
    earlier = [each for each in work.events_about([bucket]) if each.stands and each.position < wrong.position]
    if not earlier:
        return work.bucket(bucket).holds
    moves = (move for each in earlier for move in each.movements())
    return total(move.mass for move in moves if (move.account, move.lot) == (Account.BUCKET, bucket))


def settled_again(work: Work, day: StallDay, changes: Changes) -> StallDay:
    """The day counted again, of what was loaded by the record as it is now; what came back is again the rest, unless it was counted or jars were missing."""
    load = loaded_day(work, day.day, key=day.key)
    counted: dict[Item, dict[str, int]] = {}
    for item, ways in day.counted().items():
        if ways["missing"] or any(ways[way] for way in WAYS):
            counted[item] = {way: ways[way] for way in (COUNTED if ways["missing"] else WAYS)}
    for way in COUNTED:
        for name, count in (getattr(changes, way) or {}).items():
            counted.setdefault(load.item(name), {})[way] = count
    till = Till(
        _said(changes.cash, day.cash_counted),
        _said(changes.cards, day.cards),
        _said(changes.off, day.rebates),
        day.rounding,
        _said(changes.fee, day.fee),
    )
    return settle(load, {item: Count(**ways) for item, ways in counted.items()}, till)
