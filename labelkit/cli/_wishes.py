"""What a producer wishes of a plan, from the options of ``labelkit plan`` to the plan's own request.

``wishes`` holds the options by their names; one that is not there is not wished.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from labelkit.cli._runner import CommandContext
from labelkit.cli._season import counts, pairs
from labelkit.errors.cli import UsageUnclear
from labelkit.errors.lots import BucketUnknown
from labelkit.errors.run import JarSizeUnknown
from labelkit.measures import NOTHING, Mass, Money
from labelkit.measures.numerals import read_number

if TYPE_CHECKING:
    from labelkit.plan import JarSize, PlanRequest

GOALS = {"money": "most money", "least-left": "least left over", "mix": "wished mix", "first": "one size first"}


def wished(request: PlanRequest, context: CommandContext, wishes: Mapping[str, Any]) -> PlanRequest:
    """The request with its goal, what is kept back, whole cases, empty jars, falling prices and caution.

    A wish takes the place of what the request says already (from a season file), and one that is not there leaves it.
    Raises what the options refuse: a bucket or a size that is not there, a weight, a price or a count that is none.
    """
    from labelkit.plan import Goal, Joining, Keep, Wet

    shares = pairs(wishes.get("mix", ()), "--mix", "one pound=3")
    kept = pairs(wishes.get("keep", ()), "--keep", "winter feed=5 kg")
    request = _of_buckets(request, wishes)
    request = replace(
        request,
        sizes=_of_sizes(request, context, wishes),
        goal=Goal(GOALS[wishes["goal"]]) if wishes.get("goal") else request.goal,
        mix=tuple((size, read_number(share, context.locale)) for size, share in shares) or request.mix,
        first=wishes.get("first") or request.first,
        wet=Wet(wishes["wet"].replace("-", " ")) if wishes.get("wet") else request.wet,
        keep=tuple(
            (
                {keep.id: keep for keep in request.keep}
                | {name: Keep(name, Mass.read(text, context.locale)) for name, text in kept}
            ).values()
        ),
        joining=request.joining or (Joining() if wishes.get("join_tails") else None),
    )
    return _careful(request, context, wishes)


def _of_buckets(request: PlanRequest, wishes: Mapping[str, Any]) -> PlanRequest:
    first = _known(request, wishes.get("use_first", ()))
    tags: dict[str, set[str]] = {}
    for name, tag in pairs(wishes.get("tag", ()), "--tag", "B1=organic"):
        _known(request, (name,))
        tags.setdefault(name, set()).add(tag)
    buckets = tuple(
        replace(b, use_first=b.use_first or b.id in first, tags=b.tags | tags.get(b.id, set())) for b in request.buckets
    )
    return replace(request, buckets=buckets)


def _of_sizes(request: PlanRequest, context: CommandContext, wishes: Mapping[str, Any]) -> tuple[JarSize, ...]:
    sizes = _Sizes(request)
    fields = {"reserve": "reserve", "whole_cases": "case", "stock": "in_stock", "buy_pack": "buy_pack"}
    for option, field in fields.items():
        for name, count in counts(wishes.get(option, ()), f"--{option.replace('_', '-')}"):
            sizes.change(name, **{field: count})
    for name in wishes.get("buy", ()):
        sizes.change(name, may_buy=True)
    for name, tag in pairs(wishes.get("only", ()), "--only", "one pound=clover"):
        sizes.change(name, only_from=sizes.of(name).only_from | {tag})
    steps: dict[str, tuple] = {}
    for name, text in pairs(wishes.get("then", ()), "--then", "one pound=30@11.00"):
        steps[name] = (*steps.get(name, ()), _step(name, text, request.currency, context.locale))
        sizes.change(name, steps=steps[name])
    return sizes.all


def _careful(request: PlanRequest, context: CommandContext, wishes: Mapping[str, Any]) -> PlanRequest:
    """The request with the caution of its scales: weights as an option types them, or read already."""
    from labelkit.plan.safety import Safety, with_safety

    given = [wishes.get(key) or NOTHING for key in ("bucket_step", "jar_step", "hang_up")]
    steps = [Mass.read(mass, context.locale) if isinstance(mass, str) else mass for mass in given]
    return with_safety(request, Safety(*steps)) if any(steps) else request


def what_if(request: PlanRequest, context: CommandContext, wishes: Mapping[str, Any]) -> PlanRequest:
    """The request with the changes of the what-if options."""
    from labelkit.plan.what_if import changed

    prices = pairs(wishes.get("prices", ()), "--price", "one pound=13")
    limits = {key: dict(counts(wishes.get(key, ()), f"--{key.replace('_', '-')}")) for key in ("at_least", "at_most")}
    known = _Sizes(request)
    for name in (*dict(prices), *limits["at_least"], *limits["at_most"]):
        known.of(name)
    return changed(
        request,
        without=_known(request, wishes.get("without", ())),
        prices={size: Money.read(text, request.currency, context.locale) for size, text in prices},
        **limits,
    )


class _Sizes:
    """The jar sizes of a request while they are being changed."""

    def __init__(self, request: PlanRequest) -> None:
        self._sizes = {size.id: size for size in request.sizes}

    def of(self, name: str) -> JarSize:
        if name not in self._sizes:
            raise JarSizeUnknown(name, ", ".join(self._sizes))
        return self._sizes[name]

    def change(self, name: str, **changes: Any) -> None:
        self._sizes[name] = replace(self.of(name), **changes)

    @property
    def all(self) -> tuple[JarSize, ...]:
        return tuple(self._sizes.values())


def _known(request: PlanRequest, names: tuple[str, ...]) -> tuple[str, ...]:
    known = [bucket.id for bucket in request.buckets]
    for name in names:
        if name not in known:
            raise BucketUnknown(name, f"; known: {', '.join(known)}")
    return tuple(names)


def _step(name: str, text: str, currency: str, locale: str):
    from labelkit.plan import Step

    after, at, price = text.partition("@")
    if not at or not after.strip().isdigit():
        raise UsageUnclear(
            f"“--then {name}={text}” does not say after how many jars which price holds; write --then '{name}=30@11.00'.",
            "labelkit plan --help",
        )
    return Step(int(after), Money.read(price.strip(), currency, locale))
