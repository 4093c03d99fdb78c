"""What is asked of a jar plan, from a season file or from the record: shared by the plan and the run sheet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from labelkit.cli._files import read_text
from labelkit.cli._runner import CommandContext
from labelkit.cli._season import counts
from labelkit.cli._wishes import GOALS, wished
from labelkit.errors.run import JarSizeUnknown
from labelkit.season.settings import fill_of, settings_of

if TYPE_CHECKING:
    from labelkit.plan import PlanRequest

CEILING = "highest moisture"


@dataclass(frozen=True)
class Asked:
    """A plan's request, and the currency, markets and day it is asked for."""

    request: PlanRequest
    currency: str
    markets: tuple[str, ...]
    day: date


def asked_of(
    context: CommandContext,
    file: str | None = None,
    patience: int = 1,
    wishes: Mapping[str, Any] = MappingProxyType({}),
) -> Asked:
    """What is asked of the plan: by a season file, or by what the record says is in the buckets.

    ``wishes`` are the options of ``labelkit plan``; where an option and the file speak of the same thing, the option holds.
    """
    return _from_file(context, file, patience, wishes) if file else _from_record(context, patience, wishes)


def _from_file(context: CommandContext, file: str, patience: int, wishes: Mapping[str, Any]) -> Asked:
    from labelkit.errors.lots import SeasonFileUnclear
    from labelkit.lots.season_file import read_season

    season = read_season(read_text(file), file, context.day)
    unpriced = next((jar.id for jar in season.jars if not jar.priced), None)
    if unpriced is not None:
        raise SeasonFileUnclear(file, f"jar {unpriced} has no price", 'Give it, for example price = "12.00".')
    day = season.day or context.day
    said = {key: getattr(season.plan, key) for key in ("bucket_step", "jar_step", "hang_up")}
    request = filled_by_past(request_of(season, day, patience), context, season.markets, day, wishes)
    request = wished(request, context, said | {k: w for k, w in wishes.items() if w})
    return Asked(request, season.currency, season.markets, day)


def request_of(season, day, patience: int = 1) -> PlanRequest:
    """What a season file asks of the plan, on a day (the day decides which ceilings and rules are in force).

    All but the caution of its scales, which comes last of all.
    """
    from labelkit.plan import Goal, JarSize, Joining, Keep, PlanBucket, PlanRequest, Step, Wet

    ceiling = ceiling_of(season.markets, day)
    buckets = []
    for found in season.buckets:
        bucket = found.bucket
        hives = sum(len(source.hives) for source in bucket.sources)
        tags = frozenset(bucket.plants) | found.tags
        buckets.append(PlanBucket(bucket.id, found.usable, bucket.moisture, ceiling, tags, found.use_first, hives))
    sizes = tuple(
        JarSize(
            jar.id,
            jar.declares,
            fill_of(jar.declares, season.markets, day, jar.uses),
            jar.price,
            jar.cost,
            in_stock=jar.in_stock,
            at_least=jar.at_least,
            at_most=jar.at_most,
            case=jar.case,
            reserve=jar.wishes.reserve,
            steps=tuple(Step(after, price) for after, price in jar.wishes.then),
            only_from=jar.wishes.only_from,
            may_buy=jar.wishes.may_buy,
            buy_pack=jar.wishes.buy_pack,
        )
        for jar in season.jars
    )
    wish = season.plan
    return PlanRequest(
        tuple(buckets),
        sizes,
        season.currency,
        goal=Goal(GOALS[wish.goal]),
        mix=wish.mix,
        first=wish.first,
        wet=Wet(wish.wet.replace("-", " ")),
        keep=tuple(Keep(name, mass) for name, mass in wish.keep),
        joining=Joining() if wish.join_tails else None,
        patience=patience,
    )


def _from_record(context: CommandContext, patience: int, wishes: Mapping[str, Any]) -> Asked:
    from labelkit.plan import JarSize, PlanBucket, PlanRequest

    with context.reading() as book:
        season, buckets = settings_of(book), book.buckets(full=True)
    ceiling = ceiling_of(season.markets, context.day)
    planned = tuple(
        PlanBucket(b.id, b.holds, b.moisture, ceiling, frozenset(b.plants), hives=sum(len(s.hives) for s in b.sources))
        for b in buckets
        if b.holds
    )
    sizes = tuple(
        JarSize(p.size, p.declares, season.fill(p.size, context.day), p.price, p.cost) for p in season.prices.values()
    )
    request = PlanRequest(planned, sizes, season.currency, patience=patience)
    request = wished(filled_by_past(request, context, season.markets, context.day, wishes), context, wishes)
    return Asked(request, season.currency, season.markets, context.day)


def filled_by_past(
    request: PlanRequest, context: CommandContext, markets: tuple[str, ...], day: date, wishes: Mapping[str, Any]
):
    """The request with what a jar really takes by the record's own check weights, where that was wished for; else as it is.

    Raises :class:`~labelkit.errors.filling.NoPastRuns` where nothing was weighed yet.
    """
    if not wishes.get("fill_from_past"):
        return request
    from labelkit.cli._filling import chance_of, fills_for, must_have, with_fills

    fills = fills_for(
        context, request, markets, day, chance_of(wishes.get("sure"), context.locale), wishes.get("system")
    )
    must_have(fills, request)
    return with_fills(request, fills)


def ceiling_of(markets: tuple[str, ...], day) -> Decimal | None:
    """The strictest moisture ceiling of the markets, where any of them has one."""
    from labelkit.rules import market

    names = [market(name, day) for name in markets]
    limits = [found.value(CEILING, honey="honey").value for found in names if found.holds(CEILING, honey="honey")]
    return min(limits, default=None)


def at_most_of(request: PlanRequest, wanted: tuple[str, ...]) -> PlanRequest:
    """The request with these limits on jar sizes."""
    limits = dict(counts(wanted, "--at-most"))
    known = {size.id for size in request.sizes}
    for name in limits:
        if name not in known:
            raise JarSizeUnknown(name, ", ".join(sorted(known)))
    sizes = tuple(replace(s, at_most=limits[s.id]) if s.id in limits else s for s in request.sizes)
    return replace(request, sizes=sizes)
