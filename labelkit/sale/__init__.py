"""What a jar costs and brings, and where it went."""

from labelkit.sale.cost import JarCost
from labelkit.sale.events import Discard, Give, PriceSet, Return, Sale, SaleLine
from labelkit.sale.price import PriceRow, ladder_faults, unit_price

__all__ = [
    "Discard",
    "Give",
    "JarCost",
    "PriceRow",
    "PriceSet",
    "Return",
    "Sale",
    "SaleLine",
    "ladder_faults",
    "unit_price",
]
