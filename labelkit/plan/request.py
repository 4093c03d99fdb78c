"""What is asked of a jar plan: the honey there is, the jars there are, and what a good plan is.

Everything here is a frozen record of whole numbers; nothing is solved. A jar takes its *fill*, the mass that really
goes into it, and is filled from one bucket.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from labelkit.errors.sentence import Figure, Sentence
from labelkit.measures import NOTHING, Declared, Mass, Money
from labelkit.measures.locales import show_number


class Goal(StrEnum):
    """What the plan is to be good at. Money always decides between plans that are equally good at it."""

    MONEY = "most money"
    MIX = "wished mix"
    LEAST_LEFT = "least left over"
    SIZE_FIRST = "one size first"


class Wet(StrEnum):
    """What to do with a bucket whose moisture is over its ceiling."""

    LEAVE_OUT = "leave out"
    ALLOW = "allow"


@dataclass(frozen=True, slots=True)
class Step:
    """From the jar after ``after`` on, one more jar of the size is sold at ``price``.

    The price may only fall: the tenth customer pays no more than the first.
    """

    after: int
    price: Money


@dataclass(frozen=True, slots=True)
class JarSize:
    """A jar size: what goes in, what it brings and costs, and how many there may be.

    ``at_least`` and ``at_most`` count jars for sale. ``reserve`` jars (helpers, family, gifts, show) are filled on top
    of them and bring nothing. ``in_stock`` counts empty jars at hand, reserve included, and is a hard limit unless
    ``may_buy``; bought jars come in whole packs of ``buy_pack``. ``case`` jars go into a case, and only whole cases are
    filled. ``only_from`` names tags a bucket must carry to go into this jar (“organic”, “heather”, a yard).
    """

    id: str
    declares: Declared
    fill: Mass
    price: Money
    cost: Money
    in_stock: int | None = None
    at_least: int = 0
    at_most: int | None = None
    case: int = 1
    reserve: int = 0
    steps: tuple[Step, ...] = ()
    only_from: frozenset[str] = frozenset()
    may_buy: bool = False
    buy_pack: int = 1


@dataclass(frozen=True, slots=True)
class PlanBucket:
    """A bucket to plan with: what may leave it, and what is known about it.

    ``usable`` is what may be filled, whatever stays in the bucket already taken off. ``ceiling`` is the market's moisture
    limit in per cent; a bucket above it is wet. ``tags`` say what the honey is (plant source, yard, organic). A
    ``use_first`` bucket, older or wetter than the rest, is emptied until no jar fits any more. ``barred`` says why a bucket
    may not be planned with whatever is wished; empty where it may.
    """

    id: str
    usable: Mass
    moisture: Decimal | None = None
    ceiling: Decimal | None = None
    tags: frozenset[str] = frozenset()
    use_first: bool = False
    hives: int = 0
    barred: str = ""

    @property
    def is_wet(self) -> bool:
        """Whether the moisture is known to be over the ceiling."""
        return self.moisture is not None and self.ceiling is not None and self.moisture > self.ceiling


@dataclass(frozen=True, slots=True)
class Keep:
    """Honey kept unbottled, for winter feed for example: this much, out of one bucket."""

    id: str
    mass: Mass


@dataclass(frozen=True, slots=True)
class Joining:
    """Leave to join the tails of buckets that carry the same tags into a blend lot of its own."""

    most_buckets: int = 4
    largest_tail: Mass | None = None  # a tail heavier than this stays where it is
    effort: Money | None = None  # what the work of pouring one tail over is worth; no tail is joined for less


@dataclass(frozen=True, slots=True)
class PlanRequest:
    """All that is asked of one plan.

    ``mix`` goes with :attr:`Goal.MIX`: jar size id to its share of the jars (any positive numbers, only their ratio
    counts). ``first`` goes with :attr:`Goal.SIZE_FIRST`. ``patience`` says how much work the search may do before it
    answers with the best plan so far and an honest bound; it counts work and not seconds, so that the same request gives
    the same plan on any machine.
    """

    buckets: tuple[PlanBucket, ...]
    sizes: tuple[JarSize, ...]
    currency: str
    goal: Goal = Goal.MONEY
    mix: tuple[tuple[str, Decimal], ...] = ()
    first: str | None = None
    wet: Wet = Wet.LEAVE_OUT
    keep: tuple[Keep, ...] = ()
    joining: Joining | None = None
    patience: int = 1

    def leaves_out(self, bucket: PlanBucket) -> str:
        """Why a bucket is not planned with; nothing where it is."""
        if bucket.barred:
            return bucket.barred
        if bucket.is_wet and self.wet is Wet.LEAVE_OUT and bucket.moisture is not None:
            return Sentence(
                "moisture {share} % is over the limit of {limit} %",
                share=Figure(show_number, bucket.moisture),
                limit=Figure(show_number, bucket.ceiling),
            )
        return ""

    @property
    def usable(self) -> Mass:
        """All the honey asked about, wet buckets included."""
        return sum((bucket.usable for bucket in self.buckets), NOTHING)
