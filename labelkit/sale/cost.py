"""What one jar costs: jar, lid, label, honey, work, what was lost and given away, and what selling it takes.

Everything is reckoned exactly and rounded once, at the end; the items are then made to add up to that figure. What
nobody has said yet is asked for and left out, and the cost says that it is not whole.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal

from labelkit.measures import NOTHING, Mass, Money
from labelkit.measures.rounding import HALF_UP
from labelkit.sale.apportion import apportion
from labelkit.sale.losses import NO_LOSSES, Losses
from labelkit.sale.season_costs import ASKS, PARTS, SeasonCosts

HUNDRED = Decimal(100)


@dataclass(frozen=True, slots=True)
class JarCost:
    """What one jar costs, item by item; what is not known stands under ``asked`` as questions."""

    items: tuple[tuple[str, Money], ...]
    asked: tuple[str, ...] = ()
    exact: Decimal = Decimal(0)  # the sum before it was rounded

    @property
    def whole(self) -> Money:
        """All items together."""
        whole = self.items[0][1]
        for _, amount in self.items[1:]:
            whole = whole + amount
        return whole


@dataclass(frozen=True, slots=True)
class Basis:
    """What the cost of every jar rests on: the costs, the real losses, and how much honey the season brought.

    ``came_in`` is off the hives; ``bought`` and ``paid`` are of the bought-in honey whose price is known, ``unpriced``
    the buckets of which it is not.
    """

    costs: SeasonCosts
    losses: Losses = NO_LOSSES
    came_in: Mass = NOTHING
    bought: Mass = NOTHING
    paid: Decimal = Decimal(0)
    unpriced: tuple[str, ...] = ()

    @property
    def honey_per_kg(self) -> Decimal | None:
        """What a kilogram costs: own and bought-in honey together, by mass; None where that is not known.

        >>> from labelkit.sale.season_costs import SeasonCosts
        >>> own = SeasonCosts("USD", per_kg=Decimal(8))
        >>> Basis(own, came_in=Mass.of_grams(30_000), bought=Mass.of_grams(10_000), paid=Decimal(60)).honey_per_kg
        Decimal('7.5')
        """
        own = self._own_per_kg
        if not self.bought:
            return own
        if not self.came_in:
            return self.paid / self.bought.kg
        return None if own is None else (own * self.came_in.kg + self.paid) / (self.came_in + self.bought).kg

    @property
    def _own_per_kg(self) -> Decimal | None:
        """Own honey's worth: as stated, or the season's known costs over what came in; None where neither is known."""
        if self.costs.per_kg is not None:
            return self.costs.per_kg
        known = any(amount is not None for amount in self.costs.season.values())
        return self.costs.season_known / self.came_in.kg if known and self.came_in else None

    @property
    def honey_asked(self) -> tuple[str, ...]:
        """What is still to be asked about the honey itself."""
        asked = tuple(f"What did you pay for the bought-in honey of bucket {bucket}?" for bucket in self.unpriced)
        return asked if self.bought and not self.came_in else (*asked, *self._own_asked)

    @property
    def _own_asked(self) -> tuple[str, ...]:
        if self.costs.per_kg is not None:
            return ()
        if all(amount is None for amount in self.costs.season.values()):
            return (ASKS["per_kg"],)
        if not self.came_in:
            return ("How much honey came in this season? The record has none weighed in yet.",)
        return tuple(
            ASKS.get(name, f"What did “{name}” cost?") for name, amount in self.costs.season.items() if amount is None
        )


def jar_cost(size: str, fill: Mass, basis: Basis) -> JarCost:
    """What a jar of this size costs to make; what selling it takes stands in :func:`selling_cost`.

    Honey lost on the way and given away is carried by the jars that are sold, at the shares the real runs show.

    >>> from labelkit.reading.costs_file import read_season_costs
    >>> costs = read_season_costs('''
    ... currency = "USD"
    ... honey = { per_kg = "9" }
    ... labour = { rate = "18" }
    ... helper = { share = "0" }
    ... [[jar]]
    ... size = "one pound"
    ... jar = "0.62"
    ... lid = "0.11"
    ... label = "0.034"
    ... seal = "0"
    ... carton = "4.20"
    ... carton_holds = "12"
    ... minutes = "1.5"
    ... ''', "costs.toml", "en_US")
    >>> cost = jar_cost("one pound", Mass.read("1 lb", "en_US"), Basis(costs))
    >>> cost.whole.amount, cost.asked
    (Decimal('5.65'), ())
    """
    reckoned = _Reckoned()
    _materials(reckoned, basis.costs.jars.get(size, {}))
    _honey(reckoned, fill, basis)
    _labour(reckoned, basis.costs, size)
    _given(reckoned, basis.losses)
    return reckoned.cost(basis.costs.currency)


def selling_cost(price: Money, costs: SeasonCosts) -> JarCost:
    """What it takes to sell a jar at this price: its part of the stall fee, and of what the card machine keeps.

    >>> market = {"stall_fee": Decimal(35), "jars_a_day": Decimal(40), "card_percent": Decimal("1.75"),
    ...           "card_fixed": Decimal("0.10"), "card_share": Decimal(60), "jars_a_sale": Decimal("1.5")}
    >>> cost = selling_cost(Money.of("12.00", "USD"), SeasonCosts("USD", market=market))
    >>> [(name, amount.amount) for name, amount in cost.items]
    [('stall', Decimal('0.87')), ('card fee', Decimal('0.17'))]
    """
    reckoned = _Reckoned()
    fee, a_day = costs.market.get("stall_fee"), costs.market.get("jars_a_day")
    reckoned.product("stall", ("stall_fee", fee), ("jars_a_day", 1 / a_day if a_day else None))
    by_price, by_sale = card_fee(costs)
    if by_price is None or by_sale is None:
        reckoned.asked += [ASKS[key] for key in _card_missing(costs, by_price, by_sale)]
    reckoned.put("card fee", price.amount * (by_price or Decimal(0)) + (by_sale or Decimal(0)))
    return reckoned.cost(costs.currency)


class _Reckoned:
    """Items as they are found, and the questions beside them."""

    def __init__(self) -> None:
        self.items: list[tuple[str, Decimal]] = []
        self.asked: list[str] = []

    def put(self, name: str, amount: Decimal | None, key: str = "") -> None:
        if amount is None:
            self.asked.append(ASKS.get(key or name, f"What does “{name}” cost?"))
        elif amount:
            self.items.append((name, amount))

    def product(self, name: str, *factors: tuple[str, Decimal | None]) -> None:
        """A cost of several figures: nothing if any of them is nothing, asked if one is missing."""
        if any(figure == 0 for _, figure in factors):
            return
        missing = [key for key, figure in factors if figure is None]
        self.asked += [ASKS[key] for key in missing]
        if not missing:
            self.put(name, math.prod((figure for _, figure in factors if figure is not None), start=Decimal(1)))

    def cost(self, currency: str) -> JarCost:
        """Rounded once, half up; the items apportioned so that they add up."""
        exact = [amount for _, amount in self.items] or [Decimal(0)]
        together = sum(exact, Decimal(0))
        names = [name for name, _ in self.items] or ["nothing known yet"]
        parts = apportion(Money.rounded(together, currency, HALF_UP), exact)
        return JarCost(tuple(zip(names, parts, strict=True)), tuple(dict.fromkeys(self.asked)), together)

    @property
    def so_far(self) -> Decimal:
        return sum((amount for _, amount in self.items), Decimal(0))


def _materials(reckoned: _Reckoned, jar) -> None:
    for part in PARTS:
        reckoned.put(part, jar.get(part), part)
    holds = jar.get("carton_holds")
    reckoned.product("carton", ("carton", jar.get("carton")), ("carton_holds", 1 / holds if holds else None))


def _honey(reckoned: _Reckoned, fill: Mass, basis: Basis) -> None:
    reckoned.asked += basis.honey_asked
    per_kg, helper = basis.honey_per_kg, basis.costs.helper_percent
    honey = (per_kg or Decimal(0)) * fill.kg
    reckoned.put("honey", honey)
    reckoned.put("honey lost on the way", _carried(honey, basis.losses.honey_share))
    reckoned.put("helpers' honey", None if helper is None else honey * helper / (HUNDRED - helper), "share")


def _labour(reckoned: _Reckoned, costs: SeasonCosts, size: str) -> None:
    minutes = costs.jars.get(size, {}).get("minutes")
    reckoned.product("work", ("rate", costs.rate), ("minutes", minutes / 60 if minutes is not None else None))


def _given(reckoned: _Reckoned, losses: Losses) -> None:
    reckoned.put("given away", _carried(reckoned.so_far, losses.given_share))


def _carried(amount: Decimal, share: Decimal) -> Decimal:
    """What the jars that are sold carry besides their own cost for a share that is not; nothing where none is sold."""
    return amount * share / (1 - share) if share < 1 else Decimal(0)


def _card_missing(costs: SeasonCosts, by_price: Decimal | None, by_sale: Decimal | None) -> list[str]:
    wanted = [*(("card_percent", "card_share") if by_price is None else ())]
    wanted += [*(("card_fixed", "card_share", "jars_a_sale") if by_sale is None else ())]
    return [key for key in dict.fromkeys(wanted) if costs.market.get(key) is None]


def card_fee(costs: SeasonCosts) -> tuple[Decimal | None, Decimal | None]:
    """What cards cost on the average jar: a share of its price, and an amount; None where a figure is missing.

    >>> card_fee(SeasonCosts("USD", market={"card_percent": Decimal(2), "card_share": Decimal(50),
    ...                                     "card_fixed": Decimal("0.30"), "jars_a_sale": Decimal("1.5")}))
    (Decimal('0.01'), Decimal('0.1'))
    """
    market = costs.market
    share, percent, fixed, jars = (
        market.get(key) for key in ("card_share", "card_percent", "card_fixed", "jars_a_sale")
    )
    if share == 0:
        return Decimal(0), Decimal(0)
    by_price = by_sale = None
    if percent == 0:
        by_price = Decimal(0)
    elif percent is not None and share is not None:
        by_price = percent * share / HUNDRED / HUNDRED
    if fixed == 0:
        by_sale = Decimal(0)
    elif fixed is not None and share is not None and jars is not None:
        by_sale = fixed * share / HUNDRED / jars
    return by_price, by_sale
