"""What the stall commands share: the loaded day, and the market days so far."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from labelkit.cli._runner import CommandContext
from labelkit.errors.sale import NothingLoaded, PlaceMissing

if TYPE_CHECKING:
    from labelkit.sale.load import OnShelf
    from labelkit.sale.settlement import Loaded
    from labelkit.sale.stall_events import StallDay, StallLoad


def loads(book: Any) -> list[StallLoad]:
    """Every load that stands."""
    return [booked.event for booked in book.events(("load",)) if booked.stands]


def market_days(book: Any) -> list[StallDay]:
    """Every market day that was settled and stands."""
    return [booked.event for booked in book.events(("unload",)) if booked.stands]


def the_place(book: Any, context: CommandContext, place: str | None) -> str:
    """The place of the day: as said, or the only one something was loaded for that day."""
    if place:
        return place
    today = sorted({load.place for load in loads(book) if load.day == context.day})
    if len(today) == 1:
        return today[0]
    known = sorted({load.place for load in loads(book)})
    raise PlaceMissing(", ".join(today or known) or "none yet")


def loaded_day(book: Any, context: CommandContext, place: str | None = None, key: str | None = None) -> Loaded:
    """What was loaded for the day, without the jars that were put on hold since."""
    from labelkit.sale.settlement import loaded
    from labelkit.sale.stall_events import day_key

    wanted = key or day_key(context.day, the_place(book, context, place))
    every = loads(book)
    mine = [load for load in every if load.key == wanted]
    if not mine:
        raise NothingLoaded(wanted)
    held: Counter = Counter()
    for booked in book.events(("hold",)):
        if booked.stands and booked.day >= mine[0].day:
            for line in booked.event.at_stall:
                held[line.lot, line.size] += line.count
    return loaded(every, wanted, held)


def shelf(book: Any) -> list[OnShelf]:
    """Jars in stock that may be taken: not those of lots on hold."""
    from labelkit.lots.movement import Account
    from labelkit.measures import Mass
    from labelkit.sale.load import OnShelf

    held, stock = book.holds(), book.stock(Account.JARS)
    runs = book.events_about({s.lot for s in stock}, ("run",))
    first = {booked.event.lot: booked.day.isoformat() for booked in runs}
    return [
        OnShelf(s.lot, s.size, s.count, Mass(s.mass.mg // s.count), first.get(s.lot, ""))
        for s in stock
        if s.count > 0 and s.lot not in held
    ]
