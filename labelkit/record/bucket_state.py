"""Buckets folded from their events, in the order things happened."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from labelkit.lots.bucket import Blend, Bucket
from labelkit.measures import NOTHING, Mass
from labelkit.run import Run
from labelkit.trace.booked import Booked
from labelkit.trace.relabel import Relabel


def fold(events: Iterable[Booked], holdings: dict[str, int]) -> dict[str, Bucket]:
    """Buckets in the order they were first booked, from what came in and what was done to them.

    Honey of opened jars remembers what its bucket was when they were filled. Things happen by day, those of one day in
    the order they were booked: what is measured late and booked under its own day rules from that day on. A blend or a
    seed takes its parents as they stood just before.
    """
    standing = sorted((each for each in events if each.stands), key=lambda each: each.position)
    buckets = dict.fromkeys(_name(each) for each in standing if not isinstance(each.event, Run | Relabel))
    known: dict[str, Bucket] = {name: Bucket(name, NOTHING) for name in buckets}
    for booked in sorted(standing, key=lambda each: (each.day, each.position)):
        event = booked.event
        if isinstance(event, Run | Relabel):
            lot, source = (event.lot, event.bucket) if isinstance(event, Run) else (event.into, event.lines[0].lot)
            known[lot] = known.get(source) or Bucket(source, NOTHING)
            continue
        name = _name(booked)
        known[name] = known[name].after(event, known)
    return {name: replace(known[name], holds=Mass(holdings.get(name, 0))) for name in buckets}


def _name(booked: Booked) -> str:
    return booked.event.into if isinstance(booked.event, Blend) else booked.event.bucket
