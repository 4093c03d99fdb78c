"""How large the net weight and the other required words must be, and how large the panel is that decides it.

Three drivers are in use in the world: the area of the main panel, the declared weight, and the longest side of the
package. Which one a market uses stands in its pack; here all that is known of the jar is offered to it.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from labelkit.measures import Length
from labelkit.rules.blocks import Value
from labelkit.rules.market import Market

PI = Fraction("3.14159265358979323846264338327950288")


@dataclass(frozen=True, slots=True)
class Panel:
    """The side of a jar. Its panel's area depends on the market where the jar is round.

    >>> Panel.cylinder(Length.read("2.5 in", "en_US"), Length.read("2 in", "en_US")).longest_mm
    Decimal('63.5')
    """

    round_side_mm2: Fraction | None = None  # circumference times height
    area_mm2: Decimal | None = None  # of a flat panel, or as the producer measured it
    longest_mm: Decimal | None = None

    @classmethod
    def cylinder(cls, diameter: Length, height: Length) -> Panel:
        """A round jar: diameter and height of the side, without shoulder, neck, lid and bottom."""
        side = PI * Fraction(diameter.mm) * Fraction(height.mm)
        return cls(round_side_mm2=side, longest_mm=max(diameter.mm, height.mm))

    @classmethod
    def flat(cls, width: Length, height: Length) -> Panel:
        """A jar with flat sides: width and height of the side that faces the buyer."""
        return cls(area_mm2=width.mm * height.mm, longest_mm=max(width.mm, height.mm))

    @classmethod
    def of_area(cls, mm2: Decimal) -> Panel:
        """A panel whose area is known, in square millimetres."""
        return cls(area_mm2=mm2)

    def area(self, market: Market, laws: list[Value]) -> Decimal | None:
        """Square millimetres of the panel as this market counts it; ``None`` where it counts no area."""
        if self.round_side_mm2 is None:
            return self.area_mm2
        if not market.holds("share of the side of a round jar that is its panel"):
            return None
        share = market.value("share of the side of a round jar that is its panel")
        laws.append(share)
        area = self.round_side_mm2 * share.value
        return Decimal(area.numerator) / Decimal(area.denominator)


@dataclass(frozen=True, slots=True)
class Heights:
    """Smallest heights in millimetres; ``other_text_mm`` is ``None`` where the law only says "legible"."""

    net_quantity_mm: Decimal
    other_text_mm: Decimal | None
    measured_on: str
    panel_area_mm2: Decimal | None
    laws: tuple[Value, ...]


def required(
    market: Market, declared_g: Decimal | None = None, panel: Panel | None = None, *, moulded: bool = False
) -> Heights:
    """The smallest letters for this jar in this market.

    Give what is known; a market that needs something else says so
    (:class:`~labelkit.errors.rules.FactMissing`). Where the height of the other words depends on a fact not given,
    the largest that may be due is returned.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> panel = Panel.cylinder(Length.read("2.5 in", "en_US"), Length.read("2 in", "en_US"))
    >>> required(market("us", date(2026, 11, 25)), panel=panel).net_quantity_mm
    Decimal('3.175')
    """
    laws: list[Value] = []
    area = panel.area(market, laws) if panel else None
    facts = {
        "panel_area": area,
        "declared": declared_g,
        "longest_side": panel.longest_mm if panel else None,
        "moulded": moulded,
    }
    smallest = market.value("smallest letter height of the net quantity", **facts)
    laws.append(smallest)
    other = largest_possible(market, "smallest letter height of other words", facts)
    return Heights(
        net_quantity_mm=_moulded(market, smallest.value, laws) if moulded else smallest.value,
        other_text_mm=other.value if other else None,
        measured_on=_measured_on(market, laws),
        panel_area_mm2=area,
        laws=tuple(laws + ([other] if other else [])),
    )


def largest_possible(market: Market, name: str, facts: dict[str, Any]) -> Value | None:
    """Of the values that hold or may hold for these facts, the largest; ``None`` when the market has none."""
    named = [law for law in market.history(name) if law.in_force(market.day)]
    possible = [law for law in named if law.answer(facts).holds is not False]
    return max(possible, key=lambda law: law.value, default=None)


def _moulded(market: Market, height: Decimal, laws: list[Value]) -> Decimal:
    if market.holds("added to the letter height when moulded"):
        added = market.value("added to the letter height when moulded")
        laws.append(added)
        return height + Decimal(added.value)
    if market.holds("factor on the letter height when moulded"):
        factor = market.value("factor on the letter height when moulded")
        laws.append(factor)
        return height * Decimal(factor.value)
    return height


def _measured_on(market: Market, laws: list[Value]) -> str:
    parts = []
    for what in ("the net quantity", "other words"):
        name = f"letter measured in {what}"
        if market.holds(name):
            letter = market.value(name)
            laws.append(letter)
            parts.append((what, letter.value))
    if len({letter for _, letter in parts}) == 1:
        return str(parts[0][1])
    return "; ".join(f"{what}: {letter}" for what, letter in parts)
