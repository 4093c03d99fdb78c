"""Tax: how it stands to the prices of everything, of a product, in a channel, from a day on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from labelkit.record.settings import Setting
from labelkit.sale.tax import Rate, Tax
from labelkit.season.settings import settings_of
from labelkit.season.shelf import taxes_of

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work


@dataclass(frozen=True, slots=True)
class TaxFrom:
    """A tax as somebody states it: of everything, or of a product, a channel, or both."""

    tax: Tax
    product: str = ""
    channel: str = ""


def set_tax(work: Work, asked: TaxFrom, day: date) -> Rate:
    """State a tax from this day on. What was sold before keeps its own.

    Raises :class:`~labelkit.errors.sale.ProductUnknown`.
    """
    product = settings_of(work, day).product(asked.product).name if asked.product.strip() else ""
    rate = Rate(day, asked.tax, product, " ".join(asked.channel.split()).casefold())
    if not work.booked_before:
        work.add(Setting(day, *rate.setting))
    return rate


def tax_rates(state: Reading) -> tuple[Rate, ...]:
    """Every tax that was stated, those of one thing together, the earliest day first."""
    return tuple(sorted(taxes_of(state).rates, key=lambda rate: (rate.product, rate.channel, rate.since)))
