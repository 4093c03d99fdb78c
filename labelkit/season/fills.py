"""Which fill of a bucket a person means, and when its name may come again."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any, TypeVar

from labelkit.errors.lots import BucketTwice
from labelkit.lots.fill import fill_id, made_by, name_on
from labelkit.measures import show_both

if TYPE_CHECKING:
    from labelkit.record.reading import Reading

Asked = TypeVar("Asked", bound=Any)


def in_current_fill(state: Reading, asked: Asked) -> Asked:
    """What somebody asks of a bucket by its name, asked of its last fill."""
    return replace(asked, bucket=state.fill(asked.bucket))


def new_fill(state: Reading, event: Asked, locale: str) -> Asked:
    """A weigh-in, delivery or blend under its name, as the next fill where that name was used and is empty now.

    Raises :class:`~labelkit.errors.lots.BucketTwice` while the last fill holds honey, or where the new one would begin
    before the last was emptied.
    """
    name = made_by(event)
    fills = state.fills(name)
    if not fills:
        return event
    last = state.bucket(fills[-1])
    if not last.is_empty:
        raise BucketTwice(name, f" ({_first_day(last)}) and still holds {show_both(last.holds, locale)}")
    emptied = max(each.day for each in state.events_about([last.id]) if each.stands and each.movements())
    if event.day < emptied:
        raise BucketTwice(name, f" ({_first_day(last)}) and was not empty before {emptied}")
    taken = state.names("bucket") - set(state.struck_fills(name))
    number = next(n for n in range(last.fill + 1, last.fill + 2 + len(taken)) if fill_id(name, n) not in taken)
    where = "into" if hasattr(event, "into") else "bucket"
    return replace(event, **{where: fill_id(name, number)}, fill=number)


def same_but_fill(before: Any, event: Any) -> bool:
    """Whether a step booked earlier is this one, whichever fill it then began."""
    where = "into" if hasattr(event, "into") else "bucket"
    return bool(replace(before, **{where: name_on(before)}, fill=1) == event)


def _first_day(bucket: Any) -> date:
    day: date = bucket.history[0].day
    return day
