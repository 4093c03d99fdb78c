"""Stock: what there is, in buckets, in empty jars and in filled ones; counting it, and what to order."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from labelkit.errors.sale import LotNotNamed, NotGoods, NothingMade, NothingToCount, ReasonMissing
from labelkit.lots.bucket import Bucket
from labelkit.lots.bucket_life import DISCARDED, FED, GIVEN, SKIMMED, SOLD, TakenOut, Treated
from labelkit.lots.code import lot_code
from labelkit.lots.movement import Account
from labelkit.lots.received import CameIn
from labelkit.measures import Mass
from labelkit.run.empties import Empties
from labelkit.sale.events import SaleLine
from labelkit.sale.goods import Made
from labelkit.sale.stock_take import StockTake
from labelkit.season import unmet
from labelkit.season.empties import EmptyJars, empties, kept_as
from labelkit.season.kept_plan import follow
from labelkit.season.known_jars import known_of
from labelkit.season.product_sizes import size_in_lot
from labelkit.season.settings import settings_of
from labelkit.season.shelf import lot_named
from labelkit.season.unmet import against_buckets, held_jars
from labelkit.trace.recall import lines_of

if TYPE_CHECKING:
    from labelkit.measures.period import Period
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work

ON_HOLD, EMPTY, UNMEASURED, WET, SETTLING, READY = "on hold", "emptied", "not measured", "wet", "settling", "ready"
_GONE = {SOLD: "sold", FED: "fed back", GIVEN: "given", DISCARDED: "discarded"}
STATES = (ON_HOLD, EMPTY, UNMEASURED, WET, SETTLING, READY, *_GONE.values())
# Foam and wax rise for a day or two before honey is skimmed or bottled: common practice, no source.
SETTLES = timedelta(days=2)


@dataclass(frozen=True, slots=True)
class BucketAtHand:
    """A bucket, what it holds, and whether its honey may go into jars."""

    id: str
    state: str
    holds: Mass
    moisture: Decimal | None


@dataclass(frozen=True, slots=True)
class FilledJarsAtHand:
    """Jars of one lot and size by where they are, and how many of them have no label yet."""

    lot: str
    size: str
    in_stock: int
    on_hold: int
    at_stall: int
    unlabelled: int


@dataclass(frozen=True, slots=True)
class ToOrder:
    """Empties the plan wants and that are not there."""

    size: str
    jars: int
    lids: int


@dataclass(frozen=True, slots=True)
class Stock:
    """Everything at hand on a day."""

    buckets: tuple[BucketAtHand, ...]
    empty: tuple[EmptyJars, ...]
    filled: tuple[FilledJarsAtHand, ...]
    to_order: tuple[ToOrder, ...]
    day: date


@dataclass(frozen=True, slots=True)
class Counted:
    """What was counted against what the record had; ``event`` where it was booked."""

    size: str
    lot: str | None
    had: int
    found: int
    event: int | None = None


def stock(state: Reading, day: date, period: Period | None = None) -> Stock:
    """What there is, or was on the last evening of a year.

    What to order is asked only now, and of sizes whose empties are kept in the record.
    """
    if period and period.last < day:
        state, day = state.as_of(period.last), period.last
    empty = empties(state)
    buckets = state.buckets()
    states = states_of(state, buckets, day)
    return Stock(
        tuple(BucketAtHand(b.id, states[b.id], b.holds, b.moisture) for b in buckets),
        empty,
        tuple(_filled(state)),
        tuple(_to_order(state, day, empty)) if empty and not period and any(b.holds for b in buckets) else (),
        day,
    )


def states_of(state: Reading, buckets: Sequence[Bucket], day: date) -> dict[str, str]:
    """How each bucket stands: on hold, wet, not measured, settling, ready; or what became of it, once it is empty."""
    against = {each.of: each.kind for each in reversed(against_buckets(state, buckets, day))}
    return {bucket.id: _state(bucket, against.get(bucket.id, ""), day) for bucket in buckets}


def _state(bucket: Bucket, against: str, day: date) -> str:
    if bucket.is_empty:
        last = bucket.history[-1] if bucket.history else None
        return _GONE[last.how] if isinstance(last, TakenOut) else EMPTY
    if against:
        return ON_HOLD if against == unmet.ON_HOLD else WET
    if bucket.moisture is None:
        return UNMEASURED
    settled = settled_on(bucket)
    return SETTLING if settled and day < settled else READY


def settled_on(bucket: Bucket) -> date | None:
    """The day foam and wax have risen: not before it may the bucket be bottled. None where it was skimmed since."""
    came = [n for n, each in enumerate(bucket.history) if isinstance(each, CameIn)]
    if not came or any(isinstance(each, Treated) and each.how == SKIMMED for each in bucket.history[came[-1] :]):
        return None
    came_in: date = bucket.history[came[-1]].day
    return came_in + SETTLES


def _filled(state: Reading) -> Iterable[FilledJarsAtHand]:
    at: dict[tuple[str, str], Counter[Account]] = defaultdict(Counter)
    for each in state.stock():
        at[each.lot, each.size][each.account] += each.count
    known = known_of(state, {lot for lot, _ in at})
    held = {(each.of, each.size) for each in held_jars(known)}
    for (lot, size), counts in sorted(at.items()):
        on_shelf, on_hold, at_stall = (counts[place] for place in (Account.JARS, Account.HELD, Account.STALL))
        if {(lot, ""), (lot, size)} & held:  # they stand where they stood, and may not go out
            on_shelf, on_hold = 0, on_hold + on_shelf
        yield FilledJarsAtHand(lot, size, on_shelf, on_hold, at_stall, known.bare(lot, size))


def _to_order(state: Reading, day: date, empty: Iterable[EmptyJars]) -> Iterable[ToOrder]:
    """What the plan that is followed still fills beyond the empties that are there."""
    season, wanted = settings_of(state), Counter[str]()
    if not season.planned(day):
        return
    kept = {each.size for each in empty}
    for size, planned in follow(state, day, with_empties=False).plan.jars.items():
        wanted[kept_as(season, size, kept)] += planned
    for each in empty:
        jars = max(0, wanted[each.size] - each.jars)
        lids = max(0, wanted[each.size] - each.lids)
        if jars or lids:
            yield ToOrder(each.size, jars, lids)


def buy(work: Work, size: str, jars: int, lids: int, day: date, reason: str = "bought") -> EmptyJars:
    """Book empty jars and lids that came in; what there is of the size then."""
    settings_of(work).size(size)
    if not work.booked_before:
        work.add(Empties(day, size, jars, lids, reason))
    return next(each for each in empties(work) if each.size == size)


def make(work: Work, size: str, pieces: int, day: date) -> str:
    """Book goods that are not honey into stock, made or bought; their lot code.

    Raises :class:`~labelkit.errors.run.JarSizeUnknown` :class:`~labelkit.errors.sale.NotGoods` and
    :class:`~labelkit.errors.sale.NothingMade`.
    """
    product = settings_of(work).sold_in(size)
    if product.is_honey:
        raise NotGoods(size)
    if not pieces:
        raise NothingMade(size)
    if work.booked_before:
        made = {each.event.size: each.event.lot for each in work.booked_before if isinstance(each.event, Made)}
        return made.get(size, "")
    lot = lot_code(day, product.name, work.lot_codes_taken()).code
    work.add(Made(day, lot, size, pieces))
    return lot


def count(state: Reading, size: str, found: int, lot: str | None = None) -> Counted:
    """What a count comes to, without booking it: of filled jars of a lot; where no lot is said of the empty jars that
    are kept, else of the only lot that stands there.

    Raises :class:`~labelkit.errors.sale.LotNotNamed` where jars of several lots stand there, and
    :class:`~labelkit.errors.sale.NothingToCount`.
    """
    settings_of(state).size(size)
    size = size_in_lot(state, size, lot) if lot else size
    lots: Counter[str] = Counter()
    for each in state.stock(Account.JARS, Account.HELD):  # those set apart stand there as well
        if each.size == size:
            lots[each.lot] += each.count
    empty = next((each for each in empties(state) if each.size == size), None)
    if lot is None and (empty or not lots):
        return Counted(size, None, empty.jars if empty else 0, found)
    if lot is None and len(lots) > 1:
        raise LotNotNamed(", ".join(sorted(lots)))
    code = lot_named(state, lot) if lot else next(iter(lots))
    made = [each.event for each in state.events_about([code], ("run", Made.kind)) if each.event.lot == code]
    if not any(jar.size == size for each in made for jar in getattr(each, "jars", (each,))):
        raise NothingToCount(code, size)
    return Counted(size, code, lots.get(code, 0), found)


def book_count(
    work: Work, size: str, found: int, because: str, day: date, lot: str | None = None, lids: int | None = None
) -> Counted:
    """Book a count; jars that are missing count as not found, in a recall too, and not as destroyed.

    ``lids`` are those counted beside empty jars; where nobody counted them there are as many as before, or as jars at
    the first count of all.

    Raises :class:`~labelkit.errors.sale.ReasonMissing` and what :func:`count` refuses.
    """
    if not because.strip():
        raise ReasonMissing("counted")
    if work.booked_before:
        return Counted(size, lot, found, found, work.booked_before[0].seq)
    counted = count(work.as_of(day), size, found, lot)
    more = found - counted.had
    if counted.lot is None:
        return count_empties(work, size, found, because, day, lids)
    if not more:
        return counted
    size = counted.size
    if more > 0:
        taken = StockTake(day, (), (SaleLine(counted.lot, size, more, _fill(work, counted.lot, size, day)),), because)
    else:
        missing, held = _not_there(work, counted.lot, size, -more, day)
        taken = StockTake(day, missing, (), because, held)
    return replace(counted, event=work.add(taken).seq)


def _not_there(work: Work, lot: str, size: str, count: int, day: date) -> tuple[tuple[SaleLine, ...], ...]:
    """Jars that are not there: out of stock, and what is more than that off the held shelf."""
    lines = []
    for shelf in (Account.JARS, Account.HELD):
        there = next((each for each in work.as_of(day).stock(shelf, lots=[lot]) if each.size == size), None)
        gone = min(count, there.count) if there else 0
        lines.append(lines_of(lot, size, gone, there.count, there.mass) if there and gone else ())
        count -= gone
    return tuple(lines)


def count_empties(work: Work, size: str, found: int, because: str, day: date, lids: int | None = None) -> Counted:
    """Book a count of empty jars; ``lids`` as in :func:`book_count`.

    Raises :class:`~labelkit.errors.run.JarSizeUnknown` and :class:`~labelkit.errors.sale.ReasonMissing`.
    """
    settings_of(work).size(size)
    if not because.strip():
        raise ReasonMissing("counted")
    before = next((each for each in empties(work.as_of(day)) if each.size == size), None)
    had = before.jars if before else 0
    more_lids = (0 if before else found) if lids is None else lids - (before.lids if before else 0)
    return Counted(size, None, had, found, work.add(Empties(day, size, found - had, more_lids, because)).seq)


def _fill(work: Work, lot: str, size: str, day: date) -> Mass:
    there = next((each for each in work.as_of(day).stock(lots=[lot]) if each.size == size and each.count), None)
    if there:
        return Mass(there.mass.mg // there.count)
    return settings_of(work).holds(size, day)
