"""A day at the stall: what to take, what was loaded, settling it in the evening, and its papers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TYPE_CHECKING

from labelkit.errors.sale import (
    AlreadyLoaded,
    CashFloatMissing,
    DayAlreadySettled,
    NothingLoaded,
    NothingToAddTo,
    PlaceMissing,
)
from labelkit.lots.movement import Account
from labelkit.measures import Money
from labelkit.sale.load import Wish, cash_float, into_crates, load_lines, sold_before, wishes
from labelkit.sale.price_words import Priced
from labelkit.sale.settlement import Count, DayFile, Item, Loaded, Till, loaded, settle
from labelkit.sale.stall_events import StallDay, StallLoad, day_key
from labelkit.season.once import booked_once
from labelkit.season.price_papers import price_cards, priced_sizes
from labelkit.season.product_sizes import meant
from labelkit.season.settings import settings_of
from labelkit.season.shelf import check_all_there, counted, paid_prices, shelf_for
from labelkit.season.unmet import Unmet, against_jars, refuse

if TYPE_CHECKING:
    from labelkit.measures.wording import Wording
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.season.settings import SeasonSettings

WAYS = ("sold", "given", "tasted", "broken", "back")


@dataclass(frozen=True, slots=True)
class Loading:
    """What somebody wants to take: the jars named, or what sold there before; ``change`` is the cash float.

    ``more`` says that these jars go to the same day besides those loaded before, ``because`` why jars that are asked
    about may go.
    """

    place: str = ""
    jars: Mapping[str, int] = field(default_factory=dict)
    lot: str | None = None
    crates: int | None = None
    per_crate: Mapping[str, int] = field(default_factory=dict)
    change: Money | None = None
    more: bool = False
    because: str = ""


@dataclass(frozen=True, slots=True)
class LoadPlan:
    """A load, why so many of each size, whether it is booked, and what stands against taking it."""

    load: StallLoad
    because: Mapping[str, str]
    booked: bool = False
    unmet: tuple[Unmet, ...] = ()

    @property
    def worth(self) -> Money:
        """What all its jars bring at these prices."""
        sums = [line.count * line.price for line in self.load.jars if line.price]
        return sum(sums[1:], sums[0])


@dataclass(frozen=True, slots=True)
class DaySettled:
    """A stall day as it was settled; ``before`` is the event that had settled the very same before."""

    day: StallDay
    before: int | None = None


def loads(state: Reading) -> list[StallLoad]:
    """Every load that stands."""
    return [booked.event for booked in state.events(("load",)) if booked.stands]


def stall_days(state: Reading) -> list[StallDay]:
    """Every stall day that was settled and stands."""
    return [booked.event for booked in state.events(("unload",)) if booked.stands]


def plan_load(state: Reading, asked: Loading, day: date) -> LoadPlan:
    """What to take; nothing is booked.

    Raises :class:`~labelkit.errors.sale.PlaceMissing`, :class:`~labelkit.errors.record.JarsTooFew`,
    :class:`~labelkit.errors.sale.NothingToTake`.
    """
    season, days = settings_of(state, day), stall_days(state)
    place = asked.place or (_only_place(state, day) if days else "")
    if not place:
        raise PlaceMissing("none yet")
    asked = replace(asked, jars=meant(state, season, asked.jars or {}, asked.lot, Account.JARS))
    prices = paid_prices(season, "stall", day)
    shelf = [jar for jar in shelf_for(state, asked.jars, asked.lot) if jar.size in prices]
    if asked.jars:
        wanted = tuple(Wish(season.size(size).size, count, "as you said") for size, count in asked.jars.items())
    else:
        wanted = wishes(shelf, sold_before(days, place, day))
    if asked.crates:
        wanted = into_crates(wanted, asked.per_crate, asked.crates, prices)
    check_all_there(state, wanted, shelf, asked.lot)
    lines = load_lines(shelf, wanted, prices)
    change = asked.change or (None if asked.more else cash_float(line.price for line in lines if line.price))
    proposed = StallLoad(day, place, lines, change, asked.because.strip())
    unmet = against_jars(state, counted(lines), day)
    return LoadPlan(proposed, {wish.size: wish.because for wish in wanted}, unmet=unmet)


def load(work: Work, asked: Loading, day: date) -> LoadPlan:
    """Book what is in the car.

    Raises what :func:`plan_load` refuses, :class:`~labelkit.errors.sale.AlreadyLoaded`,
    :class:`~labelkit.errors.sale.CashFloatMissing` and what stands against the jars (:mod:`labelkit.season.unmet`).
    """
    if before := booked_once(work, "load"):
        return LoadPlan(before.event, {}, True)
    plan = plan_load(work, asked, day)
    earlier = next((b for b in work.events(("load",)) if b.stands and b.event.key == plan.load.key), None)
    if earlier is not None and not asked.more:
        raise AlreadyLoaded(plan.load.key, earlier.seq, sum(line.count for line in earlier.event.jars))
    if earlier is None and asked.more:
        raise NothingToAddTo(plan.load.key)
    if asked.change is None and earlier is None:
        raise CashFloatMissing(str(plan.load.change.amount) if plan.load.change else "0")
    refuse(plan.unmet, asked.because)
    work.add(plan.load)
    return LoadPlan(plan.load, plan.because, True)


def _only_place(state: Reading, day: date) -> str:
    """The only place something was loaded for that day. Raises :class:`~labelkit.errors.sale.PlaceMissing`."""
    every = loads(state)
    today = sorted({each.place for each in every if each.day == day})
    if len(today) == 1:
        return today[0]
    known = sorted({each.place for each in every})
    raise PlaceMissing(", ".join(today or known) or "none yet")


def loaded_day(state: Reading, day: date, place: str | None = None, key: str | None = None) -> Loaded:
    """What was loaded for the day, without the jars that were put on hold since.

    Raises :class:`~labelkit.errors.sale.NothingLoaded`.
    """
    wanted = key or day_key(day, place or _only_place(state, day))
    every = loads(state)
    mine = [each for each in every if each.key == wanted]
    if not mine:
        raise NothingLoaded(wanted)
    held: Counter[tuple[str, str]] = Counter()
    for booked in state.events(("hold",)):
        if booked.stands and booked.day >= mine[0].day:
            for line in booked.event.at_stall:
                held[line.lot, line.size] += line.count
    return loaded(every, wanted, held)


def settle_counted(work: Work, load: Loaded, counts: Mapping[str, Mapping[str, int]], till: Till) -> DaySettled:
    """Close a day by what was counted: for each way, jars by ``SIZE`` or ``SIZE@LOT``.

    Raises :class:`~labelkit.errors.sale.LotNotNamed` where a size of two lots is counted without its lot.
    """
    season = settings_of(work)
    found: dict[Item, dict[str, int]] = {}
    for way, jars in counts.items():
        for name, count in jars.items():
            had = found.setdefault(_item(season, load, name), {})
            had[way] = had.get(way, 0) + count
    return _settled(work, settle(load, {item: Count(**had) for item, had in found.items()}, till))


def _item(season: SeasonSettings, load: Loaded, name: str) -> Item:
    size, at, lot = name.partition("@")
    there = {line.size for line in load.lines if lot.strip() in ("", line.lot)}
    return load.item(season.meant(size.strip(), there) + at + lot)


def settle_file(work: Work, file: DayFile, day: date) -> DaySettled:
    """Close a day by the file, or the code, its page gave back."""
    return _settled(work, settle(loaded_day(work, day, key=file.key), file.counted, file.till))


def _settled(work: Work, settled: StallDay) -> DaySettled:
    before = next((b for b in work.events(("unload",)) if b.stands and b.event.key == settled.key), None)
    if before is not None and before.event != settled:
        raise DayAlreadySettled(settled.key, before.seq)
    if before is None:
        work.add(settled)
    return DaySettled(settled, before.seq if before else None)


def paper_cards(
    state: Reading, load: Loaded, words: Wording, locale: str, *, product: str = "", page: str | None = None
) -> tuple[bytes, tuple[Priced, ...]]:
    """Price cards for the jars that are loaded, as PDF, and the prices on them."""
    season = settings_of(state)
    every = priced_sizes(season, load.day, (line.size for line in load.lines))
    made = price_cards(every, season, words, locale, load.day, product=product, page=page)
    return made, every
