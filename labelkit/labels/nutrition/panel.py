"""A nutrition panel as a label bears it: the figures, the market whose form it has, and the package it is for."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from labelkit.rules.figures.nutrition import Panel
from labelkit.rules.market import Market


@dataclass(frozen=True, slots=True)
class Nutrition:
    """One nutrition panel before it is set: figures, market, the surface of the package (mm², ``None`` if nobody said),
    the display asked for (empty: the first lawful one that fits) and what the user is to be told. ``side`` is the side of
    the jar, mm²: the package can bear no less than that."""

    panel: Panel
    market: Market
    surface: Decimal | None = None
    display: str = ""
    notes: tuple[str, ...] = ()
    side: Decimal = Decimal(0)

    def on(self, label_area: Decimal) -> Nutrition:
        """The same on a label of this area, mm².

        A package is at least as large as the label it bears and as the side it was described with; where nobody said how
        large it is, that settles the matter only if it is beyond the small packages.
        """
        least = max(label_area, self.side)
        if self.surface is None and least <= self.market.value("tabular panel up to").value:
            return self
        return replace(self, surface=max(least, self.surface or least))
