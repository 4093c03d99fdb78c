"""What is booked of a recall: that it was begun, who was told and what they answered; and drills."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.event import Event


@dataclass(frozen=True, slots=True)
class Recall(Event):
    """Lots called back. ``drill`` for an exercise."""

    kind: ClassVar[str] = "recall"
    title: ClassVar[str] = "called back"
    day: date
    name: str
    cause: str
    why: str
    lots: tuple[str, ...]
    ordered_by: str = ""
    drill: bool = False

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.name}: {', '.join(self.lots)}: {self.why}"


@dataclass(frozen=True, slots=True)
class Told(Event):
    """Somebody who was told of a recall, and how; ``has`` once they answered: jars they still hold."""

    kind: ClassVar[str] = "tell"
    title: ClassVar[str] = "told"
    day: date
    recall: str
    customer: str
    how: str
    answered: bool = False
    has: int = 0
    note: str = ""

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.recall}: {self.customer} by {self.how}" + (f", still holds {self.has}" if self.answered else "")


@dataclass(frozen=True, slots=True)
class Drill(Event):
    """A mock recall, timed: how many jars of a lot were made, how many were found, in how many seconds."""

    kind: ClassVar[str] = "drill"
    title: ClassVar[str] = "drill"
    day: date
    lot: str
    seconds: int
    jars_made: int
    jars_found: int
    note: str = ""

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.lot}: {self.jars_found} of {self.jars_made} jars found in {self.seconds} s"
