"""The last steps of the record, and which of them may be undone by a correction."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice
from typing import Any

_SEARCHED = 400
_SETTINGS = {
    "label": "the labels say",
    "situation": "how you work",
    "maker": "the name on the jars",
    "market": "sold in",
    "units": "weights shown first",
    "numbers": "numbers like",
    "language": "papers in",
}


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
    return [_step(each, locale) for each in reversed(found)]


def undoable(state: Any, locale: str) -> Step | None:
    """The last step that stands and that a correction can take back."""
    for each in islice(state.latest(), _SEARCHED):
        if each.kind == "correct":
            continue
        if each.stands:
            return _step(each, locale) if each.event.voidable else None
    return None


def _step(each: Any, locale: str) -> Step:
    may = each.stands and each.event.voidable
    if each.kind == "set":
        how, says = _SETTINGS.get(each.event.name, each.event.name), _flat(each.event.value)
    else:
        how, says = each.event.title, each.event.describe(locale)
    return Step(each.seq, each.day, how, says, each.who, each.struck_by, may)


def _flat(value: Any) -> str:
    """A setting's value in words.

    >>> _flat({"name": "Clover Honey", "lines": ["Raw"], "jars": {"pound": {"diameter": "3 in"}}, "cold": True})
    'Clover Honey, Raw, pound 3 in, cold yes'
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list | tuple):
        return ", ".join(map(_flat, value))
    if isinstance(value, dict):
        return ", ".join(_flat(v) if isinstance(v, str | list) else _named(k, v) for k, v in value.items())
    return str(value)


def _named(name: str, value: Any) -> str:
    if isinstance(value, dict) and value and all(isinstance(each, dict) for each in value.values()):
        return ", ".join(f"{key} {_flat(each)}" for key, each in value.items())
    return f"{name.replace('_', ' ')} {_flat(value)}"
