"""How much one jar may be short, as the market's tolerance figure says it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from labelkit.rules.blocks import Value


@dataclass(frozen=True, slots=True)
class Tolerances:
    """Grams a jar may be short: the first tolerance (T1, or the maximum allowable variation), and the second (T2)."""

    first: Decimal
    second: Decimal | None
    laws: tuple[Value, ...] = ()
