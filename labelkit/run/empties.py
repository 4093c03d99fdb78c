"""Empty jars and lids at hand: bought, broken, and counted again. Runs use them up by themselves."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from labelkit.lots.event import Event


@dataclass(frozen=True, slots=True)
class Empties(Event):
    """So many empty jars and lids of one size more (or fewer) than there were, and why."""

    kind: ClassVar[str] = "empties"
    title: ClassVar[str] = "empty jars"
    voidable: ClassVar[bool] = True
    day: date
    size: str
    jars: int
    lids: int
    reason: str

    def describe(self, locale: str) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.jars:+} jars and {self.lids:+} lids of {self.size}: {self.reason}"
