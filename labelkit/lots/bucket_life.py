"""What happens to the honey in a bucket between weigh-in and jar: measured again, treated, taken out otherwise than in jars.

Three kinds of event over one base. Each says what the bucket held by the record before it, so that its masses close by
themselves, and each says how much it moved to which account.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import ClassVar

from labelkit.lots.bucket import Bucket, BucketStep, Opened, Part, Weighing
from labelkit.lots.event import Event
from labelkit.lots.movement import Account, Movement, moved
from labelkit.measures import NOTHING, Mass, Money, show_first
from labelkit.measures.locales import show_number
from labelkit.measures.mass import GRAMS_PER_POUND
from labelkit.measures.rounding import HALF_UP, to_step
from labelkit.measures.wording import ENGLISH, Wording

SKIMMED, DRIED, WARMED, STIRRED = "skimmed", "dried", "warmed", "stirred"
SOLD, FED, GIVEN, DISCARDED = "sold", "fed", "given", "discarded"
WENT_TO = {SOLD: Account.SOLD, FED: Account.FED, GIVEN: Account.GIVEN, DISCARDED: Account.DISCARDED}
GRAMS_PER = {"kg": Decimal(1000), "lb": GRAMS_PER_POUND}


@dataclass(frozen=True, slots=True)
class Measured(BucketStep):
    """A bucket weighed again, its moisture measured, or both. What was measured rules from its day on."""

    kind: ClassVar[str] = "measure"
    title: ClassVar[str] = "measured again"
    ignores_holds: ClassVar[bool] = True
    net: Mass | None = None
    weighing: Weighing | None = None
    moisture: Decimal | None = None
    instrument: str = ""
    because: str = ""
    moisture_read: Decimal | None = None  # what the instrument showed, where that was put right

    def movements(self) -> tuple[Movement, ...]:
        """What the scale does not find, out of the bucket; what it finds beyond the record, into it."""
        return moved(Account.BUCKET, Account.REWEIGHED, self.bucket, self.held - (self.net or self.held))

    def of(self, bucket: Bucket, others: Mapping[str, Bucket]) -> Bucket:
        """All of it of the moisture that was measured."""
        return bucket if self.moisture is None else bucket.measured(self.net or self.held, self.moisture)

    def describe(self, locale: str, words: Wording = ENGLISH) -> str:
        """Return the event in a few words, for lists.

        >>> Measured("B1", date(2026, 7, 20), Mass.of_grams(20_000), moisture=Decimal("18.4"), instrument="R2").describe("en_US")
        'B1 18.4 % water by R2'
        """
        found = []
        if self.net is not None:
            more = self.net - self.held
            found.append(show_first(self.net, locale))
            if more.mg > 0:
                found[-1] += words(", {mass} more than the record had", mass=show_first(more, locale))
            if more.mg < 0:
                found[-1] += words(", {mass} less than the record had", mass=show_first(-more, locale))
        if self.moisture is not None:
            found.append(words("{percent} % water", percent=show_number(self.moisture, locale)))
        if self.moisture_read is not None:
            found[-1] += words(" ({percent} % read)", percent=show_number(self.moisture_read, locale))
        by = words(" by {instrument}", instrument=self.instrument) if self.instrument else ""
        return f"{self.bucket} {', '.join(found)}{by}" + (f": {self.because}" if self.because else "")


@dataclass(frozen=True, slots=True)
class Treated(BucketStep):
    """Honey skimmed, dried, warmed, or stirred, with seed or without; what went is named: water, or foam and wax."""

    kind: ClassVar[str] = "treat"
    title: ClassVar[str] = "treated"
    how: str
    after: Mass
    moisture: Decimal | None = None  # afterwards
    hottest_c: Decimal | None = None
    hours: Decimal | None = None
    seed: Part | None = None
    because: str = ""
    after_was_weighed: bool = False
    opened: tuple[Opened, ...] = ()  # the jars the seed was in, where it came from a lot and not from a bucket

    @property
    def gone(self) -> Mass:
        """The water or the foam that went."""
        return self.held + (self.seed.mass if self.seed else NOTHING) - self.after

    def movements(self) -> tuple[Movement, ...]:
        """The seed into the bucket; what went out of it."""
        gone = moved(Account.BUCKET, Account.WATER if self.how == DRIED else Account.LOST, self.bucket, self.gone)
        if self.seed is None:
            return gone
        jars = [Movement(Account.JARS, self.seed.bucket, -jar.mass, jar.size, -jar.count) for jar in self.opened]
        return (
            *(jars or [Movement(Account.BUCKET, self.seed.bucket, -self.seed.mass)]),
            Movement(Account.BUCKET, self.bucket, self.seed.mass),
            *(gone if self.gone else ()),
        )

    def of(self, bucket: Bucket, others: Mapping[str, Bucket]) -> Bucket:
        """Drier, warmer, or with the seed's parents."""
        if self.moisture is not None:
            bucket = bucket.measured(self.after, self.moisture)
        if self.seed is not None:
            bucket = bucket.from_parent(self.seed, others.get(self.seed.bucket) or Bucket(self.seed.bucket, NOTHING))
        if self.hottest_c is not None:
            hottest = max(self.hottest_c, bucket.hottest_c or self.hottest_c)
            bucket = replace(bucket, hottest_c=hottest, warm_hours=bucket.warm_hours + (self.hours or 0))
        return bucket

    def found_more(self, more: Mass) -> BucketStep:
        """A bucket weighed afterwards holds that; else the same went out of it, or water in proportion, to one moisture."""
        held = self.held + more
        if self.after_was_weighed:
            return replace(self, held=held)
        dried = self.how == DRIED and self.held
        after = self.after.times(Decimal(held.mg) / self.held.mg) if dried else self.after + more
        return replace(self, held=held, after=after)

    def describe(self, locale: str, words: Wording = ENGLISH) -> str:
        """Return the event in a few words, for lists.

        >>> kg = Mass.of_grams(20_000)
        >>> Treated("B1", date(2026, 7, 20), kg, DRIED, kg - Mass.of_grams(400), Decimal("17.9")).describe("en_US")
        'B1 dried: 400 g of water gone, 17.9 % water left'
        """
        said = []
        if self.gone:
            gone = show_first(self.gone, locale)
            said.append(
                words("{mass} of water gone", mass=gone) if self.how == DRIED else words("{mass} taken off", mass=gone)
            )
        if self.moisture is not None:
            said.append(words("{percent} % water left", percent=show_number(self.moisture, locale)))
        if self.hottest_c is not None:
            said.append(words("at most {warmth} °C", warmth=show_number(self.hottest_c, locale)))
            if self.hours is not None:
                said[-1] += words(" for {hours} h", hours=show_number(self.hours, locale))
        if self.seed is not None:
            jars = "".join(f", {jar.count} × {jar.size}" for jar in self.opened)
            seed = show_first(self.seed.mass, locale)
            said.append(words("{mass} of {source} as seed", mass=seed, source=f"{self.seed.bucket}{jars}"))
        what = f"{self.bucket} {words(self.how)}" + (f": {', '.join(said)}" if said else "")
        return what + (f"; {self.because}" if self.because else "")


