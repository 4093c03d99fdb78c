"""People: kept outside the chain under a number, as far as a recall needs them, and no longer.

An event never holds a customer's name or address, only a number and a commitment (``~7:5bdc…``). What the number stands
for is in a table of its own, beside the random salt the commitment was made with. The commitment is inside the chain, so
that a name exchanged behind the record's back is found; without the salt it tells nothing, not even to somebody who
guesses. Forgetting a person takes text and salt away; the events, their hashes and every count stay as they are, and
show a number where the name was.

Records of form 0002 hold numbers without a commitment (``~7``). Any later event that gives the number commits to it; the
event :class:`Protect` does it for all at once.
"""

from __future__ import annotations

import hmac
import re
import secrets
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import Any, ClassVar, NamedTuple

from labelkit.lots.event import PERSONAL, Event
from labelkit.record.engine import sa
from labelkit.record.settings import Setting
from labelkit.record.tables import person

SHOWN = (*PERSONAL, "place")  # the roles a person may stand in where a trace begins
OF_A_CUSTOMER = "customer "  # settings of this name, and the customer's after it, say what is remembered about one
_MENTION = re.compile(r"~(\d+)(?::([0-9a-f]{64}))?")
_FORGOTTEN = re.compile(r"\(forgotten (\d+)\)")
_SALT_BYTES = 32


@dataclass(frozen=True, slots=True)
class Forget(Event):
    """What these numbers stood for was taken out on this day, and why."""

    kind: ClassVar[str] = "forget"
    title: ClassVar[str] = "forgotten"
    day: date
    numbers: tuple[int, ...]
    because: str

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"number {', '.join(map(str, self.numbers))}: {self.because}"


@dataclass(frozen=True, slots=True)
class Protect(Event):
    """These numbers, given by earlier events without a commitment, stand for what these commitments say."""

    kind: ClassVar[str] = "protect"
    title: ClassVar[str] = "names protected"
    day: date
    numbers: tuple[str, ...]  # each with its commitment, as events give them

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"number {', '.join(each.lstrip('~').partition(':')[0] for each in self.numbers)}"


class Kept(NamedTuple):
    """One row of the table: a number, its text and salt until it is forgotten, and what the chain holds for it."""

    number: int
    text: str | None
    salt: str | None  # hexadecimal
    commitment: str | None  # none only for what was forgotten before there were commitments
    gone: str = ""  # why the text is not here, where no event of this record says that it was forgotten

    @property
    def mention(self) -> str:
        """How events give it."""
        return f"~{self.number}" + (f":{self.commitment}" if self.commitment else "")


def nobody(number: int) -> Kept:
    """The empty place of a number under which nothing was ever kept."""
    return Kept(number, None, None, None, "not here")


def new_salt() -> str:
    """256 random bits that nobody guesses, in hexadecimal."""
    return secrets.token_hex(_SALT_BYTES)


def commitment(salt: str, text: str) -> str:
    """What the chain holds for a text: HMAC-SHA-256 (RFC 2104) keyed with its salt.

    >>> commitment("4a656665", "what do ya want for nothing?")[:16]  # RFC 4231, test case 2
    '5bdcc146bf60754e'
    """
    return hmac.new(bytes.fromhex(salt), text.encode("utf-8"), "sha256").hexdigest()


