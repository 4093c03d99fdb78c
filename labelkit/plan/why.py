"""Why this many of a size and not one more: what the plan would bring with one case more, and with one case less.

For up to some dozens of buckets the plan is solved again each time, so the difference is true. For more it is read off
the price of the honey (what the last gram brings anywhere in the plan) and is called an estimate.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from labelkit.errors.plan import AtLeastAboveHoney, CaseDoesNotFit, JarFitsNoBucket, NoPlanInTime, TogetherAboveHoney
from labelkit.errors.sentence import Figure, Sentence, written
from labelkit.measures import Mass, Money, show_metric
from labelkit.plan.build_packing import build_packing
from labelkit.plan.jars import jar_plan, worth_of_best
from labelkit.plan.outcome import JarPlan, Stage
from labelkit.plan.request import Goal, JarSize, PlanRequest
from labelkit.plan.search.reduced_cost_fixing import FINE, capacity_price
from labelkit.plan.verify_plan import margin

FEW = 60  # buckets; of more, the differences are estimates
CANNOT = (AtLeastAboveHoney, CaseDoesNotFit, JarFitsNoBucket, NoPlanInTime, TogetherAboveHoney)
HELD = {
    "in_stock": ", every empty jar there is",
    "at_most": ", as many as allowed",
    "at_least": ", the least that was asked for",
}
RAISE = {
    "in_stock": ": worth it if the empty {jars} no more than that above the price reckoned with",
    "at_most": ": worth it if {it} can be sold",
}


@dataclass(frozen=True, slots=True)
class Reason:
    """What one case more and one case less of a size would change; none where it cannot be.

    ``limit`` names what holds the size: ``at_most`` or ``in_stock`` from above, and one more is then reckoned as if that
    limit were one case higher, or ``at_least`` from below. ``sure`` says that both differences are true and not
    estimates. ``farther`` tells how much worse one more would be for a goal that is not money.
    """

    size: str
    count: int
    case: int
    limit: str | None
    one_more: Money | None
    one_less: Money | None
    sure: bool
    farther: str = ""

    def words(self, locale: str) -> str:
        """The reason in plain words.

        >>> usd = lambda amount: Money.of(amount, "USD")
        >>> Reason("one pound", 57, 1, None, usd("-0.35"), usd("-1.20"), True).words("en_US")
        'one pound: 57. One more would bring $0.35 less in all, for its honey comes out of other jars; one less, $1.20 less.'
        >>> Reason("half pound", 40, 12, "in_stock", usd("6.10"), usd("-8.00"), False).words("en_US")
        'half pound: 40, every empty jar there is. 12 more would bring about $6.10 more: worth it if the empty jars cost no more than that above the price reckoned with; 12 less, about $8.00 less.'
        >>> Reason("half pound", 0, 1, None, usd("-2"), None, True).words("en_US")
        'half pound: none. One would bring $2.00 less in all, for its honey comes out of other jars.'
        """
        step, about = ("one" if self.case == 1 else str(self.case)), ("" if self.sure else "about ")
        count = str(self.count) if self.count else "none"
        more = step.capitalize() + (" more" if self.count else "")
        if self.farther:
            more += f" would {written(self.farther, locale)}"
        elif self.one_more is None:
            more += " cannot be filled: there is not the honey for it"
        else:
            more += f" would {_change(self.one_more, about, locale)}"
            if self.one_more.minor < 0:
                more += " in all, for its honey comes out of other jars"
            elif self.one_more.minor and self.limit in RAISE:
                jars, it = ("jar costs", "it") if self.case == 1 else ("jars cost", "they")
                more += RAISE[self.limit].format(jars=jars, it=it)
        less = (
            "" if self.one_less is None or self.farther else f"; {step} less, {_change(self.one_less, about, locale)}"
        )
        less = less.replace(", bring ", ", ")
        return f"{self.size}: {count}{HELD.get(self.limit or '', '')}. {more}{less}."


def _change(money: Money, about: str, locale: str) -> str:
    if not money.minor:
        return "bring no more and no less"
    amount = Money(abs(money.minor), money.currency).show(locale)
    return f"bring {about}{amount} {'more' if money.minor > 0 else 'less'}"


def reasons(request: PlanRequest, plan: JarPlan) -> tuple[Reason, ...]:
    """The reason for every size of a plan, in the order of the request."""
    if len(plan.buckets) > FEW:
        return tuple(_estimated(request, plan, size) for size in request.sizes)
    solved = [_solved(request, plan, size) for size in request.sizes]
    if plan.proved and request.goal is Goal.MONEY:
        # What is not proved may be the search and not the size; the price of the honey is then the better witness.
        solved = [
            reason if reason.sure else _estimated(request, plan, size)
            for reason, size in zip(solved, request.sizes, strict=True)
        ]
    return tuple(solved)


def kilogram_worth(request: PlanRequest) -> Money:
    """What a kilogram more of honey would bring, as an estimate: the price of the last gram anywhere in the plan."""
    packing = build_packing(request).packing
    price = capacity_price(packing, sum(bin_.capacity for bin_ in packing.bins))
    return Money(price * 1_000_000 // FINE, request.currency)


def _limit(size: JarSize, count: int) -> str | None:
    if size.in_stock is not None and not size.may_buy and count + size.case > size.in_stock:
        return "in_stock"
    if size.at_most is not None and count + size.case > size.at_most + size.reserve:
        return "at_most"
    return "at_least" if count and count - size.case < size.at_least + size.reserve else None


def _solved(request: PlanRequest, plan: JarPlan, size: JarSize) -> Reason:
    count = plan.jars.get(size.id, 0)
    more, less = count + size.case, count - size.case
    raised = replace(
        size,
        at_least=max(0, more - size.reserve),
        at_most=None if size.at_most is None else max(size.at_most, more - size.reserve),
        in_stock=None if size.in_stock is None else max(size.in_stock, more),
    )
    up = _again(request, raised)
    down = None
    if less >= size.at_least + size.reserve and count > 0:
        down = _again(request, replace(size, at_most=less - size.reserve))
    sure = plan.proved and all(change is None or change[1] for change in (up, down))
    farther = _farther(request, plan.stages[0], up[2]) if up and request.goal is not Goal.MONEY else ""
    gained, lost = (None if change is None else change[0] - plan.value for change in (up, down))
    return Reason(size.id, count, size.case, _limit(size, count), gained, lost, sure, farther)


def _again(request: PlanRequest, size: JarSize) -> tuple[Money, bool, Stage] | None:
    """What the best plan brings with the size changed so, whether that is proved, and how far its first goal came."""
    sizes = tuple(size if other.id == size.id else other for other in request.sizes)
    changed = replace(request, sizes=sizes)
    try:
        if request.joining:
            plan = jar_plan(changed)
            return plan.value, plan.proved, plan.stages[0]
        value, stages = worth_of_best(changed)
    except CANNOT:
        return None
    return value, all(stage.proved for stage in stages), stages[0]


def _farther(request: PlanRequest, now: Stage, then: Stage) -> str:
    """How much farther from the first goal a plan would be; nothing where it would be as near."""
    if now.reached == then.reached:
        return ""
    off = abs(now.reached - then.reached)
    if request.goal is Goal.SIZE_FIRST:
        return f"cost {off} of {request.first}, which comes first"
    mass = Figure(show_metric, Mass(off))
    if request.goal is Goal.MIX:
        return Sentence("put {mass} of honey more into other jars than wished", mass=mass)
    if then.reached > now.reached:
        return Sentence("leave {mass} more in the buckets", mass=mass)
    return Sentence("leave {mass} less in the buckets", mass=mass)


def _estimated(request: PlanRequest, plan: JarPlan, size: JarSize) -> Reason:
    count = plan.jars.get(size.id, 0)
    per_kilo = kilogram_worth(request).minor
    honey = size.case * size.fill.mg * per_kilo // 1_000_000
    more = margin(size, count + size.case) - margin(size, count) - honey
    less = honey - (margin(size, count) - margin(size, count - size.case)) if count >= size.case else None
    if less is not None and count - size.case < size.at_least + size.reserve:
        less = None
    limit, currency = _limit(size, count), request.currency
    if plan.proved and limit not in RAISE:
        more = min(0, more)  # the estimate may be a little off; that one more brings nothing more is proved
    if plan.proved and less is not None:
        less = min(0, less)
    down = None if less is None else Money(less, currency)
    return Reason(size.id, count, size.case, limit, Money(more, currency), down, False)
