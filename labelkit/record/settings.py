"""Settings of a season, kept as events like all else."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, ClassVar

from labelkit.lots.event import Event
from labelkit.measures.locales import DEFAULT_LOCALE


@dataclass(frozen=True, slots=True)
class Setting(Event):
    """From now on this name has this value: texts, whole numbers, yes/no, and lists and tables of them."""

    kind: ClassVar[str] = "set"
    title: ClassVar[str] = "setting"
    day: date
    name: str
    value: Any

    def describe(self, locale: str = DEFAULT_LOCALE) -> str:
        """Return the event in a few words, for lists."""
        return f"{self.name} = {self.value}"
