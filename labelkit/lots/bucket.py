"""Buckets: what was weighed in, what drained from the cappings later, what was blended, and what is in there now."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import Any, ClassVar

from labelkit.errors.lots import (
    BlendUnclear,
    BucketTooEmpty,
    GrossBelowTare,
    MoistureUnlikely,
    WeightMissing,
)
from labelkit.errors.sentence import Figure
from labelkit.lots.event import Event
from labelkit.lots.movement import Account, Movement, moved
from labelkit.measures import NOTHING, Mass, show_both, total

# The refractometer table (Chataway) spans 13 to 25 %; heather honey and wet crops lie a little beyond.
MOISTURE_LIKELY = (Decimal(11), Decimal(30))

# What a scale for buckets shows at its finest, where nobody said the step of theirs: common practice, no source.
FINEST_STEP = Mass.of_grams(1)


@dataclass(frozen=True, slots=True)
class Source:
    """A yard, and the hives of it the honey came from."""

    yard: str
    hives: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"{self.yard} ({', '.join(self.hives)})" if self.hives else self.yard


@dataclass(frozen=True, slots=True)
class Weighing:
    """What the scale showed: gross and tare, and the step it counts in, where known."""

    gross: Mass
    tare: Mass
    division: Mass | None = None


@dataclass(frozen=True, slots=True)
class WeighIn(Event):
    """A bucket weighed in after the honey gate."""

    kind: ClassVar[str] = "weigh"
    title: ClassVar[str] = "weighed in"
    voidable: ClassVar[bool] = True
    bucket: str
    day: date
    net: Mass
    weighing: Weighing | None = None
    harvested: date | None = None
    sources: tuple[Source, ...] = ()
    plant: str | None = None
    moisture: Decimal | None = None
    container_ml: Decimal | None = None
    because: str = ""  # said by a person where the weight was asked about
    fill: int = 1  # how often this bucket was filled, this time among them
    moisture_read: Decimal | None = None  # what the refractometer showed, where that was put right

    @property
    def harvest_days(self) -> tuple[date, ...]:
        """When it came off the hives, as far as that is known."""
        return (self.harvested or self.day,)

    def movements(self) -> tuple[Movement, ...]:
        """Off the hives, into the bucket."""
        return moved(Account.HIVES, Account.BUCKET, self.bucket, self.net)


@dataclass(frozen=True, slots=True)
class Drain(Event):
    """Honey that drained from the cappings and was added to a bucket on a later day."""

    kind: ClassVar[str] = "drain"
    title: ClassVar[str] = "drained later"
    voidable: ClassVar[bool] = True
    bucket: str
    day: date
    net: Mass
    weighing: Weighing | None = None
    harvested: date | None = None
    sources: tuple[Source, ...] = ()
    moisture: Decimal | None = None
    because: str = ""  # said by a person where the weight was asked about
    moisture_read: Decimal | None = None  # what the refractometer showed, where that was put right

    @property
    def harvest_days(self) -> tuple[date, ...]:
        """Its own day where it was said: cappings drain for days, and came off with the bucket's own honey."""
        return (self.harvested,) if self.harvested else ()

    def movements(self) -> tuple[Movement, ...]:
        """Off the hives (by way of the cappings), into the bucket."""
        return moved(Account.HIVES, Account.BUCKET, self.bucket, self.net)


@dataclass(frozen=True, slots=True)
class Part:
    """So much out of one bucket."""

    bucket: str
    mass: Mass


@dataclass(frozen=True, slots=True)
class Opened:
    """So many jars of one size emptied into a bucket, and what was in them together."""

    size: str
    count: int
    mass: Mass


@dataclass(frozen=True, slots=True)
class Blend(Event):
    """Honey of several buckets put together under a new name."""

    kind: ClassVar[str] = "blend"
    title: ClassVar[str] = "blended"
    voidable: ClassVar[bool] = True
    into: str
    day: date
    parts: tuple[Part, ...]
    fill: int = 1

    @property
    def mass(self) -> Mass:
        """What the blend holds."""
        return total(part.mass for part in self.parts)

    def movements(self) -> tuple[Movement, ...]:
        """Out of each parent, into the blend."""
        return (
            *(Movement(Account.BUCKET, part.bucket, -part.mass) for part in self.parts),
            Movement(Account.BUCKET, self.into, self.mass),
        )


