"""The plan that is followed: the one that was kept, as far as it is not filled yet, until what it rests on changes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields, replace
from datetime import date
from typing import TYPE_CHECKING, Any

from labelkit.errors.plan import NothingToKeep
from labelkit.errors.sentence import Sentence
from labelkit.measures import NOTHING, Mass, Money, show_both
from labelkit.plan import BucketPlan, JarPlan, PlanBucket, PlanRequest, jar_plan
from labelkit.plan.kept_plan import KeptBucket, PlanKept
from labelkit.plan.kept_plan import kept_plan as event_of
from labelkit.plan.verify_plan import margin
from labelkit.plan.what_if import Difference, difference
from labelkit.plan.wishes import Planning
from labelkit.season.once import booked_once
from labelkit.season.plan import Planned, basis_of_record, plan, request_for

if TYPE_CHECKING:
    from labelkit.record.reading import Reading
    from labelkit.record.work import Work
    from labelkit.season.plan import PlanBasis
    from labelkit.trace.booked import Booked

NO_WISHES = Planning()
_BY_BUCKET, _BY_SIZE = ("use_first", "tags", "without"), (
    "mix", "reserve", "whole_cases", "stock", "buy", "buy_pack", "then", "only", "prices", "at_least", "at_most"
)  # fmt: skip

_CHANGES = {
    "less honey": "{about} holds {by} less for jars than when the plan was kept: {now}, it was {was}.",
    "more honey": "{about} holds {by} more for jars than when the plan was kept: {now}, it was {was}.",
    "new bucket": "{about} is not in the kept plan, and has {now} for jars.",
    "too little": "{about} holds {now} for jars, and what is still to be filled from it takes {was}: {by} are missing.",
    "no bucket": "{about} cannot be filled now; the plan reckoned with {was} of it.",
    "on hold": "{about} is on hold now.",
    "wet": "{about} is over the moisture limit now.",
    "price": "{about} sells for {now} now; it was {was}.",
    "cost": "{about} costs {now} now; it was {was}.",
    "fill": "A jar of {about} takes {now} now; it was {was}.",
    "no size": "{about} is no longer a jar size; the plan asks for {was}.",
    "new size": "{about} is new; the plan did not reckon with it.",
    "empty jars": "There are {now} empty jars of {about}, and the plan still asks for {was}.",
}


@dataclass(frozen=True, slots=True)
class Change:
    """One thing the kept plan rests on that is no longer so: which, of what, what it was and what it is now."""

    what: str
    about: str
    was: Mass | Money | int | None = None
    now: Mass | Money | int | None = None

    def words(self, locale: str) -> Sentence:
        """The change with its figures."""
        by = Mass(abs(self.now.mg - self.was.mg)) if isinstance(self.was, Mass) and isinstance(self.now, Mass) else None
        shown = {name: _show(value, locale) for name, value in (("was", self.was), ("now", self.now), ("by", by))}
        facts = {name: text for name, text in shown.items() if "{" + name + "}" in _CHANGES[self.what]}
        return Sentence(_CHANGES[self.what], about=self.about, **facts)


def _show(value: Mass | Money | int | None, locale: str) -> str:
    if isinstance(value, Mass):
        return show_both(value, locale)
    return value.show(locale) if isinstance(value, Money) else str(value)


@dataclass(frozen=True, slots=True)
class Followed:
    """The plan a day follows.

    ``whole`` is the plan with all its jars, ``plan`` what of it is still to be filled, ``filled`` what was filled of it
    already, by bucket and size. ``kept`` is the event where it was kept; ``changes`` say why a kept plan is not followed
    any more, and ``against`` what the plan in its place changes.
    """

    basis: PlanBasis
    request: PlanRequest
    asked: Planning
    plan: JarPlan
    whole: JarPlan
    kept: Booked | None = None
    filled: Mapping[str, Mapping[str, int]] = field(default_factory=dict)
    changes: tuple[Change, ...] = ()
    against: Difference | None = None

    @property
    def event(self) -> int | None:
        """The number of the kept plan where it is followed."""
        return self.kept.seq if self.kept and not self.changes else None

    def planned(self, bucket: str) -> dict[str, int]:
        """What the kept plan has a bucket fill, by size; nothing where it leaves the bucket out."""
        every = self.kept.event.buckets if self.kept else ()
        return next((_jars(each) for each in every if each.bucket == bucket), {})


def keep_plan(work: Work, asked: Planning, day: date) -> tuple[Planned, int]:
    """Plan and keep the plan; the number of its event.

    Raises what the plan refuses, and :class:`~labelkit.errors.plan.NothingToKeep` where no jar is planned.
    """
    planned = plan(basis_of_record(work, day, with_past=asked.from_past), asked)
    if not any(planned.plan.jars.values()):
        raise NothingToKeep()
    event = event_of(day, asked, planned.request, planned.plan)
    before = booked_once(work, PlanKept.kind, lambda kept: kept.wishes == asked)
    return planned, (before or work.add(event)).seq


def kept_plan(state: Reading) -> Booked | None:
    """The plan that was kept last, where it was not taken back."""
    return next((each for each in state.latest((PlanKept.kind,)) if each.stands), None)


def filled_since(state: Reading, kept: Booked) -> dict[str, Counter[str]]:
    """Whole jars filled out of each planned bucket since the plan was kept."""
    found = {each.bucket: Counter[str]() for each in kept.event.buckets}
    for booked in _runs_since(state, kept):
        for jar in (*booked.event.jars, *booked.event.samples):
            found[booked.event.bucket][jar.size] += jar.count
    return found


def _runs_since(state: Reading, kept: Booked) -> list[Booked]:
    names = {each.bucket for each in kept.event.buckets}
    runs = state.events_about(names, ("run",))
    return [each for each in runs if each.stands and each.event.bucket in names and each.position[0] > kept.seq]


@dataclass(frozen=True, slots=True)
class Beside:
    """What was planned for one bucket and what of it is filled, by size; the number of the kept plan."""

    event: int
    planned: Mapping[str, int]
    filled: Mapping[str, int]


def beside_plan(state: Reading, bucket: str) -> Beside | None:
    """The kept plan of one bucket beside what was filled; nothing where no kept plan fills from it."""
    kept = kept_plan(state)
    planned = next((_jars(each) for each in kept.event.buckets if each.bucket == bucket), {}) if kept else {}
    return Beside(kept.seq, planned, filled_since(state, kept)[bucket]) if kept and planned else None


def planned_ahead(state: Reading, day: date) -> tuple[tuple[str, str, int], ...]:
    """Buckets, sizes and how many jars the kept plan still has them fill; nothing where none is kept, or it holds no longer."""
    followed = follow(state, day) if kept_plan(state) else None
    if followed is None or not followed.event:
        return ()
    return tuple((each.id, size, count) for each in followed.plan.buckets for size, count in each.jars.items() if count)


def still_planned(state: Reading, bucket: str, day: date) -> dict[str, int]:
    """The same of one bucket, by size."""
    return {size: count for name, size, count in planned_ahead(state, day) if name == bucket}


def same_wishes(state: Reading, day: date) -> Planning:
    """The wishes of the kept plan, as far as they speak of what is still there; none where no plan is kept."""
    kept = kept_plan(state)
    return wishes_that_hold(kept.event.wishes, basis_of_record(state, day).request) if kept else NO_WISHES


def follow(state: Reading, day: date, asked: Planning = NO_WISHES, *, with_empties: bool = True) -> Followed:
    """The kept plan as far as it is not filled yet; the best plan of what there is, where other things are wished for.

    A kept plan that is wholly filled is over. One whose honey, prices or empty jars changed is planned again with its
    own wishes. ``with_empties`` is whether the kept empties limit it. Raises what the plan refuses.
    """
    kept = kept_plan(state)
    if kept is None or asked not in (NO_WISHES, kept.event.wishes):
        return fresh(basis_of_record(state, day, with_empties=with_empties), asked)
    event: PlanKept = kept.event
    basis = basis_of_record(state, day, with_empties=with_empties)
    _, request, _ = request_for(basis, wishes_that_hold(event.wishes, basis.request))
    gone, filled = _gone(state, kept), filled_since(state, kept)
    now = {bucket.id: bucket for bucket in request.buckets}
    rest = [_rest(each, gone.get(each.bucket), now.get(each.bucket), request) for each in event.buckets]
    if not any(jars for _, jars in rest):
        return fresh(basis, asked)
    changes = tuple(_changes(event, request, gone, {each.bucket: jars for each, jars in rest}))
    if changes:
        return _instead(kept, basis, request, rest, filled, changes)
    whole = event.plan
    still = _still(whole, request, rest)
    return Followed(basis, request, event.wishes, still, whole, kept, filled)


def fresh(basis: PlanBasis, asked: Planning) -> Followed:
    """The best plan of what there is."""
    found = plan(basis, asked)
    return Followed(basis, found.request, asked, found.plan, found.plan)


def wishes_that_hold(asked: Planning, request: PlanRequest) -> Planning:
    """The wishes without what speaks of buckets and sizes that are no longer there."""
    buckets, sizes = {bucket.id for bucket in request.buckets}, {size.id for size in request.sizes}
    kept = dict.fromkeys(_BY_BUCKET, buckets) | dict.fromkeys(_BY_SIZE, sizes)
    changed: dict[str, Any] = {}
    for each in fields(asked):
        value, known = getattr(asked, each.name), kept.get(each.name)
        if known is None:
            continue
        changed[each.name] = (
            tuple(name for name in value if name in known)
            if isinstance(value, tuple)
            else {name: wish for name, wish in value.items() if name in known}
        )
    return replace(asked, **changed)


def _gone(state: Reading, kept: Booked) -> dict[str, Counter[str]]:
    """Jars that took honey out of a bucket since, broken ones too; only buckets that were filled from."""
    found: dict[str, Counter[str]] = {}
    for booked in _runs_since(state, kept):
        counts = found.setdefault(booked.event.bucket, Counter())
        for jar in (*booked.event.jars, *booked.event.samples, *booked.event.broken):
            counts[jar.size] += jar.count
    return found


def _rest(
    each: KeptBucket, gone: Counter[str] | None, now: PlanBucket | None, request: PlanRequest
) -> tuple[KeptBucket, dict[str, int]]:
    """What of a bucket is still to be filled; a bucket that has not even honey for one more such jar is finished."""
    jars = _jars(each)
    if gone is None:
        return each, jars
    fill = {size.id: size.fill for size in request.sizes}
    rest = {size: count - gone[size] for size, count in jars.items() if count > gone[size]}
    holds = now.usable if now else NOTHING
    return each, rest if any(fill.get(size, holds) <= holds and holds for size in rest) else {}


def _jars(each: KeptBucket) -> dict[str, int]:
    return {jar.size: jar.count for jar in each.jars}


def _changes(
    event: PlanKept, request: PlanRequest, gone: Mapping[str, Counter[str]], rest: Mapping[str, Mapping[str, int]]
) -> Iterable[Change]:
    """Everything that is no longer as it was when the plan was kept; what was filled since is no change."""
    yield from _honey(event, request, gone, rest)
    sizes = {size.size: size for size in event.sizes}
    wanted = sum((Counter(jars) for jars in rest.values()), Counter[str]())
    known = {size.id for size in request.sizes}
    yield from (Change("no size", size, count) for size, count in wanted.items() if count and size not in known)
    for now in request.sizes:
        was = sizes.get(now.id)
        if was is None:
            yield Change("new size", now.id)
            continue
        for what, before, after in (("price", was.price, now.price), ("cost", was.cost, now.cost)):
            if before != after:
                yield Change(what, now.id, before, after)
        if was.fill != now.fill and not event.wishes.from_past:
            yield Change("fill", now.id, was.fill, now.fill)
        if now.in_stock is not None and not now.may_buy and wanted[now.id] > now.in_stock:
            yield Change("empty jars", now.id, wanted[now.id], now.in_stock)


def _honey(
    event: PlanKept, request: PlanRequest, gone: Mapping[str, Counter[str]], rest: Mapping[str, Mapping[str, int]]
) -> Iterable[Change]:
    now = {bucket.id: bucket for bucket in request.buckets}
    fill = {size.id: size.fill for size in request.sizes}
    for each in event.buckets:
        bucket = now.pop(each.bucket, None)
        if bucket is not None and bucket.barred:
            if rest[each.bucket]:
                yield Change("on hold", each.bucket)
        elif each.bucket in gone:
            needed = sum((fill[size] * count for size, count in rest[each.bucket].items() if size in fill), NOTHING)
            if needed and (bucket is None or bucket.usable < needed):
                yield Change("too little", each.bucket, needed, bucket.usable if bucket else NOTHING)
        elif bucket is None:
            yield Change("no bucket", each.bucket, each.usable)
        elif request.leaves_out(bucket):
            yield Change("wet", each.bucket)
        elif bucket.usable != each.usable:
            what = "less honey" if bucket.usable < each.usable else "more honey"
            yield Change(what, each.bucket, each.usable, bucket.usable)
    for bucket in now.values():
        if bucket.usable and not request.leaves_out(bucket):
            yield Change("new bucket", bucket.id, None, bucket.usable)


def _still(whole: JarPlan, request: PlanRequest, rest: Iterable[tuple[KeptBucket, dict[str, int]]]) -> JarPlan:
    """What of a kept plan is still to be filled, from what the buckets hold now."""
    now = {bucket.id: bucket.usable for bucket in request.buckets}
    fill, buckets = {size.id: size.fill for size in request.sizes}, []
    for each, jars in rest:
        usable, filled = now.get(each.bucket, NOTHING), sum((fill[s] * n for s, n in jars.items()), NOTHING)
        buckets.append(BucketPlan(each.bucket, usable, jars, filled, usable - filled))
    blended = sum((Counter(blend.jars) for blend in whole.blends), Counter[str]())
    jars = {size: sum(b.jars.get(size, 0) for b in buckets) + blended[size] for size in whole.jars}
    worth = Money(sum(margin(size, jars.get(size.id, 0)) for size in request.sizes), request.currency)
    # At the prices of today, so that it can be set against another plan of today.
    return replace(whole, jars=jars, buckets=tuple(buckets), value=worth, bound=max(worth, whole.bound))


def _instead(
    kept: Booked,
    basis: PlanBasis,
    request: PlanRequest,
    rest: Iterable[tuple[KeptBucket, dict[str, int]]],
    filled: Mapping[str, Mapping[str, int]],
    changes: tuple[Change, ...],
) -> Followed:
    """The plan in place of one that no longer holds: the same wishes, what there is now."""
    found = jar_plan(request)
    sizes = {size.id for size in request.sizes}
    there = [(each, {size: n for size, n in jars.items() if size in sizes}) for each, jars in rest]
    before = _still(kept.event.plan, request, there)
    wishes = wishes_that_hold(kept.event.wishes, basis.request)
    against = difference(before, found)
    return Followed(basis, request, wishes, found, found, kept, filled, changes, against)
