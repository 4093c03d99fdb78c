"""Settings of a season, kept as events like all else."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, ClassVar

from labelkit.lots.movement import Movement


@dataclass(frozen=True, slots=True)
class Setting:
    """From now on this name has this value: texts, whole numbers, yes/no, and lists and tables of them."""

    kind: ClassVar[str] = "set"
    day: date
    name: str
    value: Any

    def movements(self) -> tuple[Movement, ...]:
        """A setting moves no honey."""
        return ()
