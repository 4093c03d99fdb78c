"""Forget: take a person out of the record and of everything labelkit made from it, as far as a program can."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from labelkit.record.forgetting import Cleared
    from labelkit.season.context import Season


@dataclass(frozen=True, slots=True)
class Forgotten:
    """The event that says so, the numbers that stand where names were, and what was cleared and what remains."""

    event: int
    numbers: tuple[int, ...]
    cleared: Cleared


def forget(season: Season, name: str, because: str, day: date, once: str | None = None) -> Forgotten:
    """Forget a customer, or an address alone.

    Raises :class:`~labelkit.errors.record.LotUnknown` where nothing of that name is kept.
    """
    from labelkit.record.forgetting import clear_everywhere

    texts: tuple[str, ...] = (name,)
    with season.work(once) as work:
        if work.booked_before:
            booked = work.booked_before[0]
        else:
            before = {each.number: each.text for each in work.people.all()}
            booked = work.forget(name, because, day=day)
            texts = tuple(text for number in booked.event.numbers if (text := before[number]))
    return Forgotten(booked.seq, booked.event.numbers, clear_everywhere(season.record, texts))


def protect_names(season: Season, day: date) -> int | None:
    """Commit to every name that is only numbered so far; the event that does, or nothing where there is none."""
    with season.work() as work:
        booked = work.protect(day=day)
    return booked.seq if booked else None
