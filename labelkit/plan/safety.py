"""Planning so that the last jar is never short.

A scale that counts in steps shows the nearest step, so a reading may be off by half a step either way. Three things
follow, and each takes the unlucky side:

* the net weight of a bucket is the difference of two readings, so it may be a whole step of the bucket scale too high;
* a jar filled to its target by the jar scale, its tare taken on the same scale, may hold a whole step too much;
* some honey stays on the wall of the bucket, in the tap and in the strainer.

Half a step for a reading is how the resolution of a digital scale is bounded (JCGM 100:2008, F.2.2.1, from memory, as the
half-width of its rectangular distribution). How much hangs up in a bucket depends on bucket, tap and warmth; 50 to 150 g
in a 25 kg bucket is common practice, no source: weigh an emptied bucket once and use that figure.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from labelkit.errors.plan import NumberImpossible
from labelkit.errors.sentence import Figure
from labelkit.measures import NOTHING, Mass, show_metric
from labelkit.plan.request import PlanRequest


@dataclass(frozen=True, slots=True)
class Safety:
    """The steps the two scales count in, and what hangs up in a bucket."""

    bucket_division: Mass = NOTHING
    jar_division: Mass = NOTHING
    hang_up: Mass = NOTHING


def with_safety(request: PlanRequest, safety: Safety) -> PlanRequest:
    """The request with every bucket a little smaller and every jar a little larger.

    The plan of it can be filled however the scales err within their steps. A bucket that holds no more than the margin
    is planned empty.

    >>> from labelkit.plan.request import PlanBucket
    >>> request = PlanRequest((PlanBucket("B1", Mass.of_grams(10_000)),), (), "USD")
    >>> careful = Safety(Mass.of_grams(50), Mass.of_grams(1), Mass.of_grams(100))
    >>> with_safety(request, careful).buckets[0].usable.g
    Decimal('9850')
    """
    for name, mass in (
        ("bucket_division", safety.bucket_division),
        ("jar_division", safety.jar_division),
        ("hang_up", safety.hang_up),
    ):
        if mass < NOTHING:
            raise NumberImpossible("safety", name, Figure(show_metric, mass), "it cannot be below nothing")
    margin = safety.bucket_division + safety.hang_up
    buckets = tuple(replace(b, usable=max(NOTHING, b.usable - margin)) for b in request.buckets)
    sizes = tuple(replace(size, fill=size.fill + safety.jar_division) for size in request.sizes)
    return replace(request, buckets=buckets, sizes=sizes)