class People:
    """Texts and their numbers, over one connection; ``salt`` gives a new salt each time."""

    def __init__(self, connection: sa.Connection, salt: Callable[[], str] = new_salt) -> None:
        self._connection = connection
        self._salt = salt
        self._kept: dict[int, Kept] = {}
        self._numbers: dict[str, int] = {}
        self._new: dict[int, Kept] = {}

    def number_of(self, text: str) -> int | None:
        """The number a text is kept under; nothing where it is not kept."""
        if (forgotten := _FORGOTTEN.fullmatch(text)) and self.kept(int(forgotten[1])) != nobody(int(forgotten[1])):
            return int(forgotten[1])
        if text not in self._numbers:
            found = self._connection.execute(sa.select(person.c.number).where(person.c.text == text)).scalar()
            if found is None:
                return None
            self._numbers[text] = found
        return self._numbers[text]

    def kept(self, number: int) -> Kept:
        """What is kept under a number; an empty place where nothing is."""
        if number not in self._kept:
            row = self._connection.execute(_all().where(person.c.number == number)).first()
            self._kept[number] = Kept(*row) if row else nobody(number)
        return self._kept[number]

    def all(self) -> Iterator[Kept]:
        """Everything that is kept, by number."""
        return (Kept(*row) for row in self._connection.execute(_all().order_by(person.c.number)))

    def texts(self, numbers: Iterable[int]) -> tuple[str, ...]:
        """What these numbers stand for, where it is still known."""
        return tuple(text for number in numbers if (text := self.kept(number).text) is not None)

    def mentions(self, text: str) -> tuple[str, ...]:
        """Every way an event may give a text: in the clear (records begun by an early labelkit) and by number."""
        number = self.number_of(text)
        return (text,) if number is None else (text, f"~{number}", self.kept(number).mention)

    def keep(self, text: str) -> Kept:
        """The place of a text, a new one where it has none yet; :meth:`write` makes it last."""
        number = self.number_of(text)
        if number is None:
            last = self._connection.execute(sa.select(sa.func.max(person.c.number))).scalar() or 0
            number, salt = max(last, *self._new, 0) + 1, self._salt()
            self._numbers[text] = number
            self._kept[number] = self._new[number] = Kept(number, text, salt, commitment(salt, text))
        return self.kept(number)

    def write(self, masked: Iterable[Any]) -> None:
        """Write down what these events give for the first time."""
        if self._new:
            wanted = frozenset().union(*(numbers_in(event) for event in masked)) & self._new.keys()
            self.meet(self._new.pop(number) for number in sorted(wanted))

    def meet(self, kept: Iterable[Kept]) -> None:
        """Take places in as they stand."""
        if rows := [each._asdict() for each in kept]:
            self._connection.execute(person.insert(), rows)

    def forget(self, numbers: Iterable[int]) -> None:
        """Take out what these numbers stand for; the numbers stay taken."""
        wanted = tuple(numbers)
        self._connection.execute(person.update().where(person.c.number.in_(wanted)).values(text=None, salt=None))
        self._kept.clear()
        self._numbers.clear()

    def masked(self, event: Any) -> Any:
        """An event with numbers and commitments in place of people."""
        return _changed(event, lambda text: self.keep(text).mention)

    def unmasked(self, event: Any) -> Any:
        """An event with people in place of numbers."""
        return _changed(event, self.said)

    def said(self, text: str) -> str:
        """A text, or what a number stands for, or that it was forgotten."""
        found = _MENTION.fullmatch(text)
        if not found:
            return text
        kept = self.kept(int(found[1]))
        return f"(forgotten {kept.number})" if kept.text is None else kept.text


def _all() -> sa.Select:
    return sa.select(*(person.c[name] for name in Kept._fields))


def mentions_in(event: Any) -> dict[int, set[str | None]]:
    """The numbers a masked event gives, each with the commitments it gives for it (none in records of form 0002)."""
    found: dict[int, set[str | None]] = {}

    def note(text: str) -> str:
        if mention := _MENTION.fullmatch(text):
            found.setdefault(int(mention[1]), set()).add(mention[2])
        return text

    for text in event.numbers if isinstance(event, Protect) else ():
        note(text)
    _changed(event, note)
    return found


def numbers_in(event: Any) -> frozenset[int]:
    """The numbers a masked event gives."""
    return frozenset(mentions_in(event))


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
    named = (
        masked.name.removeprefix(OF_A_CUSTOMER) if isinstance(masked, Setting) else getattr(masked, "customer", None)
    )
    found = _MENTION.fullmatch(named or "")
    return found is not None and int(found[1]) == number


def _changed(event: Any, change: Callable[[str], str]) -> Any:
    """An event with each personal text changed; the very same where it has none."""
    if isinstance(event, Setting):
        if not event.name.startswith(OF_A_CUSTOMER):
            return event
        name = OF_A_CUSTOMER + change(event.name.removeprefix(OF_A_CUSTOMER))
        return replace(event, name=name, value=_changed_in(event.value, change))
    changes = {}
    for field in fields(event):
        value = getattr(event, field.name)
        if field.name in event.personal and value:
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
