"""What the season's commands share: the record on the context, the season's settings, and jars by name."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from labelkit.cli._runner import CommandContext
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.run import JarSizeUnknown

if TYPE_CHECKING:
    from labelkit.measures import Mass
    from labelkit.record.record import Record
    from labelkit.record.work import Work
    from labelkit.sale.events import PriceSet
    from labelkit.trace.booked import Booked

DEFAULT_RECORD = "season.labelkit"


@contextmanager
def season_book(context: CommandContext, *, create: bool = False, to_read: bool = False) -> Iterator[Record]:
    """The record named on the command line, or ``season.labelkit`` in this folder."""
    from labelkit.record import open_record

    with open_record(context.record or DEFAULT_RECORD, create=create, to_read=to_read) as book:
        yield book


@contextmanager
def season_step(
    context: CommandContext, *, create: bool = False, key: str | None = None, at: datetime | None = None
) -> Iterator[Work]:
    """One step of the season in the record; nothing is kept unless it is committed."""
    with season_book(context, create=create) as book, book.work(who=context.who, at=at or context.now, key=key) as work:
        yield work


@dataclass(frozen=True, slots=True)
class Season:
    """What the record says about the season as a whole."""

    markets: tuple[str, ...]
    currency: str
    maker: dict[str, str]
    prices: dict[str, PriceSet]  # the last price of each jar size

    def size(self, name: str) -> PriceSet:
        """A jar size by its name. Raises :class:`~labelkit.errors.run.JarSizeUnknown`."""
        if name not in self.prices:
            raise JarSizeUnknown(name, ", ".join(self.prices) or "none yet")
        return self.prices[name]

    def fill(self, name: str, day: date) -> Mass:
        """The fill target of a jar size in the season's markets."""
        return fill_of(self.size(name).declares, self.markets, day)


def fill_of(declares: str, markets: tuple[str, ...], day: date, uses: Mass | None = None) -> Mass:
    """The fill target of a declared weight: the larger figure any of the markets makes the jar owe, or ``uses``."""
    from labelkit.measures import Mass
    from labelkit.measures.locales import DEFAULT_LOCALE
    from labelkit.rules import market
    from labelkit.rules.figures.net_weight import fill_target

    if not markets:
        own = Mass.read(declares, DEFAULT_LOCALE)
        return max(own, uses) if uses else own
    return fill_target(declares, [market(name, day) for name in markets], uses=uses)


def season_of(book: Any) -> Season:
    """The season's settings and prices as they stand in the record."""
    settings = book.settings()
    prices = {booked.event.size: booked.event for booked in book.events(("price",)) if booked.stands}
    market = settings.get("market", [])
    return Season(
        markets=(market,) if isinstance(market, str) else tuple(market),
        currency=settings.get("currency", "USD"),
        maker=dict(settings.get("maker", {})),
        prices=prices,
    )


def pairs(texts: tuple[str, ...], option: str, example: str) -> list[tuple[str, str]]:
    """``name=value`` options, split. Raises :class:`~labelkit.errors.cli.UsageUnclear`.

    >>> pairs(("one pound=57",), "--jar", "one pound=57")
    [('one pound', '57')]
    """
    found = []
    for text in texts:
        name, equals, value = text.rpartition("=")  # a name may hold the sign, a count or a weight does not
        if not equals or not name.strip() or not value.strip():
            raise UsageUnclear(
                f"“{option} {text}” is not a name and a value; write {option} '{example}'.", "labelkit --help"
            )
        found.append((name.strip(), value.strip()))
    return found


def counts(texts: tuple[str, ...], option: str) -> list[tuple[str, int]]:
    """``size=count`` options, with whole counts above zero.

    >>> counts(("one pound=57",), "--jar")
    [('one pound', 57)]
    """
    found = []
    for name, value in pairs(texts, option, "one pound=57"):
        if not value.isdigit() or int(value) < 1:
            raise UsageUnclear(
                f"“{value}” is not a count of {name} jars; give a whole number above zero.", "labelkit --help"
            )
        found.append((name, int(value)))
    return found


def record_exists(context: CommandContext) -> bool:
    """Whether there is a record to look into. Raises what a server refuses."""
    where = context.record or DEFAULT_RECORD
    if "://" not in where:
        return Path(where).exists()
    from labelkit.errors.record import RecordMissing
    from labelkit.record import open_record

    try:
        with open_record(where, to_read=True):
            return True
    except RecordMissing:
        return False


def booked_once(work: Work, kind: str, same: Callable[[Any], bool] = lambda event: True) -> Booked | None:
    """What an earlier command with this key booked, or nothing where the key is new.

    Raises :class:`~labelkit.errors.record.KeyReused` where the key was spent on something else.
    """
    if not work.booked_before:
        return None
    found = next((booked for booked in work.booked_before if booked.kind == kind), None)
    if found is None or not same(found.event):
        from labelkit.errors.record import KeyReused

        first = work.booked_before[0]
        raise KeyReused(work.key, first.seq, first.day.isoformat())
    return found
