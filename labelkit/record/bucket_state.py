"""Buckets folded from their events, in the order things count."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from labelkit.lots.bucket import Blend, Bucket, bucket_of
from labelkit.measures import Mass
from labelkit.trace.booked import Booked


def fold(intake: Iterable[Booked], holdings: dict[str, int]) -> dict[str, Bucket]:
    """Buckets from their intake events in order; a blend takes its parents as they were just before it."""
    history: dict[str, list] = defaultdict(list)
    parents: dict[str, list[Bucket]] = defaultdict(list)
    for booked in sorted((each for each in intake if each.stands), key=lambda each: each.position):
        happened = booked.event
        name = happened.into if isinstance(happened, Blend) else happened.bucket
        if isinstance(happened, Blend):
            parents[name] += [
                bucket_of(part.bucket, history[part.bucket], parents[part.bucket]) for part in happened.parts
            ]
        history[name].append(happened)
    return {
        name: _as_it_stands(name, history[name], parents[name], holdings.get(name, 0))
        for name in history
        if history[name]
    }


def _as_it_stands(name: str, history: list, parents: list[Bucket], holds: int) -> Bucket:
    whole = bucket_of(name, history, parents)
    return bucket_of(name, history, parents, gone=whole.holds - Mass(holds))
