"""Buckets folded from their events, in the order things happened."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from labelkit.lots.bucket import Blend, Bucket
from labelkit.measures import NOTHING, Mass
from labelkit.trace.booked import Booked


def fold(events: Iterable[Booked], holdings: dict[str, int]) -> dict[str, Bucket]:
    """Buckets in the order they were first booked, from what came in and what was done to them.

    Things happen by day, those of one day in the order they were booked: what is measured late and booked under its own
    day rules from that day on. A blend or a seed takes its parents as they stood just before.
    """
    standing = sorted((each for each in events if each.stands), key=lambda each: each.position)
    known: dict[str, Bucket] = {name: Bucket(name, NOTHING) for name in map(_name, standing)}
    for booked in sorted(standing, key=lambda each: (each.day, each.position)):
        name = _name(booked)
        known[name] = known[name].after(booked.event, known)
    return {name: replace(bucket, holds=Mass(holdings.get(name, 0))) for name, bucket in known.items()}


def _name(booked: Booked) -> str:
    return booked.event.into if isinstance(booked.event, Blend) else booked.event.bucket
