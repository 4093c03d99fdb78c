"""Labels for the tests: one of each market, with the heights that market's law asks. All names are invented."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import lru_cache

from labelkit.labels.content import LabelContent, front_label_content
from labelkit.labels.legal_heights import legal_heights
from labelkit.labels.outline import Outline
from labelkit.labels.sheets import sheet
from labelkit.measures import Declared, Length
from labelkit.rules import market
from labelkit.rules.figures import net_weight
from labelkit.rules.figures.letter_height import Panel

DAY = date(2026, 11, 25)
LOT = "L26195AXR"
LINK = "HTTPS://EXAMPLE.COM/L/L26195AXR"
JAR = Panel.cylinder(Length.read("70 mm", "en_US"), Length.read("85 mm", "en_US"))

#: Market: what is declared, the label's texts.
MARKETS = {
    "us": (
        "1 lb",
        {
            "name": "Wildflower Honey",
            "maker": "Pretend Hollow Apiary",
            "address": ["4 Pretend Lane", "Pretendton, VA 00000"],
            "best_before": "Best before 30 June 2028",
            "origin": "Product of USA",
            "lines": ["Raw · unfiltered"],
            "caution": "Do not feed honey to infants under one year of age.",
        },
    ),
    "eu": (
        "500 g",
        {
            "name": "Lindenblütenhonig",
            "maker": "Imkerei Nirgendhain",
            "address": ["Am Anger 3", "12345 Nirgendhain"],
            "best_before": "Mindestens haltbar bis Ende 2028",
            "origin": "Ursprungsland: Deutschland",
            "lines": ["Deutscher Honig"],
            "caution": "Nicht geeignet für Kinder unter 12 Monaten.",
            "langs": ("de",),
        },
    ),
    "uk": (
        "454 g",
        {
            "name": "Heather Honey",
            "maker": "Nowhere Moor Bees",
            "address": ["2 Kiln Row", "Nowhere NW0 0XX"],
            "best_before": "Best before end 2028",
            "origin": "Produce of the United Kingdom",
            "lines": ["Pressed"],
            "caution": "Not suitable for infants under 12 months.",
        },
    ),
    "ca": (
        "500 g",
        {
            "name": ("Clover Honey", "Miel de trèfle"),
            "maker": "Fausse Rive",
            "address": ["8 rang Inventé", "Nulle-Part QC H0H 0H0"],
            "best_before": ("Best before 2028 JN 30", "Meilleur avant 2028 JN 30"),
            "origin": ("Product of Canada", "Produit du Canada"),
            "caution": (
                "Do not feed honey to infants under one year of age.",
                "Ne pas donner de miel aux enfants de moins d’un an.",
            ),
            "langs": ("en", "fr"),
        },
    ),
    "au": (
        "500 g",
        {
            "name": "Yellow Box Honey",
            "maker": "Make Believe Bees",
            "address": ["1 Invented Road", "Nowhere NSW 2000"],
            "best_before": "Best before 30 June 2028",
            "origin": "Product of Australia",
            "lines": ["Cold extracted"],
            "caution": "Not suitable for infants under 12 months.",
        },
    ),
}


@lru_cache(maxsize=64)
def label(code: str, kind: str = "front", **_) -> LabelContent:
    """The sample label of a market."""
    declares, texts = MARKETS[code]
    where = market(code, DAY)
    statements = net_weight.net_quantity(Declared.read(declares, "en_US"), where).statements
    rules = legal_heights([where], JAR, Decimal("453.6"))
    return front_label_content(
        statement=statements[0],
        other_statements=statements[1:],
        lot=LOT,
        net_height=rules.net,
        text_height=rules.text,
        net_rule=rules.net_rule,
        market=code,
        kind=kind,
        **texts,
    )


def linked(content: LabelContent) -> LabelContent:
    return replace(content, link=LINK)


def barred(content: LabelContent) -> LabelContent:
    """The same with its lot in bars."""
    return replace(content, lot_bars="code128")


def outline(name: str) -> Outline:
    which = sheet(name)
    return which.outline
