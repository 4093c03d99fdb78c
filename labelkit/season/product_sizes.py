"""Which size of which product jars are: a product may have a price of its own in a jar it shares with other honey."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, TypeVar

from labelkit.errors.sale import SizeNamedTwice
from labelkit.lots.movement import Account
from labelkit.season.settings import settings_of
from labelkit.season.shelf import lot_named

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.record.reading import Reading
    from labelkit.sale.product import Product
    from labelkit.season.settings import SeasonSettings

Value = TypeVar("Value")
#: Where jars of a lot may be, or have gone.
ANYWHERE = (Account.JARS, Account.HELD, Account.STALL, Account.SOLD, Account.GIVEN)


def named_after_honey(season: SeasonSettings, bucket: Bucket) -> Product | None:
    """The one product named after the plant a bucket's honey is of."""
    plants = {plant.casefold() for plant in bucket.plants}
    named = [each for each in season.products.values() if each.name and each.flower and {each.flower} == plants]
    return named[0] if len(named) == 1 and named[0].is_honey else None


def renamed(table: Mapping[str, Value], names: Mapping[str, str]) -> dict[str, Value]:
    """The same table by the sizes its names mean. Raises :class:`~labelkit.errors.sale.SizeNamedTwice`."""
    said: dict[str, str] = {}
    for size in table:
        if (before := said.setdefault(names[size], size)) != size:
            raise SizeNamedTwice(before, size)
    return {names[size]: value for size, value in table.items()}


def meant(
    state: Reading, season: SeasonSettings, table: Mapping[str, Value], lot: str | None, *accounts: Account
) -> dict[str, Value]:
    """The same table by the sizes that are there, of a lot or of all; a jar's name means the only one of them in such a jar.

    Raises :class:`~labelkit.errors.sale.SizeNamedTwice`.
    """
    if not any(price.jar for price in season.prices.values()):
        return dict(table)
    there = {each.size for each in state.stock(*accounts or ANYWHERE, lots=[lot] if lot else None)}
    return renamed(table, {name: season.meant(name, there) for name in table})


def size_in_lot(state: Reading, size: str, lot: str) -> str:
    """The size of a lot that a jar's name means there. Raises :class:`~labelkit.errors.lots.LotCodeWrong`."""
    (found,) = meant(state, settings_of(state), {size: None}, lot_named(state, lot))
    return found
