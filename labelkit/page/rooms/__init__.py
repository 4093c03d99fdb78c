"""The rooms of the page, one for each part of the season."""

from __future__ import annotations

from collections.abc import Iterator

from flask import Blueprint


def every_room() -> Iterator[Blueprint]:
    """Every room, in the order of the season."""
    from labelkit.page.rooms import (
        bottle,
        buckets,
        enter,
        files,
        filling,
        jars,
        labels,
        plan,
        recall,
        record,
        season,
        sell,
        stall,
        start,
        trace,
        words,
        work,
    )

    for module in (
        files,
        enter,
        work,
        start,
        season,
        buckets,
        jars,
        plan,
        filling,
        bottle,
        words,
        labels,
        sell,
        stall,
        trace,
        recall,
        record,
    ):
        yield module.room
