"""The season's costs: what is known, and what still has to be asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

SEASON = ("feed", "treatments", "frames", "fuel", "extraction", "insurance")
MARKET = ("stall_fee", "jars_a_day", "card_percent", "card_fixed", "card_share", "jars_a_sale")
JAR = ("jar", "lid", "label", "seal", "carton", "carton_holds", "minutes")
PARTS = ("jar", "lid", "label", "seal")


ASKS = {
    "per_kg": "What is a kilogram of your honey worth, or what did the season cost (feed, treatments, frames, fuel, ...)?",
    "feed": "What did the feed cost?",
    "treatments": "What did the treatments cost?",
    "frames": "What did frames, wax and queens cost that this season used up?",
    "fuel": "What did driving to the yards cost?",
    "extraction": "What did extracting cost you?",
    "insurance": "What does the year's insurance cost?",
    "rate": "What is an hour of your work worth to you?",
    "stall_fee": "What does the stall cost a day?",
    "jars_a_day": "How many jars do you sell on a market day?",
    "card_percent": "How many per cent does the card machine keep?",
    "card_fixed": "What does the card machine keep of each sale besides?",
    "card_share": "How many per cent of your sales are paid by card?",
    "jars_a_sale": "How many jars does one buyer take?",
    "share": "How much of the honey goes to helpers, in per cent?",
    "jar": "What does the empty jar cost?",
    "lid": "What does the lid cost?",
    "label": "What does the label cost?",
    "seal": "What does the seal cost?",
    "carton": "What does a carton cost?",
    "carton_holds": "How many jars go into a carton?",
    "minutes": "How many minutes does a jar take you?",
}
"""The question behind each cost that is not known yet."""

Figures = Mapping[str, "Decimal | None"]


@dataclass(frozen=True, slots=True)
class SeasonCosts:
    """Costs in units of the currency, shares in per cent; ``None`` is a figure nobody has given."""

    currency: str
    per_kg: Decimal | None = None
    season: Figures = field(default_factory=dict)
    rate: Decimal | None = None
    market: Figures = field(default_factory=dict)
    helper_percent: Decimal | None = None
    jars: Mapping[str, Figures] = field(default_factory=dict)

    @property
    def season_known(self) -> Decimal:
        """What is known of the season's costs, together."""
        return sum((amount for amount in self.season.values() if amount is not None), Decimal(0))
