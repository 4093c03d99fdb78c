"""What is sold: the season's own honey, other products of honey beside it, and goods that are not honey.

A product is a table of words in the settings: the season's honey is ``label``, every other is ``product NAME``. Its kind,
words, best-before rule and design stand in it; its sizes are prices that name it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from labelkit.errors.sale import ProductUnknown
from labelkit.measures import months_after

HONEY, WAX = "honey", "wax"
#: Each kind, and what a label file calls it: nothing for goods that are no food, whose labels no food rule speaks of.
KINDS = {
    HONEY: "honey",
    "set": "honey",
    "comb": "comb",
    "chunk": "comb",
    "infused": "infused",
    "blend": "blend",
    WAX: "",
    "candle": "",
    "goods": "",
}
#: Kinds that are poured from a bucket as they are; comb is cut, and what is mixed is mixed by hand.
POURED = (HONEY, "set")
_SETTING = "product "
_RULE = re.compile(r"([1-9]\d{0,2}) months?")


@dataclass(frozen=True, slots=True)
class Product:
    """One product: its name in the record (none: the season's own honey) and its words."""

    name: str = ""
    words: Mapping[str, Any] = field(default_factory=dict)

    @property
    def kind(self) -> str:
        """One of :data:`KINDS`."""
        return self.words.get("kind") or HONEY

    @property
    def is_honey(self) -> bool:
        """Whether it is food made of honey, and not wax, a candle or other goods."""
        return bool(KINDS[self.kind])

    @property
    def is_planned(self) -> bool:
        """Whether the jar plan fills it; the season's own honey always."""
        return not self.name or self.kind in POURED

    @property
    def flower(self) -> str:
        """The plant it is named after, as it is compared; nothing where it names none."""
        return str(self.words.get("floral_source", "")).casefold()

    @property
    def called(self) -> str:
        """What a buyer reads: the name on its label, else its name in the record."""
        return self.words.get("name") or self.name

    def is_retired(self, day: date) -> bool:
        """Whether it is no longer made on this day."""
        since = self.words.get("retired", "")
        return bool(since) and date.fromisoformat(since) <= day


def products_of(settings: Mapping[str, Any]) -> dict[str, Product]:
    """Every product by its name, the season's own honey first.

    >>> list(products_of({"label": {"name": "Honey"}, "product Cut comb": {"kind": "comb"}}))
    ['', 'Cut comb']
    """
    named = {name.removeprefix(_SETTING): words for name, words in settings.items() if name.startswith(_SETTING)}
    return {"": Product("", settings.get("label", {}))} | {name: Product(name, named[name]) for name in named}


def setting_of(product: str) -> str:
    """The name of the setting that holds a product's words."""
    return _SETTING + product if product else "label"


def product_named(products: Mapping[str, Product], name: str) -> Product:
    """A product by its name, or by the name on its label.

    Raises :class:`~labelkit.errors.sale.ProductUnknown`.

    >>> product_named(products_of({"label": {"name": "Meadow Honey"}}), "meadow honey").name
    ''
    """
    wanted = name.strip().casefold()
    for each in products.values():
        if wanted == each.name.casefold():
            return each
    for each in products.values():
        if wanted == each.called.casefold():
            return each
    raise ProductUnknown(name, [each.called for each in products.values() if each.called])


def best_before_on(rule: str, bottled: date | None) -> str:
    """The best-before date a product's rule gives for one day of bottling; a date that was set stays.

    Nothing where the rule counts from a day that is not known.

    >>> best_before_on("24 months", date(2026, 7, 20)), best_before_on("2028-06", None)
    ('2028-07-20', '2028-06')
    """
    counted = _RULE.fullmatch(rule.strip())
    if not counted:
        return rule
    return months_after(bottled, int(counted[1])).isoformat() if bottled else ""
