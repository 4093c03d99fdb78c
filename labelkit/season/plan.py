"""Plan: how many jars of which sizes the buckets fill, and what that brings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import TYPE_CHECKING

from labelkit.errors.filling import NoPastRuns
from labelkit.errors.lots import SeasonFileUnclear
from labelkit.measures import NOTHING
from labelkit.plan import JarPlan, JarSize, Joining, Keep, PlanBucket, PlanRequest, Step, jar_plan
from labelkit.plan.request import Goal
from labelkit.plan.safety import Safety
from labelkit.plan.wishes import GOALS, NO_MARGIN, WET, FillGoal, Planning, what_if, wished
from labelkit.rules import market
from labelkit.season.empties import empties, share_out
from labelkit.season.past_fills import NO_PAST, PastRuns, fills_from_past, past_runs, with_fills
from labelkit.season.settings import fill_of, settings_of
from labelkit.season.unmet import ceiling_of, moisture_limit

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.lots.season import SeasonFile
    from labelkit.record.reading import Reading
    from labelkit.rules.market import Market
    from labelkit.run.next_fill import NextFill
    from labelkit.season.settings import SeasonSettings


@dataclass(frozen=True, slots=True)
class PlanBasis:
    """What there is to plan with: honey and jar sizes, where they are sold, on which day, and what past runs teach.

    ``safety`` is the caution a season file asks for, ``empties`` the jars at hand of each size whose empties are kept.
    """

    request: PlanRequest
    places: tuple[Market, ...]
    day: date
    past: PastRuns = NO_PAST
    safety: Safety = NO_MARGIN
    empties: Mapping[str, int] = field(default_factory=dict)

    def fills(self, request: PlanRequest, goal: FillGoal) -> dict[str, NextFill]:
        """How to fill the sizes of a request next, by the past runs."""
        largest = max((bucket.usable for bucket in request.buckets), default=NOTHING)
        return fills_from_past(self.past, request.sizes, self.places, self.day, largest, goal)


@dataclass(frozen=True, slots=True)
class Planned:
    """What was asked and its plan; ``before`` is the plan without the what-ifs, where there are any.

    ``known`` says how to fill each size next by past runs; ``from_past`` whether the plan reckons with it; ``empties`` the
    kept empties it was limited to.
    """

    request: PlanRequest
    plan: JarPlan
    before: JarPlan | None
    known: dict[str, NextFill]
    from_past: bool
    empties: Mapping[str, int] = field(default_factory=dict)

    @property
    def unknown(self) -> list[str]:
        """Sizes nothing was weighed of."""
        return [size.id for size in self.request.sizes if size.id not in self.known]


def plan(basis: PlanBasis, asked: Planning) -> Planned:
    """The plan that brings most, or does best at the goal.

    Raises what the wishes refuse, :class:`~labelkit.errors.filling.NoPastRuns` where past fills are asked for and there
    are none, and the refusals of :mod:`labelkit.errors.plan`.
    """
    base, request, known = request_for(basis, asked)
    before = jar_plan(base) if request != base else None
    kept = {size: count for size, count in basis.empties.items() if size not in asked.stock}
    return Planned(request, jar_plan(request), before, known, asked.from_past, kept)


def request_for(basis: PlanBasis, asked: Planning) -> tuple[PlanRequest, PlanRequest, dict[str, NextFill]]:
    """What is asked of the plan, without the what-ifs and with them, and how to fill each size next by past runs.

    Raises what :func:`plan` raises for wishes.
    """
    known = basis.fills(basis.request, asked.fill_goal)
    if asked.from_past and not known:
        raise NoPastRuns(0)
    base = wished(with_fills(basis.request, known) if asked.from_past else basis.request, asked, basis.safety)
    return base, what_if(base, asked), known


def basis_of_record(state: Reading, day: date, *, with_past: bool = True, with_empties: bool = True) -> PlanBasis:
    """What the record says is in the buckets, and its jar sizes; ``with_past`` reads the check weights as well."""
    past = past_runs(state) if with_past else NO_PAST
    season = settings_of(state)
    basis = basis_of(season, state.buckets(full=True), day, past, state.holds())
    kept = {each.size: each.to_fill for each in empties(state)} if with_empties else {}
    known = share_out(season, basis.request.sizes, basis.request.buckets, kept)
    sizes = tuple(replace(size, in_stock=known.get(size.id, size.in_stock)) for size in basis.request.sizes)
    return replace(basis, request=replace(basis.request, sizes=sizes), empties=known)


def basis_of(
    season: SeasonSettings,
    buckets: Sequence[Bucket],
    day: date,
    past: PastRuns = NO_PAST,
    held: Mapping[str, tuple[str, str]] = MappingProxyType({}),
) -> PlanBasis:
    """The same from what was read already.

    Honey on ``held`` is never planned with; wet honey, by the markets' ceiling or by what keeps at all where they have
    none, only where that is wished.
    """
    places = tuple(season.places(day))
    limit = moisture_limit(places)
    planned = tuple(
        PlanBucket(
            b.id,
            b.holds,
            b.moisture,
            limit,
            frozenset(b.plants),
            hives=_hives(b),
            barred=f"it is on hold since {held[b.id][0]}: {held[b.id][1]}" if b.id in held else "",
        )
        for b in buckets
        if b.holds
    )
    plants = [plant for bucket in buckets for plant in bucket.plants]
    sizes = sizes_of(season, day, plants)
    # Where no size has a price yet no plan brings more than another; then the least honey is left over.
    goal = Goal.MONEY if any(size.price.minor for size in sizes) or not sizes else Goal.LEAST_LEFT
    return PlanBasis(PlanRequest(planned, sizes, season.currency, goal=goal), places, day, past)


def sizes_of(season: SeasonSettings, day: date, plants: Iterable[str] = ()) -> tuple[JarSize, ...]:
    """The season's jar sizes as a plan knows them: of what is poured, a product named after a plant only from its honey."""
    spelled = {plant.casefold(): plant for plant in plants}

    def only_from(flower: str) -> frozenset[str]:
        return frozenset((spelled.get(flower, flower),)) if flower else frozenset()

    return tuple(
        JarSize(
            p.size,
            p.weight,
            season.fill(p.size, day),
            p.price,
            p.cost,
            only_from=only_from(season.sold_in(p.size).flower if p.product else ""),
        )
        for p in season.planned(day).values()
    )