def net_of(
    bucket: str,
    net: Mass | None,
    gross: Mass | None,
    tare: Mass | None,
    division: Mass | None = None,
    *,
    locale: str,
) -> tuple[Mass, Weighing | None]:
    """The net weight and the weighing behind it, from whichever was given.

    Raises :class:`~labelkit.errors.lots.WeightMissing` or :class:`~labelkit.errors.lots.GrossBelowTare`.

    >>> net_of("B1", None, Mass.read("28.4 kg", "en_US"), Mass.read("1.1 kg", "en_US"), locale="en_US")[0]
    Mass(mg=27300000)
    """
    if net is not None and gross is None and tare is None:
        return net, None
    if net is None and gross is not None and tare is not None:
        if gross <= tare:
            raise GrossBelowTare(bucket, show_both(gross, locale), show_both(tare, locale))
        return gross - tare, Weighing(gross, tare, division)
    words = [
        word for word, there in zip(("net", "gross", "tare"), (net, gross, tare), strict=True) if there is not None
    ]
    raise WeightMissing(
        bucket,
        f"only {words[0]} is given"
        if len(words) == 1
        else f"{', '.join(words)} are all given"
        if words
        else "no weight is given",
    )


def check_moisture(bucket: str, moisture: Decimal | None) -> None:
    """Refuse a moisture honey cannot have, and say what was probably meant.

    >>> check_moisture("B1", Decimal("17.6"))
    """
    if moisture is None or MOISTURE_LIKELY[0] <= moisture <= MOISTURE_LIKELY[1]:
        return
    if 70 <= moisture <= 87:
        guess = f"{moisture} looks like the solids (then the moisture is {100 - moisture} %) or a Brix reading."
    elif moisture < 1:
        guess = f"{moisture} looks like a fraction (then the moisture is {moisture * 100} %)."
    else:
        guess = "the figure belongs to something else."
    raise MoistureUnlikely(bucket, str(moisture), guess)


def check_blend(into: str, parts: tuple[Part, ...]) -> None:
    """Refuse a blend that is none.

    >>> check_blend("M1", (Part("B1", Mass(1)), Part("B2", Mass(1))))
    """
    names = [part.bucket for part in parts]
    if not into.strip():
        raise BlendUnclear(into, "it has no name of its own")
    if len(set(names)) < 2:
        raise BlendUnclear(into, f"it names only {', '.join(names) or 'no bucket'}")
    if len(set(names)) < len(names):
        twice = next(name for name in names if names.count(name) > 1)
        raise BlendUnclear(into, f"bucket {twice} is named twice")
    if into in names:
        raise BlendUnclear(into, "the blend has the name of one of its own parts")


@dataclass(frozen=True, slots=True)
class BucketStep(Event):
    """Something that happens to the honey in a bucket after it was weighed in.

    ``held`` is what the bucket held by the record just before. Every step names its bucket by a movement, of nothing
    where no honey moved, so that it is found with the bucket and obeys the order of days.
    """

    voidable: ClassVar[bool] = True
    bucket: str
    day: date
    held: Mass

    def of(self, bucket: Bucket, others: Mapping[str, Bucket]) -> Bucket:
        """The bucket as it is remembered after this step; ``others`` are the other buckets as they stood then."""
        return bucket

    def found_more(self, more: Mass) -> BucketStep:
        """The same step, had the bucket held ``more`` before it."""
        return replace(self, held=self.held + more)


