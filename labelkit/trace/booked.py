"""What the book hands to a trace: events as they were booked, and which of them were struck since."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, ClassVar

from labelkit.lots.event import Event
from labelkit.lots.movement import Movement


@dataclass(frozen=True, slots=True)
class Correct(Event):
    """An earlier event struck out, and why. Both stay visible; what is right is booked anew beside it."""

    kind: ClassVar[str] = "correct"
    title: ClassVar[str] = "correction"
    ignores_holds: ClassVar[bool] = True
    day: date
    corrects: int
    because: str
    instead: int = 0  # how many of the events right after it, in the same step, take the place of the struck one

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"event {self.corrects} struck: {self.because}"


@dataclass(frozen=True, slots=True)
class Booked:
    """One event with its place in the book."""

    seq: int
    event: Any
    who: str
    at: datetime
    hash: str = ""
    key: str | None = None
    part: int = 0  # 0 begins a step; 1, 2, … belong to the same one
    struck_by: int | None = None  # the correction that struck it out
    stands_for: int | None = None  # the struck event it was booked instead of

    @property
    def position(self) -> tuple[int, int]:
        """Where it counts in the order of things: what was booked instead of another counts where that one stood."""
        return (self.stands_for or self.seq, self.seq)

    @property
    def kind(self) -> str:
        """What sort of event."""
        return self.event.kind

    @property
    def day(self) -> date:
        """The day it happened (not the day it was written down)."""
        return self.event.day

    @property
    def stands(self) -> bool:
        """Whether it was never struck out."""
        return self.struck_by is None

    def movements(self) -> tuple[Movement, ...]:
        """What it moved; nothing once it is struck."""
        return self.event.movements() if self.stands else ()
