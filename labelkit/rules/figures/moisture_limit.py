"""The highest moisture at which honey may be called honey, and whether a lot keeps to it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.rules import NoRuleInForce, ReadingImpossible
from labelkit.measures.rounding import plain
from labelkit.rules.blocks import Value
from labelkit.rules.market import Market

_WHOLE = Decimal(100)  # per cent
YES, NO, ASK = "yes", "no", "ask"


@dataclass(frozen=True, slots=True)
class Allowed:
    """``answer`` is yes, no or ask; ``limit_percent`` is ``None`` where no limit is held."""

    answer: str
    limit_percent: Decimal | None
    laws: tuple[Value, ...]


def allowed(moisture: Decimal, market: Market, honey: str = "honey") -> Allowed:
    """Whether honey of this moisture may be sold as honey here. The limit itself is still allowed.

    Where no limit is held the answer is "ask": that nobody read one does not make every moisture lawful.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> eu = market("eu", date(2026, 11, 25))
    >>> allowed(Decimal("20.0"), eu).answer, allowed(Decimal("20.1"), eu).answer, allowed(Decimal("22"), eu, "heather").answer
    ('yes', 'no', 'yes')
    """
    if not 0 <= moisture <= _WHOLE:
        raise ReadingImpossible(plain(moisture), "moisture in per cent", "0", plain(_WHOLE))
    try:
        limit = market.value("highest moisture", honey=honey)
    except NoRuleInForce:
        return Allowed(ASK, None, ())
    return Allowed(YES if moisture <= limit.value else NO, limit.value, (limit,))


def grades(moisture: Decimal, market: Market, *, pasteurized: bool = False) -> tuple[str, ...]:
    """The grades whose moisture limit this honey keeps, the best first; other factors of a grade are not looked at.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> grades(Decimal("18.4"), market("ca", date(2026, 11, 25)))
    ('Canada No. 2', 'Canada No. 3')
    """
    if not market.holds("grades", pasteurized=pasteurized):
        return ()
    rows = market.value("grades", pasteurized=pasteurized).value
    return tuple(row["grade"] for row in rows if moisture <= row["moisture"])
