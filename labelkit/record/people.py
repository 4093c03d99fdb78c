"""People: kept outside the chain under a number, as far as a recall needs them, and no longer.

An event never holds a customer's name or address, only a number (``~7``) for it. What the number stands for is in a
table of its own, the only one that may be changed. Forgetting a person empties that place; the events, their hashes and
every count stay as they are, and show a number where the name was.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import Any, ClassVar

from labelkit.lots.event import Event
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.record.engine import sa
from labelkit.record.settings import Setting
from labelkit.record.tables import person

# The fields of events that name a person or tell where one lives.
PERSONAL = ("customer", "supplier", "address", "phone", "email", "carrier", "consignor", "consignee", "note")
_SETTING = "customer "  # settings of this name, and the customer's after it, say what is remembered about one
_NUMBER = re.compile(r"~(\d+)")
_FORGOTTEN = re.compile(r"\(forgotten (\d+)\)")


@dataclass(frozen=True, slots=True)
class Forget(Event):
    """What these numbers stood for was taken out on this day, and why."""

    kind: ClassVar[str] = "forget"
    title: ClassVar[str] = "forgotten"
    day: date
    numbers: tuple[int, ...]
    because: str

    def describe(self, locale: str = DEFAULT_LOCALE) -> str:
        """Return the event in a few words, for lists."""
        return f"number {', '.join(map(str, self.numbers))}: {self.because}"


class People:
    """Texts and their numbers, over one connection."""

    def __init__(self, connection: sa.Connection) -> None:
        self._connection = connection
        self._texts: dict[int, str | None] = {}
        self._numbers: dict[str, int] = {}

    def number_of(self, text: str) -> int | None:
        """The number a text is kept under; nothing where it is not kept."""
        if forgotten := _FORGOTTEN.fullmatch(text):
            return int(forgotten[1])
        if text not in self._numbers:
            found = self._connection.execute(sa.select(person.c.number).where(person.c.text == text)).scalar()
            if found is None:
                return None
            self._numbers[text] = found
        return self._numbers[text]

    def text_of(self, number: int) -> str:
        """What a number stands for, or that it was forgotten."""
        if number not in self._texts:
            kept = sa.select(person.c.text).where(person.c.number == number)
            self._texts[number] = self._connection.execute(kept).scalar()
        text = self._texts[number]
        return f"(forgotten {number})" if text is None else text

    def keep(self, text: str) -> int:
        """The number of a text, a new one where it has none yet."""
        number = self.number_of(text)
        if number is None:
            last = self._connection.execute(sa.select(sa.func.max(person.c.number))).scalar() or 0
            number = last + 1
            self._connection.execute(person.insert(), {"number": number, "text": text})
            self._numbers[text], self._texts[number] = number, text
        return number

    def forget(self, numbers: Iterable[int]) -> None:
        """Take out what these numbers stand for; the numbers stay taken."""
        wanted = tuple(numbers)
        self._connection.execute(person.update().where(person.c.number.in_(wanted)).values(text=None))
        self._texts.clear()
        self._numbers.clear()

    def masked(self, event: Any) -> Any:
        """An event with numbers in place of people."""
        return _changed(event, lambda text: f"~{self.keep(text)}")

    def unmasked(self, event: Any) -> Any:
        """An event with people in place of numbers."""
        return _changed(event, self.said)

    def said(self, text: str) -> str:
        """A text, or what a number stands for."""
        found = _NUMBER.fullmatch(text)
        return self.text_of(int(found[1])) if found else text


def numbers_in(event: Any) -> frozenset[int]:
    """The numbers a masked event holds."""
    found: set[int] = set()

    def note(text: str) -> str:
        if number := _NUMBER.fullmatch(text):
            found.add(int(number[1]))
        return text

    _changed(event, note)
    return frozenset(found)


def personal_texts(event: Any) -> list[str]:
    """The texts of an event that are kept outside the chain."""
    found: list[str] = []

    def note(text: str) -> str:
        found.append(text)
        return text

    _changed(event, note)
    return found


def names(masked: Any, number: int) -> bool:
    """Whether a masked event is about the customer of this number."""
    return getattr(masked, "customer", None) == f"~{number}" or (
        isinstance(masked, Setting) and masked.name == f"{_SETTING}~{number}"
    )


def _changed(event: Any, change: Callable[[str], str]) -> Any:
    """An event with each personal text changed; the very same where it has none."""
    if isinstance(event, Setting):
        if not event.name.startswith(_SETTING):
            return event
        name = _SETTING + change(event.name.removeprefix(_SETTING))
        return replace(event, name=name, value=_changed_in(event.value, change))
    changes = {}
    for field in fields(event):
        value = getattr(event, field.name)
        if field.name in PERSONAL and value:
            changes[field.name] = change(value) if isinstance(value, str) else tuple(change(text) for text in value)
    return replace(event, **changes) if changes else event


def _changed_in(value: Any, change: Callable[[str], str]) -> Any:
    """The same for what is remembered about a customer: the personal entries of a table."""
    if not isinstance(value, dict):
        return value
    changed = {}
    for key, item in value.items():
        if key in PERSONAL and isinstance(item, str):
            item = change(item)
        elif key in PERSONAL and isinstance(item, list):
            item = [change(part) if isinstance(part, str) else part for part in item]
        changed[key] = item
    return changed
