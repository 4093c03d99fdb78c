"""Jars at hand: what may be sold or taken, what a buyer pays for each size, and which lot a code means."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from labelkit.errors.record import JarsTooFew
from labelkit.lots.code import read_lot_code
from labelkit.lots.movement import Account
from labelkit.measures import Mass, Money
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.sale.load import OnShelf, Wish
from labelkit.sale.tax import Rate, Tax, Taxes, is_tax
from labelkit.season.known_jars import known_of
from labelkit.season.settings import SeasonSettings
from labelkit.season.unmet import held_jars, refuse

if TYPE_CHECKING:
    from datetime import date

    from labelkit.record.reading import Reading
    from labelkit.sale.events import SaleLine


def lot_named(state: Reading, code: str) -> str:
    """The lot a typed code means. Raises :class:`~labelkit.errors.lots.LotCodeWrong` with the nearest codes."""
    return read_lot_code(code, near=state.lot_codes_taken()).code


def on_shelf(state: Reading) -> list[OnShelf]:
    """Jars in stock that may be taken: not those of lots on hold, nor those short by their last check weighing."""
    stock = state.stock(Account.JARS)
    known = known_of(state, {s.lot for s in stock})
    held = {(each.of, each.size) for each in held_jars(known)}
    return [
        OnShelf(s.lot, s.size, s.count, Mass(s.mass.mg // s.count), known.filled_on(s.lot))
        for s in stock
        if s.count > 0 and not held & {(s.lot, ""), (s.lot, s.size)}
    ]


def shelf_for(state: Reading, sizes: Iterable[str], lot: str | None) -> list[OnShelf]:
    """The jars that may be taken, of one lot where it is named; a named lot that may not go is refused by its reason.

    Raises :class:`~labelkit.errors.record.LotHeld` and :class:`~labelkit.errors.trace.LotShort`.
    """
    if lot:
        refuse([each for each in held_jars(known_of(state, [lot])) if each.size in ("", *sizes)])
    return [jar for jar in on_shelf(state) if lot in (None, jar.lot)]


def counted(lines: Iterable[SaleLine]) -> dict[tuple[str, str], int]:
    """How many jars of each lot and size some lines are."""
    found = Counter[tuple[str, str]]()
    for line in lines:
        found[line.lot, line.size] += line.count
    return dict(found)


def check_all_there(state: Reading, wanted: Iterable[Wish], shelf: Iterable[OnShelf], lot: str | None) -> None:
    """Refuse jars that were asked for and may not be taken: they are not left out in silence.

    Raises :class:`~labelkit.errors.record.JarsTooFew`, with how many more there are on hold.
    """
    shelf = list(shelf)
    there = state.stock(Account.JARS, Account.HELD, lots=[lot] if lot else None)
    for wish in wanted:
        have = sum(jar.count for jar in shelf if jar.size == wish.size)
        if have < wish.count:
            held = sum(jar.count for jar in there if jar.size == wish.size) - have
            raise JarsTooFew(lot or "", wish.size, wish.count - have, "in stock", held)


def taxes_of(state: Reading) -> Taxes:
    """How tax stood to the prices, from which day on."""
    said = (each for each in state.events(("set",)) if each.stands and is_tax(each.event.name))
    return Taxes(tuple(Rate.of_setting(each.day, each.event.value) for each in said))


def paid_prices(season: SeasonSettings, channel: str, day: date) -> dict[str, Money]:
    """What a buyer in a channel pays for each size: the list price, with the tax that is added to it."""
    return {
        size: (season.tax(size, channel, day) or Tax()).paid_for(p.price)
        for size, p in season.prices.items()
        if p.is_priced
    }


def customer_facts(state: Reading, customer: str | None) -> dict[str, Any]:
    """What is remembered of a customer: address, telephone, and what they pay for each size."""
    return facts_of(state.settings(), customer)


def facts_of(settings: Mapping[str, Any], customer: str | None) -> dict[str, Any]:
    """The same out of the settings of a record."""
    return dict(settings.get(f"customer {customer}", {})) if customer else {}


def customers_known(settings: Mapping[str, Any]) -> list[str]:
    """The names of all customers of whom something is remembered, in order."""
    return sorted(name.removeprefix("customer ") for name in settings if name.startswith("customer "))


def agreed_prices(facts: Mapping[str, Any], currency: str) -> dict[str, Money]:
    """What a customer pays for each size, as it was remembered."""
    return {size: Money.read(str(text), currency, DEFAULT_LOCALE) for size, text in facts.get("prices", {}).items()}
