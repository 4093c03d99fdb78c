"""What the record says about the season as a whole: markets, currency, the producer, the jar sizes and their prices."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.errors.run import JarSizeUnknown
from labelkit.measures import NOTHING, Declared, Mass
from labelkit.measures.division import GRAM, TENTH_OZ, Division
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.rules import market
from labelkit.rules.figures.net_weight import fill_target
from labelkit.run.jar_room import JarRoom
from labelkit.sale.balances import usual_days
from labelkit.sale.product import Product, product_named, products_of
from labelkit.sale.tax import NOT_SAID, Rate, Tax, Taxes, is_tax

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.rules.market import Market
    from labelkit.sale.events import PriceSet
    from labelkit.season.context import SeasonContext

DEFAULT_CURRENCY = "USD"


@dataclass(frozen=True, slots=True)
class SeasonSettings:
    """The season's settings and the price of each jar size, as they hold on a day."""

    markets: tuple[str, ...]
    currency: str
    maker: dict[str, str]
    prices: dict[str, PriceSet]
    units: str = "metric"
    scale: str = ""
    language: str = ""  # of its papers, where it was said
    numbers: str = ""  # the locale its people write numbers in
    products: Mapping[str, Product] = field(default_factory=lambda: {"": Product()})
    taxes: Taxes = NOT_SAID

    @property
    def division(self) -> Division:
        """The step of the scale jars are filled on: as it was said, else a gram, or a tenth of an ounce where those are
        the season's units.
        """
        if self.scale:
            return Division.read(self.scale, DEFAULT_LOCALE)
        return TENTH_OZ if self.units.startswith("customary") else GRAM

    @property
    def first_market(self) -> str:
        """The code of the market named first; empty where none was named."""
        return self.markets[0] if self.markets else ""

    def size(self, name: str) -> PriceSet:
        """A jar size by its name. Raises :class:`~labelkit.errors.run.JarSizeUnknown`."""
        if name not in self.prices:
            raise JarSizeUnknown(name, ", ".join(self.prices))
        return self.prices[name]

    def is_of(self, name: str, size: str) -> bool:
        """Whether a name is that of a size, or of one piece of it."""
        return name == size or (name in self.prices and self.prices[name].piece_of == size)

    def own_size(self, jar: str, product: str) -> str | None:
        """The size a product has in a jar at a price of its own, by the jar's name or its own; none where it has none."""
        own = (each for each in self.prices.values() if each.product == product and not each.piece_of)
        return next((each.size for each in own if jar in (each.size, each.jar)), None)

    def jar_of(self, size: str) -> str:
        """The jar a size is filled into: sizes of several products may share one."""
        one = self.size(size)
        return (self.size(one.piece_of) if one.piece_of else one).jar or one.piece_of or size

    def meant(self, name: str, there: Collection[str]) -> str:
        """The size a person means by a jar's name, of those that are there: the only one in such a jar."""
        shared = {size for size in there if size in self.prices and self.prices[size].jar == name}
        return shared.pop() if name not in there and len(shared) == 1 else name

    def product(self, name: str) -> Product:
        """A product by its name. Raises :class:`~labelkit.errors.sale.ProductUnknown`."""
        return product_named(self.products, name)

    def sold_in(self, size: str) -> Product:
        """What is sold in a size."""
        return self.products.get(self.size(size).product) or Product(self.size(size).product)

    def offered(self, day: date) -> dict[str, PriceSet]:
        """The sizes that are still offered on a day: neither they nor their product are retired.

        Single pieces are offered as the size they are of.
        """
        return {
            name: price
            for name, price in self.prices.items()
            if not ((price.retired and price.day <= day) or price.piece_of) and not self.sold_in(name).is_retired(day)
        }

    def priced(self, day: date) -> dict[str, PriceSet]:
        """Of these the ones with a price."""
        return {name: price for name, price in self.offered(day).items() if price.is_priced}

    def jars(self, day: date) -> dict[str, PriceSet]:
        """Of these the ones honey is filled into, to one weight all of them."""
        return {
            name: price
            for name, price in self.offered(day).items()
            if self.sold_in(name).is_honey and not price.by_weight
        }

    def planned(self, day: date) -> dict[str, PriceSet]:
        """Of these the ones the jar plan fills: honey as it is poured from a bucket."""
        return {name: price for name, price in self.jars(day).items() if self.sold_in(name).is_planned}

    def fill(self, name: str, day: date) -> Mass:
        """The fill target of a jar size in the season's markets, or what it takes to its fill line where that is more."""
        return fill_of(self.size(name).weight, self.markets, day, self.size(name).uses)

    def holds(self, name: str, day: date) -> Mass:
        """The honey in one piece of a size: its fill target, and none in goods that are not honey."""
        return self.fill(name, day) if self.sold_in(name).is_honey else NOTHING

    def tax(self, size: str, channel: str, day: date) -> Tax | None:
        """The tax in the price of a size sold in a channel on a day; nothing where nobody said."""
        return self.taxes.on(day, self.sold_in(size).name, channel)

    def room(self, name: str, day: date) -> JarRoom | None:
        """How the jar suits its label, where it was said what it takes."""
        size = self.size(name)
        return JarRoom(name, fill_of(size.weight, self.markets, day), size.uses) if size.uses else None

    def days_to_pay(self, day: date) -> int:
        """Days after a delivery until its payment is late where none were agreed: the first market's law that holds them."""
        name = "days to pay where none are agreed"
        held = (place.value(name).value for place in self.places(day) if place.holds(name))
        return next(held, usual_days(day))

    def places(self, day: date) -> list[Market]:
        """The season's markets, each with its law of the day."""
        return [market(name, day) for name in self.markets]


