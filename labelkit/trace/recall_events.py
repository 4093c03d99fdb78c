"""What is booked of a recall: that it was begun, who was told and what they answered; and drills."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.movement import Movement


@dataclass(frozen=True, slots=True)
class Recall:
    """Lots called back. ``drill`` for an exercise."""

    kind: ClassVar[str] = "recall"
    day: date
    name: str
    cause: str
    why: str
    lots: tuple[str, ...]
    ordered_by: str = ""
    drill: bool = False

    def movements(self) -> tuple[Movement, ...]:
        """A decision moves no honey."""
        return ()


@dataclass(frozen=True, slots=True)
class Told:
    """Somebody who was told of a recall, and how; ``has`` once they answered: jars they still hold."""

    kind: ClassVar[str] = "tell"
    day: date
    recall: str
    customer: str
    how: str
    answered: bool = False
    has: int = 0
    note: str = ""

    def movements(self) -> tuple[Movement, ...]:
        """Words move no honey."""
        return ()


@dataclass(frozen=True, slots=True)
class Drill:
    """A mock recall, timed: how many jars of a lot were made, how many were found, in how many seconds."""

    kind: ClassVar[str] = "drill"
    day: date
    lot: str
    seconds: int
    jars_made: int
    jars_found: int
    note: str = ""

    def movements(self) -> tuple[Movement, ...]:
        """An exercise moves no honey."""
        return ()
