"""Blend: honey of several buckets put together under a new name that keeps every parent."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from labelkit.lots.bucket import Blend, Part, check_blend
from labelkit.lots.fill import name_on
from labelkit.season.fills import new_fill
from labelkit.season.once import booked_once

if TYPE_CHECKING:
    from labelkit.lots.bucket import Bucket
    from labelkit.measures import Mass
    from labelkit.record.work import Work


@dataclass(frozen=True, slots=True)
class Blending:
    """The new name, and each bucket with how much of it goes in: all of it where nothing is said."""

    into: str
    parts: tuple[tuple[str, Mass | None], ...]


def blend(work: Work, asked: Blending, day: date, locale: str) -> Bucket:
    """Book the blend, and give it as it stands then. Raises :class:`~labelkit.errors.lots.BlendUnclear`."""
    named = [(work.fill(name), mass) for name, mass in asked.parts]
    before = booked_once(
        work,
        Blend.kind,
        lambda event: (
            (name_on(event), [part.bucket for part in event.parts]) == (asked.into, [name for name, _ in named])
        ),
    )
    if before is None:
        parts = tuple(Part(name, mass or work.bucket(name).holds) for name, mass in named)
        check_blend(asked.into, parts)
        before = work.add(new_fill(work, Blend(asked.into, day, parts), locale))
    return work.bucket(before.event.into)