@dataclass(frozen=True, slots=True)
class Bucket:
    """A bucket lot as it stands now, with all it remembers."""

    id: str
    holds: Mass
    came_in: Mass = NOTHING
    moisture: Decimal | None = None  # by mass over the parts whose moisture is known
    moisture_known_for: Mass = NOTHING
    moisture_of: Mass = NOTHING  # what it would have to be known for: all that came in, or what was last measured
    water: Decimal = Decimal(0)  # of the known parts, exact: milligrams times per cent
    sources: tuple[Source, ...] = ()
    suppliers: tuple[str, ...] = ()  # of what was bought in
    harvested: tuple[date, ...] = ()
    plants: tuple[str, ...] = ()
    parents: tuple[Part, ...] = ()
    hottest_c: Decimal | None = None  # the warmest it is known to have been; None where no warming was booked
    warm_hours: Decimal = Decimal(0)
    history: tuple[Any, ...] = field(default=(), compare=False)  # its own weigh-in, receipt, drains, blend and steps

    @property
    def moisture_is_whole(self) -> bool:
        """Whether the moisture is known of all of it."""
        return self.moisture is not None and self.moisture_known_for == self.moisture_of

    @property
    def fill(self) -> int:
        """How often the bucket was filled, this time among them."""
        return next((event.fill for event in self.history if hasattr(event, "fill")), 1)

    @property
    def is_empty(self) -> bool:
        """Whether something was taken out of it and less is left than its scale can show: the rest is on paper only."""
        divisions = [event.weighing.division for event in self.history if getattr(event, "weighing", None)]
        step = max((division for division in divisions if division), default=FINEST_STEP)
        return self.holds.mg <= 0 or (self.holds < self.came_in and self.holds < step)

    def without(self, wanted: Mass) -> Mass:
        """What is left after taking so much. Raises :class:`~labelkit.errors.lots.BucketTooEmpty`."""
        if wanted > self.holds:
            raise BucketTooEmpty(
                self.id,
                Figure(show_both, wanted),
                Figure(show_both, self.holds),
                Figure(show_both, wanted - self.holds),
            )
        return self.holds - wanted

    def measured(self, mass: Mass, moisture: Decimal) -> Bucket:
        """The same bucket, all of it known to be of this moisture."""
        return replace(
            self,
            moisture=moisture,
            moisture_known_for=mass,
            moisture_of=mass,
            water=mass.mg * moisture,
        )

    def poured(self, mass: Mass, moisture: Decimal | None) -> Bucket:
        """The same bucket with so much more in it."""
        whole = replace(self, came_in=self.came_in + mass, moisture_of=self.moisture_of + mass)
        if moisture is None:
            return whole
        known, water = self.moisture_known_for + mass, self.water + mass.mg * moisture
        return replace(whole, moisture=water / known.mg, moisture_known_for=known, water=water)

    def from_parent(self, part: Part, parent: Bucket) -> Bucket:
        """The same bucket with a part of another in it, and all that one remembers."""
        known = [warmth for warmth in (self.hottest_c, parent.hottest_c) if warmth is not None]
        return replace(
            self.poured(part.mass, parent.moisture),
            parents=(*self.parents, part),
            sources=_together(self.sources, parent.sources),
            suppliers=tuple(sorted({*self.suppliers, *parent.suppliers})),
            harvested=tuple(sorted({*self.harvested, *parent.harvested})),
            plants=tuple(sorted({*self.plants, *parent.plants})),
            hottest_c=max(known, default=None),
            warm_hours=max(self.warm_hours, parent.warm_hours),
        )

    def after(self, event: Any, others: Mapping[str, Bucket]) -> Bucket:
        """The bucket once this happened to it; ``others`` are the other buckets as they stood then."""
        bucket = replace(self, history=(*self.history, event))
        if isinstance(event, BucketStep):
            return event.of(bucket, others)
        if isinstance(event, Blend):
            for part in event.parts:
                bucket = bucket.from_parent(part, others.get(part.bucket) or Bucket(part.bucket, NOTHING))
            return bucket
        bucket = bucket.poured(event.net, event.moisture)
        supplier, plant = getattr(event, "supplier", ""), getattr(event, "plant", None)
        return replace(
            bucket,
            sources=_together(bucket.sources, getattr(event, "sources", ())),
            suppliers=tuple(sorted({*bucket.suppliers, *filter(None, [supplier])})),
            harvested=tuple(sorted({*bucket.harvested, *event.harvest_days})),
            plants=tuple(sorted({*bucket.plants, *filter(None, [plant])})),
        )


def _together(sources: Iterable[Source], more: Iterable[Source]) -> tuple[Source, ...]:
    hives: dict[str, set[str]] = {}
    for source in (*sources, *more):
        hives.setdefault(source.yard, set()).update(source.hives)
    return tuple(Source(yard, tuple(sorted(names))) for yard, names in sorted(hives.items()))


def bucket_of(id: str, events: Iterable[Any], parents: Iterable[Bucket] = ()) -> Bucket:
    """A bucket as its own events left it, and its parents as they were at the blend; nothing has gone out of it.

    >>> filled = WeighIn("B1", date(2026, 7, 14), Mass.of_grams(20000), moisture=Decimal("17.0"))
    >>> added = Drain("B1", date(2026, 7, 17), Mass.of_grams(5000), moisture=Decimal("18.0"))
    >>> bucket = bucket_of("B1", [filled, added])
    >>> bucket.holds.kg, bucket.moisture
    (Decimal('25'), Decimal('17.2'))
    """
    others = {parent.id: parent for parent in parents}
    bucket = Bucket(id, NOTHING)
    for event in events:
        bucket = bucket.after(event, others)
    return replace(bucket, holds=bucket.came_in)
