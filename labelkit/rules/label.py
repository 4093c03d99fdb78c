"""A label as its maker describes it: what it says, on which jar, and in which situation it is sold."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

from labelkit.errors.label_file import LabelKeyMissing
from labelkit.measures import Declared, Length, Volume
from labelkit.rules.figures.date_mark import BestBefore

#: What must be said, and how a label file says it.
EXAMPLES = {"market": 'market = ["us", "us-va"]', "name": 'name = "Clover Honey"', "declares": 'declares = "1 lb"'}
#: What a label tells of its honey beside its name: the year, or ``EACH`` for that of each lot, the yard, the flower, the place.
STORY = ("harvest", "yard", "flower", "place")
EACH = "each"
#: Nutrients that are part of another one.
PARTS = {
    "sugars": "carbohydrate",
    "added_sugars": "sugars",
    "fiber": "carbohydrate",
    "saturated_fat": "fat",
    "trans_fat": "fat",
}


@dataclass(frozen=True, slots=True)
class Share:
    """A country (two letters, ISO 3166-1) and its part of the honey in percent."""

    country: str
    percent: Decimal


@dataclass(frozen=True, slots=True)
class Label:
    """What a label says. Texts are empty and lists are empty where the file says nothing; ``None`` is not given."""

    markets: tuple[str, ...]
    name: str
    declares: Declared | None
    kind: str = "honey"
    floral_source: str = ""
    net_statement: str | None = None
    lines: tuple[str, ...] = ()
    story: Mapping[str, str] = field(default_factory=dict)  # by the names of STORY
    ingredients: tuple[str, ...] = ()
    grade: str = ""
    lot: str = ""
    volume: Volume | None = None  # what the jar holds, as it is printed, where a market wants it beside the weight
    best_before: BestBefore | None = None
    labelled: date | None = None  # the day the jar was labelled, where that is not today
    origin: tuple[Share, ...] = ()
    maker: Mapping[str, str] = field(default_factory=dict)
    panel: Mapping[str, Length] = field(default_factory=dict)
    nutrition: Mapping[str, Any] = field(default_factory=dict)
    situation: Mapping[str, Any] = field(default_factory=dict)
    file: str = "LABEL.toml"

    @property
    def weight(self) -> Declared:
        """The declared weight. Raises :class:`~labelkit.errors.label_file.LabelKeyMissing` where there is none."""
        if self.declares is None:
            raise LabelKeyMissing(self.file, "declares", EXAMPLES["declares"])
        return self.declares
