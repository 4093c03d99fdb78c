"""Price: what a jar size declares, sells for and costs; and the list of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from labelkit.errors.sale import CustomerUnknown, NothingPriced, PriceMissing, SizeOfAnother
from labelkit.measures import Declared, Mass, Money
from labelkit.run.jar_room import USUAL_MOISTURE, JarRoom, to_the_line
from labelkit.sale import PriceSet
from labelkit.sale.price_words import Priced
from labelkit.sale.selling_rules import duties
from labelkit.season.price_papers import priced_sizes
from labelkit.season.settings import SeasonSettings, fill_of, settings_of
from labelkit.season.shelf import agreed_prices, customers_known, facts_of

#: The channels a list is for, as tax is said of them: whoever stops at the stall, and a shop.
STALL, SHOP = "stall", "shop"

if TYPE_CHECKING:
    from labelkit.lots.season import SeasonFile
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.sale.product import Product
    from labelkit.sale.tax import Tax


@dataclass(frozen=True, slots=True)
class SizePrice:
    """A jar size with its price; what is not said stays as it was.

    ``uses`` is what a jar takes to its fill line; in its place ``brimful_ml``, of which ``headspace`` per cent stay free.
    ``product`` names what is sold in it; ``retire`` takes it out of lists and plans. ``by_weight``: each piece has a weight
    of its own, and the price is of ``declares``. ``price_later`` keeps a size that has no price yet: it can be planned,
    filled and labelled, and is neither listed nor sold.
    """

    size: str
    price: Money | None
    declares: Declared | None = None
    cost: Money | None = None
    uses: Mass | None = None
    brimful_ml: Decimal | None = None
    headspace: Decimal | None = None
    product: str = ""
    retire: bool = False
    by_weight: bool = False
    price_later: bool = False


@dataclass(frozen=True, slots=True)
class PriceList:
    """Every size with its cost, margin and unit price; what the market wants of whoever shows prices, and the tax."""

    every: tuple[Priced, ...]
    season: SeasonSettings
    settings: Mapping[str, Any]
    duties: tuple[str, ...]
    taxes: Mapping[str, Tax]  # in the price of each size at the stall, where any is
    rooms: tuple[JarRoom, ...] = ()
    channel: str = STALL

    def misfits(self, locale: str) -> list[str]:
        """Jars that would not look full at their label, or not hold it, with the figures."""
        return [words for room in self.rooms if (words := room.words(locale))]


def set_price(work: Work, asked: SizePrice, day: date) -> PriceSet:
    """Set the price of a size from this day on, or retire it.

    Raises :class:`~labelkit.errors.sale.PriceMissing` for a new size without a weight (goods that are not honey need none)
    or any without a price above nothing, :class:`~labelkit.errors.sale.ProductUnknown`,
    :class:`~labelkit.errors.sale.SizeOfAnother`, and what the market's rule of the weight refuses.
    """
    season = settings_of(work, day)
    product = season.product(asked.product) if asked.product or asked.size not in season.prices else None
    size, jar = _named(season, asked.size, product)
    product, known = product or season.sold_in(size), season.prices.get(size)
    old = known or (season.prices.get(jar) if product.is_honey else None)
    declares = asked.declares or (old.declares if old else None)
    price = asked.price or (known.price if known and (asked.retire or asked.price_later) else None)
    if price is None and asked.price_later:
        price = Money(0, season.currency)
    if not price or (asked.price and not asked.price.minor) or not (declares or not product.is_honey):
        raise PriceMissing(size)
    by_weight = asked.by_weight or bool(old and old.by_weight)
    if declares and not by_weight:
        # A weight that cannot be declared is refused before it is booked, not at every later look at the list.
        fill_of(declares, season.markets, day)
    cost = asked.cost or (old.cost if old else Money(0, season.currency))
    room = _room(work, asked, old)
    event = PriceSet(day, size, declares, price, cost, *room, product.name, asked.retire, by_weight, jar=jar)
    work.add(event)
    return event


def _named(season: SeasonSettings, size: str, product: Product | None) -> tuple[str, str]:
    """The size's name, and the jar it shares: a product with a price of its own in another's jar is named before it."""
    own = season.own_size(size, product.name) if product else size
    if own is None and product and size in season.prices:
        own, jar = f"{product.name or product.called or 'honey'} {size}", season.jar_of(size)
        if own in season.prices:
            raise SizeOfAnother(own, season.sold_in(own).called, product.called)
        return own, jar
    return own or size, season.prices[own].jar if own in season.prices else ""


def _room(work: Work, asked: SizePrice, old: PriceSet | None) -> tuple[Mass | None, Decimal | None, Decimal | None]:
    """What a jar takes to its fill line, and the volume that was reckoned from: as said now, else as before."""
    if asked.uses:
        return asked.uses, None, None
    headspace = asked.headspace if asked.headspace is not None else old.headspace if old else None
    brimful = asked.brimful_ml or (old.brimful_ml if old and asked.headspace is not None else None)
    if brimful is None:
        return (old.uses, old.brimful_ml, old.headspace) if old else (None, None, None)
    known = [bucket.moisture for bucket in work.buckets(full=True) if bucket.moisture is not None]
    return to_the_line(brimful, min(known, default=USUAL_MOISTURE), headspace), brimful, headspace


def price_list(state: Reading, day: date, product: str = "", *, may_be_empty: bool = False) -> PriceList:
    """The list of the record: every size that is offered, or those of one product that has a name.

    Raises :class:`~labelkit.errors.sale.NothingPriced` unless it ``may_be_empty``: after the last size was retired.
    """
    season = settings_of(state, day)
    named = next((name for name in season.products if name and name.casefold() == product.strip().casefold()), "")
    offered = {size: price for size, price in season.priced(day).items() if not named or price.product == named}
    if not offered and not may_be_empty:
        raise NothingPriced()
    return _listed(season, state.settings(day), day, offered)


def list_for(found: PriceList, customer: str, day: date) -> PriceList:
    """A list as a customer gets it: what was agreed with them, at their prices; all of it where nothing was agreed.

    Raises :class:`~labelkit.errors.sale.CustomerUnknown`.
    """
    facts = facts_of(found.settings, customer)
    if not facts:
        raise CustomerUnknown(customer, ", ".join(customers_known(found.settings)))
    agreed = agreed_prices(facts, found.season.currency)
    theirs = {
        one.row.size: replace(found.season.size(one.row.size), price=agreed[one.row.size])
        for one in found.every
        if one.row.size in agreed
    }
    if not theirs:
        return found
    season = replace(found.season, prices={**found.season.prices, **theirs})
    return _listed(season, found.settings, day, theirs, SHOP)


def price_list_of_file(file: SeasonFile, day: date) -> PriceList:
    """The list of a season file. Raises :class:`~labelkit.errors.sale.NothingPriced`."""
    prices = {jar.id: PriceSet(day, jar.id, jar.declares, jar.price, jar.cost, jar.uses) for jar in file.jars}
    if not prices:
        raise NothingPriced()
    return _listed(SeasonSettings(file.markets, file.currency, file.maker, prices), {}, day, prices)


def _listed(
    season: SeasonSettings,
    settings: Mapping[str, Any],
    day: date,
    offered: Mapping[str, PriceSet],
    channel: str = STALL,
) -> PriceList:
    weights = {price.declares.grams for price in offered.values() if price.declares}
    situation = settings.get("situation", {})
    facts = [{**situation, "declared": weight} for weight in sorted(weights)] or [situation]
    said = dict.fromkeys(line for each in facts for line in duties(season.places(day), each, "price"))
    taxes = {name: tax for name in offered if (tax := season.tax(name, channel, day))}
    rooms = tuple(room for name in offered if (room := season.room(name, day)))
    return PriceList(priced_sizes(season, day, offered), season, settings, tuple(said), taxes, rooms, channel)