def basis_of_file(season: SeasonFile, day: date, past: PastRuns = NO_PAST) -> PlanBasis:
    """What a season file says, on its own day or on this one; its sizes meet past runs only where those are given.

    Raises :class:`~labelkit.errors.lots.SeasonFileUnclear` for a jar without a price.
    """
    unpriced = next((jar.id for jar in season.jars if not jar.priced), None)
    if unpriced is not None:
        raise SeasonFileUnclear(season.file, f"jar {unpriced} has no price", 'Give it, for example price = "12.00".')
    day = season.day or day
    places = tuple(market(name, day) for name in season.markets)
    wish = season.plan
    request = PlanRequest(
        _file_buckets(season, ceiling_of(places)),
        _file_sizes(season, day),
        season.currency,
        goal=GOALS[wish.goal],
        mix=wish.mix,
        first=wish.first,
        wet=WET[wish.wet],
        keep=tuple(Keep(name, mass) for name, mass in wish.keep),
        joining=Joining() if wish.join_tails else None,
    )
    return PlanBasis(request, places, day, past, Safety(wish.bucket_step, wish.jar_step, wish.hang_up))


def _hives(bucket: Bucket) -> int:
    return sum(len(source.hives) for source in bucket.sources)


def _file_buckets(season: SeasonFile, ceiling: Decimal | None) -> tuple[PlanBucket, ...]:
    return tuple(
        PlanBucket(
            found.bucket.id,
            found.usable,
            found.bucket.moisture,
            ceiling,
            frozenset(found.bucket.plants) | found.tags,
            found.use_first,
            _hives(found.bucket),
        )
        for found in season.buckets
    )


def _file_sizes(season: SeasonFile, day: date) -> tuple[JarSize, ...]:
    return tuple(
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
