"""What a producer asks of a plan: the goal, what is kept back, limits and prices, and what-ifs."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any

from labelkit.errors.lots import BucketUnknown
from labelkit.errors.run import JarSizeUnknown
from labelkit.measures import Mass, Money
from labelkit.plan.request import Goal, JarSize, Joining, Keep, PlanRequest, Step, Wet
from labelkit.plan.safety import Safety, with_safety
from labelkit.plan.what_if import changed

#: The goals and what to do with wet buckets, by the names that are typed in files, options and forms.
GOALS = {"money": Goal.MONEY, "least-left": Goal.LEAST_LEFT, "mix": Goal.MIX, "first": Goal.SIZE_FIRST}
WET = {"leave-out": Wet.LEAVE_OUT, "allow": Wet.ALLOW}
NO_MARGIN = Safety()


@dataclass(frozen=True, slots=True)
class FillGoal:
    """How sure the next lots are to pass (between 0 and 1), by which of a market's ways to judge."""

    chance: Decimal | None = None
    system: str | None = None


USUAL_GOAL = FillGoal()


def _nothing() -> Mapping[str, Any]:
    return {}


@dataclass(frozen=True, slots=True)
class Planning:
    """The wishes, by jar size or bucket where they are of one; what is not said leaves the season as it is.

    ``from_past`` plans with what jars really take. ``without``, ``prices``, ``at_least`` and ``at_most`` ask what if:
    the plan without them is shown beside. ``patience`` is how many times the usual search. A kept plan keeps them in the
    record, so a field may be added with a default and none may go.
    """

    goal: Goal | None = None
    mix: Mapping[str, Decimal] = field(default_factory=_nothing)
    first: str | None = None
    wet: Wet | None = None
    reserve: Mapping[str, int] = field(default_factory=_nothing)
    keep: Mapping[str, Mass] = field(default_factory=_nothing)
    whole_cases: Mapping[str, int] = field(default_factory=_nothing)
    stock: Mapping[str, int] = field(default_factory=_nothing)
    buy: tuple[str, ...] = ()
    buy_pack: Mapping[str, int] = field(default_factory=_nothing)
    then: Mapping[str, tuple[Step, ...]] = field(default_factory=_nothing)
    only: Mapping[str, tuple[str, ...]] = field(default_factory=_nothing)
    tags: Mapping[str, tuple[str, ...]] = field(default_factory=_nothing)
    use_first: tuple[str, ...] = ()
    join_tails: bool = False
    bucket_step: Mass | None = None
    jar_step: Mass | None = None
    hang_up: Mass | None = None
    from_past: bool = False
    fill_goal: FillGoal = USUAL_GOAL
    without: tuple[str, ...] = ()
    prices: Mapping[str, Money] = field(default_factory=_nothing)
    at_least: Mapping[str, int] = field(default_factory=_nothing)
    at_most: Mapping[str, int] = field(default_factory=_nothing)
    patience: int = 1


def wished(request: PlanRequest, asked: Planning, safety: Safety = NO_MARGIN) -> PlanRequest:
    """The request with its goal, what is kept back, whole cases, empty jars, falling prices and caution.

    A wish takes the place of what the request says already (from a season file). ``safety`` is the caution of the file.
    Raises :class:`~labelkit.errors.lots.BucketUnknown` and :class:`~labelkit.errors.run.JarSizeUnknown`.
    """
    request = replace(
        request,
        buckets=_buckets(request, asked),
        sizes=_sizes(request, asked),
        goal=asked.goal or request.goal,
        mix=tuple(asked.mix.items()) or request.mix,
        first=asked.first or request.first,
        wet=asked.wet or request.wet,
        keep=tuple(
            (
                {keep.id: keep for keep in request.keep} | {id: Keep(id, mass) for id, mass in asked.keep.items()}
            ).values()
        ),
        joining=request.joining or (Joining() if asked.join_tails else None),
        patience=asked.patience,
    )
    careful = Safety(
        asked.bucket_step or safety.bucket_division,
        asked.jar_step or safety.jar_division,
        asked.hang_up or safety.hang_up,
    )
    return request if careful == NO_MARGIN else with_safety(request, careful)


def what_if(request: PlanRequest, asked: Planning) -> PlanRequest:
    """The request with the what-ifs."""
    for name in (*asked.prices, *asked.at_least, *asked.at_most):
        _size(request, name)
    _must_know(request, asked.without)
    return changed(request, without=asked.without, prices=asked.prices, at_least=asked.at_least, at_most=asked.at_most)


def _buckets(request: PlanRequest, asked: Planning) -> tuple[Any, ...]:
    _must_know(request, (*asked.use_first, *asked.tags))
    return tuple(
        replace(
            bucket,
            use_first=bucket.use_first or bucket.id in asked.use_first,
            tags=bucket.tags.union(asked.tags.get(bucket.id, ())),
        )
        for bucket in request.buckets
    )


def _sizes(request: PlanRequest, asked: Planning) -> tuple[JarSize, ...]:
    changes: dict[str, dict[str, Any]] = {}
    wishes: dict[str, Mapping[str, Any]] = {
        "reserve": asked.reserve,
        "case": asked.whole_cases,
        "in_stock": asked.stock,
        "buy_pack": asked.buy_pack,
        "may_buy": dict.fromkeys(asked.buy, True),
        "only_from": {name: _size(request, name).only_from.union(tags) for name, tags in asked.only.items()},
        "steps": asked.then,
    }
    for field_, values in wishes.items():
        for name, value in values.items():
            changes.setdefault(_size(request, name).id, {})[field_] = value
    return tuple(replace(size, **changes.get(size.id, {})) for size in request.sizes)


def _size(request: PlanRequest, name: str) -> JarSize:
    sizes = {size.id: size for size in request.sizes}
    must_know_size(name, sizes)
    return sizes[name]


def must_know_size(name: str, known: Collection[str]) -> None:
    """Raises :class:`~labelkit.errors.run.JarSizeUnknown` for a size that is not there."""
    if name not in known:
        raise JarSizeUnknown(name, ", ".join(known))


def _must_know(request: PlanRequest, names: Iterable[str]) -> None:
    known = [bucket.id for bucket in request.buckets]
    for name in names:
        if name not in known:
            raise BucketUnknown(name, f"; known: {', '.join(known)}")
