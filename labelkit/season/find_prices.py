"""Find prices: from what a jar costs, from a price per kilogram, or from what others ask."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from labelkit.errors.run import JarSizeUnknown
from labelkit.errors.sale import NothingPriced, TaxUnclear
from labelkit.lots.movement import Account
from labelkit.lots.received import Receive
from labelkit.measures import Declared, Mass, Money, total
from labelkit.measures.locales import cash_step
from labelkit.sale import PriceSet
from labelkit.sale.cost import Basis
from labelkit.sale.found_prices import Offers, offers
from labelkit.sale.losses import real_losses
from labelkit.sale.pricing import Size, from_margin, from_others, from_per_kg, laddered
from labelkit.sale.season_costs import SeasonCosts
from labelkit.season.settings import fill_of, settings_of

if TYPE_CHECKING:
    from labelkit.lots.season import SeasonFile
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.sale.tax import Tax


@dataclass(frozen=True, slots=True)
class PriceSearch:
    """One of ``margin`` (per cent of the price), ``per_kg`` and ``others``, and what else is asked.

    ``tax`` is as the season remembers it unless said; prices end on ``step``, the smallest coin unless said. ``bucket``
    asks what so much honey brings in each size, ``shop`` for a shop's share of the price in per cent.
    """

    margin: Decimal | None = None
    per_kg: Money | None = None
    others: Mapping[str, Sequence[Money]] = field(default_factory=dict)
    tax: Tax | None = None
    step: Money | None = None
    bucket: Mass | None = None
    shop: Decimal | None = None


@dataclass(frozen=True, slots=True)
class PriceBasis:
    """Jar sizes to price, what making them costs with real losses, and the tax the season remembers."""

    sizes: tuple[Size, ...]
    costs: Basis
    tax: Tax | None = None


def basis_of_record(state: Reading, day: date, costs: SeasonCosts | None = None) -> PriceBasis:
    """The sizes of the record, with the honey that was really lost and given away."""
    season = settings_of(state, day)
    standing = [booked.event for booked in state.events() if booked.stands]
    moves = [move for event in standing for move in event.movements()]
    came_in = total(-move.mass for move in moves if move.account == Account.HIVES)
    bought = [event for event in standing if isinstance(event, Receive)]
    priced = [event for event in bought if event.paid is not None]
    costs = costs or SeasonCosts(season.currency)
    sizes = _sizes(((p.size, p.weight) for p in season.jars(day).values()), season.markets, day)
    basis = Basis(
        costs,
        real_losses(moves),
        came_in,
        bought=total(event.net for event in priced),
        paid=sum((event.paid.amount for event in priced if event.paid), Decimal(0)),
        unpriced=tuple(event.bucket for event in bought if event.paid is None),
    )
    return PriceBasis(sizes, basis, season.taxes.on(day, channel="stall"))


def basis_of_file(file: SeasonFile, day: date, costs: SeasonCosts | None = None) -> PriceBasis:
    """The sizes of a season file, of which no losses are known."""
    came_in = total(found.bucket.holds for found in file.buckets)
    sizes = _sizes(((jar.id, jar.declares) for jar in file.jars), file.markets, day)
    return PriceBasis(sizes, Basis(costs or SeasonCosts(file.currency), real_losses(()), came_in))


def find_prices(basis: PriceBasis, asked: PriceSearch) -> Offers:
    """A price for each size, and what it leaves.

    Raises :class:`~labelkit.errors.sale.TaxUnclear` where nobody said how tax stands, and the refusals of
    :mod:`labelkit.sale.pricing`.
    """
    tax = asked.tax or basis.tax
    if tax is None:
        raise TaxUnclear("")
    currency = basis.costs.costs.currency
    if asked.margin is not None:
        wanted = from_margin(basis.sizes, basis.costs, asked.margin, tax)
    elif asked.per_kg is not None:
        wanted = from_per_kg(basis.sizes, asked.per_kg)
    else:
        known = [size.size for size in basis.sizes]
        for size in asked.others:
            if size not in known:
                raise JarSizeUnknown(size, ", ".join(known))
        wanted = from_others(basis.sizes, asked.others)
    step = asked.step.amount if asked.step else cash_step(currency)
    found = laddered(basis.sizes, wanted, currency, step)
    return offers(found, basis.costs, tax, step, bucket=asked.bucket, shop_margin=asked.shop)


def book_prices(work: Work, found: Offers, day: date) -> None:
    """Set these prices from this day on, and remember how tax stands to them."""
    from labelkit.record.settings import Setting
    from labelkit.sale.tax import Rate

    season = settings_of(work, day)
    known = season.prices
    if season.taxes.on(day, channel="stall") != found.tax:
        work.add(Setting(day, *Rate(day, found.tax).setting))
    for offer in found.offers:
        size, cost, price = offer.found.size, offer.making.whole, offer.found.price
        old = known.get(size.size) or PriceSet(day, size.size, size.declares, price, cost)
        # Where no cost was given, the cost that was booked before stays.
        work.add(
            replace(old, day=day, declares=size.declares, price=price, cost=cost if offer.making.exact else old.cost)
        )


def _sizes(jars: Iterable[tuple[str, Declared]], markets: tuple[str, ...], day: date) -> tuple[Size, ...]:
    sizes = tuple(Size(name, declares, fill_of(declares, markets, day)) for name, declares in jars)
    if not sizes:
        raise NothingPriced()
    return sizes