@dataclass(frozen=True, slots=True)
class TakenOut(BucketStep):
    """Honey that left its bucket otherwise than in jars: sold in bulk, fed back to bees, given, or discarded."""

    kind: ClassVar[str] = "take-out"
    title: ClassVar[str] = "taken out of the bucket"
    how: str
    mass: Mass
    weighing: Weighing | None = None
    customer: str | None = None
    address: tuple[str, ...] = ()
    rate: Money | None = None  # for one kg or lb
    per: str = "kg"
    because: str = ""

    @property
    def price(self) -> Money | None:
        """What the buyer pays for all of it: mass times rate, half up to the minor unit."""
        return Money.rounded(self.quantity * self.rate.amount, self.rate.currency, HALF_UP) if self.rate else None

    @property
    def quantity(self) -> Decimal:
        """The mass in the unit of its price, half up to four decimals: finer than any scale that weighs buckets."""
        return to_step(self.mass.g / GRAMS_PER[self.per], Decimal("0.0001"), HALF_UP)

    def movements(self) -> tuple[Movement, ...]:
        """Out of the bucket, to where it went."""
        return moved(Account.BUCKET, WENT_TO.get(self.how, Account.DISCARDED), self.bucket, self.mass)

    def found_more(self, more: Mass) -> BucketStep:
        """Where all of it went, all of what was really there went."""
        all_went = self.mass == self.held and self.weighing is None
        return replace(self, held=self.held + more, mass=self.mass + more if all_went else self.mass)

    def describe(self, locale: str, words: Wording = ENGLISH) -> str:
        """Return the event in a few words, for lists.

        >>> TakenOut("B1", date(2026, 7, 20), Mass.of_grams(9), FED, Mass.of_grams(9), because="to yard 2").describe("en_US")
        'B1 9 g fed back to the bees: to yard 2'
        """
        how = words("fed back to the bees") if self.how == FED else words(self.how)
        whom = words(" to {whom}", whom=self.customer) if self.customer else ""
        price = words(" for {price}", price=self.price.show(locale)) if self.price else ""
        why = f": {self.because}" if self.because else ""
        return f"{self.bucket} {show_first(self.mass, locale)} {how}{whom}{price}{why}"


@dataclass(frozen=True, slots=True)
class Note(Event):
    """Words somebody wants kept with buckets or lots. The words may be about people, so they stand outside the chain."""

    kind: ClassVar[str] = "note"
    title: ClassVar[str] = "noted"
    voidable: ClassVar[bool] = True
    day: date
    lots: tuple[str, ...]
    note: str
    customer: str | None = None
    ends: str = ""  # the reminder it ends: drain

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        whom = f" ({self.customer})" if self.customer else ""
        return f"{', '.join(self.lots)}{whom}: {self.note}"
