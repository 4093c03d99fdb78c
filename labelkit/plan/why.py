"""Why this many of a size and not one more: what the plan would bring with one case more, and with one case less.

For a few buckets the plan is solved again each time, so the difference is true. For many it is read off the price of
the honey (what the last gram brings anywhere in the plan) and is called an estimate.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from labelkit.errors.plan import AtLeastAboveHoney, CaseDoesNotFit, JarFitsNoBucket, NoPlanInTime, TogetherAboveHoney
from labelkit.measures import Money
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.plan.framing import frame
from labelkit.plan.jars import jar_plan
from labelkit.plan.narrow import FINE, price_of_room
from labelkit.plan.outcome import JarPlan
from labelkit.plan.proof import worth
from labelkit.plan.request import Goal, JarSize, PlanRequest

FEW = 12  # buckets; of more, the differences are estimates
CANNOT = (AtLeastAboveHoney, CaseDoesNotFit, JarFitsNoBucket, NoPlanInTime, TogetherAboveHoney)


@dataclass(frozen=True, slots=True)
class Reason:
    """What one case more and one case less of a size would change; none where it cannot be.

    ``limit`` names what holds the size down (``at_most`` or ``in_stock``), and one more is then reckoned as if that
    limit were one case higher. ``sure`` says that both differences are true and not estimates.
    """

    size: str
    count: int
    case: int
    limit: str | None
    one_more: Money | None
    one_less: Money | None
    sure: bool

    def words(self, locale: str = DEFAULT_LOCALE) -> str:
        """The reason in plain words.

        >>> usd = lambda amount: Money.of(amount, "USD")
        >>> Reason("one pound", 57, 1, None, usd("-0.35"), usd("-1.20"), True).words()
        'one pound: 57. One more would bring $0.35 less in all, since its honey comes out of other jars; one less would bring $1.20 less.'
        >>> Reason("half pound", 40, 12, "in_stock", usd("6.10"), usd("-8.00"), False).words()
        'half pound: 40. Every empty jar is used: 12 more would bring about $6.10 more; 12 less would bring about $8.00 less.'
        """
        step, about = ("one" if self.case == 1 else str(self.case)), ("" if self.sure else "about ")
        held = {"in_stock": "Every empty jar is used: ", "at_most": "As many as allowed: "}.get(self.limit or "", "")
        more = f"{held}{step} more " if held else f"{step.capitalize()} more "
        if self.one_more is None:
            more += "cannot be filled"
        else:
            more += _change(self.one_more, about, locale)
            if not held and self.one_more.minor < 0:
                more += " in all, since its honey comes out of other jars"
        less = "" if self.one_less is None else f"; {step} less {_change(self.one_less, about, locale)}"
        return f"{self.size}: {self.count}. {more}{less}."


def _change(money: Money, about: str, locale: str) -> str:
    if not money.minor:
        return "would bring the same"
    amount = Money(abs(money.minor), money.currency).show(locale)
    return f"would bring {about}{amount} {'more' if money.minor > 0 else 'less'}"


def reasons(request: PlanRequest, plan: JarPlan) -> tuple[Reason, ...]:
    """The reason for every size of a plan for most money, in the order of the request."""
    solve_again = len(plan.buckets) <= FEW and request.goal is Goal.MONEY and not request.joining
    return tuple((_solved if solve_again else _estimated)(request, plan, size) for size in request.sizes)


def kilogram_worth(request: PlanRequest) -> Money:
    """What a kilogram more of honey would bring, as an estimate: the price of the last gram anywhere in the plan."""
    packing = frame(request).packing
    price = price_of_room(packing, sum(box.room for box in packing.boxes))
    return Money(price * 1_000_000 // FINE, request.currency)


def _limit(size: JarSize, count: int) -> str | None:
    if size.in_stock is not None and not size.may_buy and count + size.case > size.in_stock:
        return "in_stock"
    return "at_most" if size.at_most is not None and count + size.case > size.at_most + size.reserve else None


def _solved(request: PlanRequest, plan: JarPlan, size: JarSize) -> Reason:
    count = plan.jars.get(size.id, 0)
    more, less = count + size.case, count - size.case
    raised = replace(
        size,
        at_least=max(0, more - size.reserve),
        at_most=None if size.at_most is None else max(size.at_most, more - size.reserve),
        in_stock=None if size.in_stock is None else max(size.in_stock, more),
    )
    up = _again(request, plan, raised)
    down = None
    if less >= size.at_least + size.reserve and count > 0:
        down = _again(request, plan, replace(size, at_most=less - size.reserve))
    sure = plan.proved and all(change is None or change[1] for change in (up, down))
    return Reason(size.id, count, size.case, _limit(size, count), up and up[0], down and down[0], sure)


def _again(request: PlanRequest, plan: JarPlan, size: JarSize) -> tuple[Money, bool] | None:
    sizes = tuple(size if other.id == size.id else other for other in request.sizes)
    try:
        other = jar_plan(replace(request, sizes=sizes))
    except CANNOT:
        return None
    return other.value - plan.value, other.proved


def _estimated(request: PlanRequest, plan: JarPlan, size: JarSize) -> Reason:
    count = plan.jars.get(size.id, 0)
    per_kilo = kilogram_worth(request).minor
    honey = size.case * size.fill.mg * per_kilo // 1_000_000
    more = worth(size, count + size.case) - worth(size, count) - honey
    less = honey - (worth(size, count) - worth(size, count - size.case)) if count >= size.case else None
    if less is not None and count - size.case < size.at_least + size.reserve:
        less = None
    currency = request.currency
    return Reason(
        size.id,
        count,
        size.case,
        _limit(size, count),
        Money(more, currency),
        None if less is None else Money(less, currency),
        False,
    )
