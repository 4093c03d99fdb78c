"""What the law of a market asks of the letters on a label, as the placer takes it.

The values come from the rule packs; where a pack holds none, nothing is invented: the height is left open and a note
says that somebody has to ask.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.rules import FactMissing, NoRuleInForce
from labelkit.labels.content import FIGURES, LETTERS, X_HEIGHT, Height, NetRule
from labelkit.measures import Length
from labelkit.rules.blocks import Value, weakest
from labelkit.rules.figures.letter_height import Panel, largest_possible, required
from labelkit.rules.market import Market

SHARE = "share of the side of a round jar that is its panel"
OTHER = "smallest letter height of other words"
# What labelkit itself asks where no law was read: letters an eye of sixty reads at arm's length. Common practice, no
# source.
HOUSE_HEIGHT = Height(Length.of_mm("1.2"), X_HEIGHT, "good practice, no law read", "memory")


@dataclass(frozen=True, slots=True)
class LegalHeights:
    """Heights and places asked for one jar in all the markets it is sold in, the strictest of each."""

    net: Height
    text: Height
    net_rule: NetRule
    notes: tuple[str, ...]


def legal_heights(markets: Sequence[Market], panel: Panel | None, declared_g: Decimal) -> LegalHeights:
    """The strictest heights and places of these markets for a jar with this panel.

    >>> from datetime import date
    >>> from labelkit.rules import market
    >>> panel = Panel.cylinder(Length.read("2.5 in", "en_US"), Length.read("2 in", "en_US"))
    >>> us = legal_heights([market("us", date(2026, 11, 25))], panel, Decimal("453.6"))
    >>> us.net.least.mm, us.net.clause, us.net_rule.bottom_share
    (Decimal('3.175'), '21 CFR 101.7 (i)(2)', Decimal('0.3'))
    """
    nets, texts, rules, notes = [], [], [], []
    for market in markets:
        facts = {
            "panel_area": panel.area(market, []) if panel else None,
            "declared": declared_g,
            "longest_side": panel.longest_mm if panel else None,
            "moulded": False,
        }
        try:
            heights = required(market, declared_g=declared_g, panel=panel)
            nets.append(_net_height(market, heights.net_quantity_mm, facts))
        except NoRuleInForce:
            notes.append(
                f"No height of the net quantity was read for {market.name}; ask the office that enforces labels there."
            )
        except FactMissing:
            # Of all that may be due for a jar whose size is not known, the largest.
            largest = largest_possible(market, "smallest letter height of the net quantity", facts)
            if largest is not None:
                nets.append(_net_height(market, largest.value, facts))
            notes.append(
                f"The jar's panel is not known; the largest letters that may be due in {market.name} were taken."
            )
        readings = _readings(market, panel, facts)
        both = [law for law in (largest_possible(market, OTHER, reading) for reading in readings) if law is not None]
        if both:
            law = max(both, key=lambda law: law.value)
            also = (market.value(SHARE),) if len(readings) > 1 else ()
            texts.append(_as_height(market, "other words", law, law.value, *also))
        if len({law.value for law in both}) > 1:
            notes.append(_two_readings(market, *(law.value for law in both)))
        rules.append(_net_rule(market, facts))
    strictest = max(rules, key=lambda rule: (rule.bottom_share is not None, rule.clear_heights), default=NetRule())
    return LegalHeights(
        max(nets, key=lambda height: height.least, default=HOUSE_HEIGHT),
        max(texts, key=lambda height: height.least, default=HOUSE_HEIGHT),
        strictest,
        tuple(dict.fromkeys(notes)),
    )


def _readings(market: Market, panel: Panel | None, facts: dict) -> list[dict]:
    """The facts by each reading of the law: what the panel of a round jar is may be known from guidance alone, and then
    its whole side may be meant as well."""
    if panel is None or panel.round_side_mm2 is None or not market.holds(SHARE) or market.value(SHARE).sure == "seen":
        return [facts]
    side = Decimal(panel.round_side_mm2.numerator) / Decimal(panel.round_side_mm2.denominator)
    return [facts, facts | {"panel_area": side}]


def _two_readings(market: Market, lower: Decimal, higher: Decimal) -> str:
    share = market.value(SHARE)
    return (
        f"{market.name}: by guidance the largest surface of a round jar is {share.value} of its side, and words of "
        f"{lower} mm would do; the regulation does not say so, and by the whole side it is {higher} mm. The larger is set."
    )


def _net_height(market: Market, mm: Decimal, facts: dict) -> Height:
    law = largest_possible(market, "smallest letter height of the net quantity", facts)
    assert law is not None  # the height in ``mm`` was read from it
    return _as_height(market, "the net quantity", law, mm)


def _as_height(market: Market, what: str, law: Value, mm: Decimal, *also: Value) -> Height:
    """A height as sure as the weakest of what it was read from."""
    name = f"letter measured in {what}"
    read_from = (law, *also, *([market.value(name)] if market.holds(name) else []))
    clause = f"{law.cite.title} {law.cite.clause}".strip()
    return Height(Length.of_mm(mm), _measured_on(market, what), clause, weakest([one.sure for one in read_from]))


def _measured_on(market: Market, letter: str) -> str:
    """Which letter the pack's words mean: the figures, the small x, or capitals and else the small o."""
    if not market.holds(f"letter measured in {letter}"):
        return LETTERS
    words = market.value(f"letter measured in {letter}").value
    if "“x”" in words:
        return X_HEIGHT
    return FIGURES if "figures" in words or "characters" in words else LETTERS


def _net_rule(market: Market, facts: dict) -> NetRule:
    names = {
        "bottom_share": "share of the main panel the net quantity stands in",
        "clear_heights": "clear space above and below the net quantity",
        "clear_n_widths": "clear space beside the net quantity",
        "most_proportion": "highest proportion of a letter",
    }
    held, clauses, certainties = {}, [], []
    for key, name in names.items():
        law = largest_possible(market, name, facts)
        if law is not None:
            held[key] = _decimal(law.value)
            clauses.append(f"{law.cite.title} {law.cite.clause}".strip())
            certainties.append(law.sure)
    return NetRule(**held, clause="; ".join(dict.fromkeys(clauses)), sure=weakest(certainties))


def _decimal(value) -> Decimal:
    return Decimal(value.numerator) / Decimal(value.denominator) if hasattr(value, "numerator") else Decimal(value)
