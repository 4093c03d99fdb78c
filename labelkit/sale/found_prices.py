"""A set of prices that was found, with everything a producer wants to know before writing it on a card."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labelkit.measures import Mass, Money, show_first
from labelkit.measures.locales import show_percent
from labelkit.sale.cost import Basis, JarCost, jar_cost, selling_cost
from labelkit.sale.pricing import Found, PerBucket, break_even, per_bucket, unsold_worth, wholesale
from labelkit.sale.tax import Tax


@dataclass(frozen=True, slots=True)
class Offer:
    """One size: its price, its costs, and what is left of it."""

    found: Found
    making: JarCost
    selling: JarCost
    tax: Tax

    @property
    def paid(self) -> Money:
        """What the buyer pays."""
        return self.tax.paid_for(self.found.price)

    @property
    def own(self) -> Money:
        """The price once the tax in it is set aside."""
        if self.tax.how != "included":
            return self.found.price
        return self.tax.split(self.found.price)[0]

    @property
    def leaves(self) -> Money:
        """What a jar leaves after everything that is known."""
        return self.own - self.making.whole - self.selling.whole

    @property
    def leaves_percent(self) -> Decimal | None:
        """The same in per cent of the price without tax."""
        return Decimal(self.leaves.minor) * 100 / self.own.minor if self.own.minor else None

    @property
    def complete(self) -> bool:
        """Whether every cost is known; otherwise what it leaves is at most that."""
        return not (self.making.asked or self.selling.asked)

    @property
    def before_stall(self) -> Money:
        """What a jar leaves towards the stall fee."""
        stall = dict(self.selling.items).get("stall", Money(0, self.own.currency))
        return self.leaves + stall

    @property
    def unsold(self) -> Money:
        """What an unsold jar counts for."""
        card = dict(self.selling.items).get("card fee", Money(0, self.own.currency))
        return unsold_worth(self.making.whole, self.own - card)


@dataclass(frozen=True, slots=True)
class Offers:
    """All sizes together."""

    offers: tuple[Offer, ...]
    tax: Tax
    fee: Money | None  # the stall's, a day
    buckets: tuple[PerBucket, ...]
    bucket: Mass | None
    shop: tuple[Found, ...]
    shop_margin: Decimal | None

    @property
    def asked(self) -> tuple[str, ...]:
        """Every question that is still open, once."""
        return tuple(dict.fromkeys(q for o in self.offers for cost in (o.making, o.selling) for q in cost.asked))


def offers(
    found: tuple[Found, ...],
    basis: Basis,
    tax: Tax,
    step: Decimal,
    *,
    bucket: Mass | None = None,
    shop_margin: Decimal | None = None,
) -> Offers:
    """What each price leaves; with ``bucket``, the money in that much honey; with ``shop_margin``, prices to shops."""
    every = tuple(
        Offer(f, jar_cost(f.size.size, f.size.fill, basis), selling_cost(tax.paid_for(f.price), basis.costs), tax)
        for f in found
    )
    fee = basis.costs.market.get("stall_fee")
    fills = {f.size.size: f.size.fill for f in found}
    return Offers(
        every,
        tax,
        Money.rounded(fee, basis.costs.currency) if fee is not None else None,
        per_bucket({o.found.size.size: (o.paid, o.leaves) for o in every}, fills, bucket) if bucket else (),
        bucket,
        wholesale(found, shop_margin, tax, step) if shop_margin is not None else (),
        shop_margin,
    )


def offers_document(every: Offers) -> dict[str, Any]:
    """For programs."""
    return {
        "tax": {"how": every.tax.how, "percent": every.tax.percent},
        "sizes": [_offer(o, every) for o in every.offers],
        "buckets": [
            {
                "size": b.size,
                "jars": b.jars,
                "takings": b.takings.amount,
                "leaves": b.leaves.amount,
                "left_g": b.rest.g,
            }
            for b in every.buckets
        ],
        "ask": list(every.asked),
    }


def _offer(o: Offer, every: Offers) -> dict[str, Any]:
    shop = {f.size.size: f.price.amount for f in every.shop}
    return {
        "size": o.found.size.size,
        "declares": o.found.size.declares.text,
        "wanted": round(o.found.wanted, 4),
        "price": o.found.price.amount,
        "raised_for": o.found.raised_for or None,
        "buyer_pays": o.paid.amount,
        "making": {name: amount.amount for name, amount in o.making.items},
        "making_whole": o.making.whole.amount,
        "selling": {name: amount.amount for name, amount in o.selling.items},
        "leaves": o.leaves.amount,
        "complete": o.complete,
        "break_even_jars": break_even(every.fee, o.before_stall) if every.fee else None,
        "unsold_worth": o.unsold.amount,
        "shop_price": shop.get(o.found.size.size),
    }


def offers_tables(every: Offers, locale: str) -> list[tuple[tuple[str, ...], list[tuple[str, ...]]]]:
    """The same as tables of words, for the terminal and for paper: heads and rows."""
    shop: Mapping[str, Money] = {f.size.size: f.price for f in every.shop}
    rows = []
    for o in every.offers:
        jars = break_even(every.fee, o.before_stall) if every.fee and every.fee.minor else None
        row = [
            o.found.size.size,
            o.found.price.show(locale),
            *(("≥ " if cost.asked else "") + cost.whole.show(locale) for cost in (o.making, o.selling)),
            ("" if o.complete else "≤ ") + o.leaves.show(locale),
            show_percent(o.leaves_percent, locale, digits=0) if o.leaves_percent is not None else "–",
            "–" if jars is None else str(jars),
            o.unsold.show(locale),
        ]
        if shop:
            paid = shop[o.found.size.size]
            row += [paid.show(locale), (paid - o.making.whole).show(locale)]
        rows.append(tuple(row))
    heads = ("size", "price", "to make", "to sell", "leaves", "of price", "pay the stall", "unsold counts")
    tables: list[tuple[tuple[str, ...], list[tuple[str, ...]]]] = [
        ((*heads, "shops pay", "leaves") if shop else heads, rows)
    ]
    if every.buckets and every.bucket:
        bucket: list[tuple[str, ...]] = [
            (b.size, str(b.jars), b.takings.show(locale), b.leaves.show(locale), show_first(b.rest, locale))
            for b in every.buckets
        ]
        tables.append(
            ((f"all of {show_first(every.bucket, locale)} in", "jars", "takings", "leaves", "honey over"), bucket)
        )
    return tables


def cost_lines(every: Offers, locale: str) -> list[tuple[str, ...]]:
    """Cost items down, sizes across; items a size does not have are dashes."""
    names = dict.fromkeys(name for o in every.offers for cost in (o.making, o.selling) for name, _ in cost.items)
    held = [dict((*o.making.items, *o.selling.items)) for o in every.offers]
    return [(name, *(h[name].show(locale) if name in h else "–" for h in held)) for name in names]
