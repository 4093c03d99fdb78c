"""A season as a file describes it, read: its buckets, its jar sizes, and what it wishes of the plan."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from labelkit.lots.bucket import Bucket, Drain, WeighIn, bucket_of
from labelkit.measures import NOTHING, Declared, Mass, Money


@dataclass(frozen=True, slots=True)
class PlanWishes:
    """The ``[plan]`` table, read: shares by jar size, masses to keep by name, and the margins of caution."""

    goal: str = "money"
    first: str | None = None
    mix: tuple[tuple[str, Decimal], ...] = ()
    keep: tuple[tuple[str, Mass], ...] = ()
    wet: str = "leave-out"
    join_tails: bool = False
    bucket_step: Mass = NOTHING
    jar_step: Mass = NOTHING
    hang_up: Mass = NOTHING


@dataclass(frozen=True, slots=True)
class JarWishes:
    """What a jar size of the file asks of the plan beyond its limits; ``then`` holds (after so many, price)."""

    reserve: int = 0
    may_buy: bool = False
    buy_pack: int = 1
    then: tuple[tuple[int, Money], ...] = ()
    only_from: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class FileBucket:
    """A bucket of the file: its weigh-in, what drained into it later, and what is to stay in it."""

    weigh_in: WeighIn
    drains: tuple[Drain, ...]
    hold_back: Mass
    use_first: bool = False
    tags: frozenset[str] = frozenset()

    @property
    def bucket(self) -> Bucket:
        """The bucket as it stands after everything that drained into it."""
        return bucket_of(self.weigh_in.bucket, (self.weigh_in, *self.drains))

    @property
    def usable(self) -> Mass:
        """What may be filled into jars."""
        return self.bucket.holds - self.hold_back


@dataclass(frozen=True, slots=True)
class FileJar:
    """A jar size of the file."""

    id: str
    declares: Declared
    price: Money
    cost: Money
    uses: Mass | None = None
    tare: Mass | None = None
    in_stock: int | None = None
    at_least: int = 0
    at_most: int | None = None
    case: int = 1
    priced: bool = True
    wishes: JarWishes = field(default_factory=JarWishes)


@dataclass(frozen=True, slots=True)
class SeasonFile:
    """A season file, read and found sound."""

    name: str
    currency: str
    markets: tuple[str, ...]
    locale: str
    buckets: tuple[FileBucket, ...]
    jars: tuple[FileJar, ...]
    maker: dict[str, str]
    plan: PlanWishes
    file: str
    day: date | None = None
