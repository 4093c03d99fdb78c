"""Price: what a jar size declares, sells for and costs; and the list of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.errors.sale import NothingPriced, PriceMissing
from labelkit.measures import Declared, Money
from labelkit.sale import PriceSet
from labelkit.sale.price_words import Priced
from labelkit.sale.selling_rules import duties
from labelkit.season.price_papers import priced_sizes
from labelkit.season.settings import SeasonSettings, fill_of, settings_of
from labelkit.season.shelf import tax_of

if TYPE_CHECKING:
    from labelkit.lots.season import SeasonFile
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.sale.tax import Tax


@dataclass(frozen=True, slots=True)
class SizePrice:
    """A jar size with its price; what is not said stays as it was."""

    size: str
    price: Money | None
    declares: Declared | None = None
    cost: Money | None = None


@dataclass(frozen=True, slots=True)
class PriceList:
    """Every size with its cost, margin and unit price; what the market wants of whoever shows prices, and the tax."""

    every: tuple[Priced, ...]
    season: SeasonSettings
    settings: Mapping[str, Any]
    duties: tuple[str, ...]
    tax: Tax | None


def set_price(work: Work, asked: SizePrice, day: date) -> PriceSet:
    """Set the price of a size from this day on.

    Raises :class:`~labelkit.errors.sale.PriceMissing` for a new size without a weight or any without a price, and what
    the market's rule of the weight refuses.
    """
    season = settings_of(work)
    old = season.prices.get(asked.size)
    declares = asked.declares or (old.declares if old else None)
    if not asked.price or not declares:
        raise PriceMissing(asked.size)
    # A weight that cannot be declared is refused before it is booked, not at every later look at the list.
    fill_of(declares, season.markets, day)
    cost = asked.cost or (old.cost if old else Money(0, season.currency))
    event = PriceSet(day, asked.size, declares, asked.price, cost)
    work.add(event)
    return event


def price_list(state: Reading, day: date) -> PriceList:
    """The list of the record. Raises :class:`~labelkit.errors.sale.NothingPriced`."""
    return _listed(settings_of(state), state.settings(), day)


def price_list_of_file(file: SeasonFile, day: date) -> PriceList:
    """The list of a season file. Raises :class:`~labelkit.errors.sale.NothingPriced`."""
    prices = {jar.id: PriceSet(day, jar.id, jar.declares, jar.price, jar.cost) for jar in file.jars}
    return _listed(SeasonSettings(file.markets, file.currency, file.maker, prices), {}, day)


def _listed(season: SeasonSettings, settings: Mapping[str, Any], day: date) -> PriceList:
    if not season.prices:
        raise NothingPriced()
    said = duties(season.places(day), settings.get("situation", {}), "price")
    return PriceList(priced_sizes(season, day), season, settings, tuple(said), tax_of(settings))