def settings_of(state: Reading, day: date | None = None) -> SeasonSettings:
    """The season's settings and prices as they hold on a day, or as of the day of the reading."""
    said = state.in_force("set", "name", day)
    settings: dict[str, Any] = {name: each.value for name, each in said.items()}
    prices = state.in_force("price", "size", day)
    markets = settings.get("market", [])
    return SeasonSettings(
        markets=(markets,) if isinstance(markets, str) else tuple(markets),
        currency=settings.get("currency", DEFAULT_CURRENCY),
        maker=dict(settings.get("maker", {})),
        prices=prices,
        units=units_of(settings),
        scale=settings.get("scale", ""),
        language=settings.get("language", ""),
        numbers=settings.get("numbers", ""),
        products=products_of(settings),
        taxes=Taxes(tuple(Rate.of_setting(each.day, each.value) for name, each in said.items() if is_tax(name))),
    )


def units_of(settings: Mapping[str, Any]) -> str:
    """Which weights come first, and whether the other stands beside: as it was said, else as in the first market.

    >>> units_of({"market": ["us-va"]}), units_of({"market": ["uk"]}), units_of({"units": "metric-only"})
    ('customary', 'metric', 'metric-only')
    """
    markets = settings.get("market") or [""]
    first = markets if isinstance(markets, str) else markets[0]
    return settings.get("units") or ("customary" if first.split("-")[0] == "us" else "metric")


def currency_of(context: SeasonContext | None) -> str:
    """The currency of the season, US dollars where no record says."""
    if context is None or not context.has_record():
        return DEFAULT_CURRENCY
    with context.reading() as state:
        return settings_of(state).currency


def season_of(context: SeasonContext) -> SeasonSettings:
    """The settings of a context's record. Raises what refuses a record."""
    with context.reading() as state:
        return settings_of(state)


def fill_of(declares: Declared, markets: Sequence[str], day: date, uses: Mass | None = None) -> Mass:
    """The fill target of a declared weight: the larger figure any of the markets makes the jar owe, or ``uses``."""
    if not markets:
        return max(declares.mass, uses) if uses else declares.mass
    return fill_target(declares, [market(name, day) for name in markets], uses=uses)
