"""The last steps of the record, and which of them may be undone by a correction."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice
from typing import Any

_SEARCHED = 400


@dataclass(frozen=True, slots=True)
class Step:
    """One booked event, for people."""

    seq: int
    day: Any
    how: str
    says: str
    who: str
    struck_by: int | None
    may_undo: bool


def steps(state: Any, locale: str, count: int, before: int | None = None) -> list[Step]:
    """The last events, newest first; ``before`` a number to page back."""
    head = state.head().seq
    end = min(head, (before or head + 1) - 1)
    found = [each for each in state.events(after=max(0, end - count)) if each.seq <= end]
    return [step(each, locale) for each in reversed(found)]


def undoable(state: Any, locale: str) -> Step | None:
    """The last step that stands and that a correction can take back."""
    for each in islice(state.latest(), _SEARCHED):
        if each.kind == "correct":
            continue
        if each.stands:
            return step(each, locale) if each.event.voidable else None
    return None


def step(each: Any, locale: str) -> Step:
    """One event as a list shows it."""
    may = each.stands and each.event.voidable
    if each.kind == "set":
        how, says = each.event.subject, each.event.in_words
    else:
        how, says = each.event.title, each.event.describe(locale)
    return Step(each.seq, each.day, how, says, each.who, each.struck_by, may)
