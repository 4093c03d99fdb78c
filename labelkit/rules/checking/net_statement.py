"""A printed net weight taken apart: every figure, its unit as written, and what each weighs.

Only the writing is looked at here; what of it is lawful where stands in the packs.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from labelkit.measures.mass import GRAMS_PER_OUNCE

OUNCE, POUND, GRAM, KILOGRAM, VOLUME, UNKNOWN = "oz", "lb", "g", "kg", "volume", "unknown"
_NUMBER = r"(?:\d+\s+\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d*[.,]\d+|\d+)"
_AMOUNT = re.compile(rf"(?<![\d./,])({_NUMBER})\s*-?\s*(fl\.?\s*oz\b\.?|fluid\s+ounces?|[A-Za-zµ#℮]+)(\.?)")
_UNITS = {
    OUNCE: ("oz", "ozs", "ounce", "ounces", "onces", "once", "unze", "unzen"),
    POUND: ("lb", "lbs", "pound", "pounds", "#", "livre", "livres", "pfund"),
    GRAM: ("g", "gr", "gm", "gms", "grm", "grs", "gram", "grams", "gramme", "grammes", "gramm", "gramos", "grammi"),
    KILOGRAM: ("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes", "kilogramm"),
    VOLUME: (
        "ml",
        "cl",
        "dl",
        "l",
        "litre",
        "litres",
        "liter",
        "liters",
        "pint",
        "pints",
        "pt",
        "qt",
        "quart",
        "quarts",
        "gal",
        "gallon",
        "gallons",
        "cup",
        "cups",
    ),
}
# Whole words are never symbols; "grams" is not a wrong "g".
WORDS = frozenset(
    [
        "ounce",
        "ounces",
        "pound",
        "pounds",
        "gram",
        "grams",
        "gramme",
        "grammes",
        "gramm",
        "kilogram",
        "kilograms",
        "kilogramme",
        "kilogrammes",
    ]
)
_MULTIPACK = re.compile(r"\b\d+\s*[-–x×]\s*\d", re.IGNORECASE)
_GRAMS = {
    OUNCE: Fraction(GRAMS_PER_OUNCE),
    POUND: 16 * Fraction(GRAMS_PER_OUNCE),
    GRAM: Fraction(1),
    KILOGRAM: Fraction(1000),
}


@dataclass(frozen=True, slots=True)
class Amount:
    """One figure with its unit: as written, its value, the kind of unit, and whether a point follows the unit."""

    written: str
    number: str
    value: Fraction
    unit: str
    kind: str
    point: bool
    spaced: bool

    @property
    def grams(self) -> Fraction:
        """What it weighs; 0 for a volume."""
        return self.value * _GRAMS.get(self.kind, Fraction(0))

    @property
    def metric(self) -> bool:
        """Whether it is in grams or kilograms."""
        return self.kind in (GRAM, KILOGRAM)

    @property
    def fraction(self) -> tuple[int, int] | None:
        """The common fraction as written (4 and 32 of ``12 4/32``), if there is one."""
        found = re.search(r"(\d+)\s*/\s*(\d+)", self.number)
        return (int(found[1]), int(found[2])) if found else None

    @property
    def decimals(self) -> int:
        """Places behind the decimal mark."""
        return len(re.split(r"[.,]", self.number)[1]) if re.search(r"[.,]", self.number) else 0

    @property
    def figures(self) -> int:
        """Significant figures of a figure without a fraction."""
        return len(re.sub(r"[.,]", "", self.number).lstrip("0"))


def amounts(statement: str) -> tuple[Amount, ...]:
    """Every figure of a statement that has a unit.

    >>> [(a.kind, str(a.value)) for a in amounts("Net Wt 24 oz (1 lb 8 oz) 680 g")]
    [('oz', '24'), ('lb', '1'), ('oz', '8'), ('g', '680')]
    >>> amounts("Net Wt 12 ½ oz")[0].fraction
    (1, 2)
    """
    return tuple(_amounts(_plain(statement)))


def _plain(statement: str) -> str:
    """Fractions such as ½ spelt out, thousands and invisible characters taken care of."""
    spelt = re.sub(r"(\d)([¼-¾⅐-⅞])", r"\1 \2", statement)
    return unicodedata.normalize("NFKC", spelt).replace("\u2044", "/").replace("\u00ad", "").replace("\u200b", "")


def _amounts(statement: str) -> Iterator[Amount]:
    for found in _AMOUNT.finditer(statement):
        number, unit, point = found[1], found[2], found[3]
        kind = VOLUME if unit.casefold().startswith(("fl", "fluid")) else _kind(unit)
        if kind != UNKNOWN:
            spaced = found[0][len(number) : len(number) + 1].isspace()
            yield Amount(found[0].strip(), number, _value(number), unit, kind, bool(point), spaced)


def _kind(unit: str) -> str:
    return next((kind for kind, units in _UNITS.items() if unit.casefold() in units), UNKNOWN)


def _value(number: str) -> Fraction:
    if "/" in number:
        whole, _, fraction = number.replace(" /", "/").replace("/ ", "/").rpartition(" ")
        below, above = fraction.split("/")[1], fraction.split("/")[0]
        return Fraction(int(whole or 0)) + (Fraction(int(above), int(below)) if int(below) else 0)
    return Fraction(Decimal(number.replace(",", ".")))


def weights(found: tuple[Amount, ...]) -> tuple[Fraction, ...]:
    """The customary weights a statement gives, pounds and the ounces after them taken as one.

    >>> [float(w) for w in weights(amounts("24 oz (1 lb 8 oz) 680 g"))]
    [680.388555, 680.388555]
    """
    given: list[Fraction] = []
    pounds = False
    for amount in found:
        if amount.kind == OUNCE and pounds:
            given[-1] += amount.grams
        elif amount.kind in (OUNCE, POUND):
            given.append(amount.grams)
        pounds = amount.kind == POUND
    return tuple(given)


def form(found: tuple[Amount, ...]) -> str:
    """How the customary weight is written: in ounces, in ounces with pounds after them, or in pounds.

    >>> form(amounts("Net Wt 16 oz (1 lb) 453 g")), form(amounts("1 lb 8 oz (680 g)")), form(amounts("12 oz"))
    ('ounces (pounds)', 'pounds', 'ounces')
    """
    kinds = [amount.kind for amount in found if amount.kind in (OUNCE, POUND)]
    if not kinds:
        return ""
    if kinds[0] == POUND:
        return "pounds"
    return "ounces (pounds)" if POUND in kinds else "ounces"


def is_multipack(statement: str) -> bool:
    """Whether the statement counts several packs, as in "3-8 oz jars".

    >>> is_multipack("3-8 oz jars—(net wt. 24 oz)"), is_multipack("Net Wt 16 oz (1 lb) 453 g")
    (True, False)
    """
    return _MULTIPACK.search(statement) is not None
