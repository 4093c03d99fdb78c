"""The one door to pint: what a typed quantity means, exactly.

The registry holds only the units of a honey house, each by its legal definition, with ``Decimal`` factors. It builds
in about a millisecond where the full registry takes a hundred, and a unit that no scale, ruler or bucket shows (the
troy ounce, the light-year) is refused instead of understood.

Sources of the factors: international yard and pound agreement of 1959 (pound 0.45359237 kg, inch 25.4 mm); US gallon
231 cubic inches; UK Units of Measurement Regulations 1995 (gallon 4.54609 L). The tests hold every factor against
pint's own full registry.
"""

from __future__ import annotations

import re
import sys
import threading
from collections.abc import Iterator
from contextlib import suppress
from decimal import Decimal
from functools import lru_cache
from typing import Any, NamedTuple

from labelkit.errors import Refused
from labelkit.errors.measures import (
    NotPositive,
    UnitMissing,
    UnitsMixed,
    UnitUnknown,
    WrongKindOfUnit,
)
from labelkit.errors.sentence import Sentence
from labelkit.measures.locales import show_number
from labelkit.measures.numerals import fold, read_amount


class Kind(NamedTuple):
    """A kind of quantity: its unit of account, and what to say when it is missing."""

    name: str
    base: str
    example: str
    known: str


MASS = Kind("weight", "gram", "28.4 kg", "g, kg, mg, oz, lb")
VOLUME = Kind(
    "volume", "milliliter", "5 gal", "ml, cl, l, fl oz, pt, qt, gal, cup, tbsp, tsp, imp fl oz, imp pt, imp gal"
)
LENGTH = Kind("length", "micrometer", "64 mm", "mm, cm, m, in, pt (points)")
AREA = Kind("area", "millimeter**2", "80 cm^2", "mm^2, cm^2, in^2 (sq in)")

_DEFINITIONS = """
gram = [mass] = g = gramme
kilogram = 1000 * gram = kg = kilo = kilogramme
milligram = gram / 1000 = mg
pound = 453.59237 * gram = lb
ounce = pound / 16 = oz
meter = [length] = m = metre
centimeter = meter / 100 = cm = centimetre
millimeter = meter / 1000 = mm = millimetre
micrometer = meter / 1000000 = um
inch = 25.4 * millimeter = in
point = inch / 72
milliliter = [volume] = ml = millilitre
centiliter = 10 * milliliter = cl = centilitre
deciliter = 100 * milliliter = dl = decilitre
liter = 1000 * milliliter = l = litre
gallon = 3785.411784 * milliliter = gal
quart = gallon / 4 = qt
pint = gallon / 8
cup = gallon / 16
fluid_ounce = gallon / 128
tablespoon = gallon / 256 = tbsp
teaspoon = gallon / 768 = tsp
imperial_gallon = 4546.09 * milliliter
imperial_pint = imperial_gallon / 8
imperial_fluid_ounce = imperial_gallon / 160
"""

# What people write, spelt the way the registry names it. Longer spellings come first.
_SPELLINGS = (
    (r"(?:imp(?:erial)?|uk)\.?\s*(?:gallons?|gals?)", "imperial_gallon"),
    (r"(?:imp(?:erial)?|uk)\.?\s*(?:pints?|pts?)", "imperial_pint"),
    (r"(?:imp(?:erial)?|uk)\.?\s*(?:fluid\s*ounces?|fl\.?\s*ozs?)", "imperial_fluid_ounce"),
    (r"(?:u\.?s\.?\s*)?(?:fluid\s*ounces?|fl\.?\s*ozs?)", "fluid_ounce"),
    (r"u\.?s\.?\s*(?:gallons?|gals?)", "gallon"),
    (r"(?:square\s*|sq\.?\s*)(?:inch(?:es)?|in)", "inch**2"),
    (r"(?:in|inch|inches)(?:\^2|²|2)", "inch**2"),
    (r"(?:square\s*|sq\.?\s*)cm|cm(?:\^2|²|2)", "centimeter**2"),
    (r"(?:square\s*|sq\.?\s*)mm|mm(?:\^2|²|2)", "millimeter**2"),
    (r"inches|inch|in|[\"″]", "inch"),
    (r"lbs|#", "pound"),
    (r"ozs", "ounce"),
    (r"gals", "gallon"),
)
_SPELT = tuple((re.compile(pattern, re.IGNORECASE), name) for pattern, name in _SPELLINGS)

_HALVES = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_PART = re.compile(
    r"""\s*(?P<sign>[+\-]?)\s*
        (?P<number>(?:\d+\s)?\d+\s?/\s?\d+ | \d{1,3}(?:\s\d{3})+(?:[^\w\s]\d+)?(?!\d) | [.,]?\d(?:[^\w\s"#+^²-]*\d)*(?:e[+-]?\d+)?
          | nan | inf(?:inity)?)
        \s*(?P<unit>[^\d\s+\-,;^²](?:[^\d+\-,;^²]*(?:\^2|²|(?<=[a-z])2(?![\d.]))?)?)?\s*,?""",
    re.VERBOSE | re.IGNORECASE,
)
# The registry passes over signs it does not know, so "kg @" would be kilograms; a unit is made of words and nothing else.
_UNIT = re.compile(r"[^\W\d_]+(?:[.\s]+[^\W\d_]+)*\.?(?:\s*\^?2|²)?|[#\"″]")
_CUSTOMARY = re.compile(r"lb|pound|oz|ounce|#", re.IGNORECASE)
_KIND_OF = {"[mass]": "weight", "[volume]": "volume", "[length]": "length", "[length] ** 2": "area"}
_WHY_WRONG = {
    (
        "weight",
        "volume",
    ): "A fluid ounce of honey weighs about half as much again as an ounce, so a volume is never a weight.",
    (
        "volume",
        "weight",
    ): "How much room a weight of honey takes depends on its moisture, so a weight is never a volume.",
}


@lru_cache(maxsize=1)
def _registry() -> Any:
    return _pint().UnitRegistry(_DEFINITIONS.splitlines(), non_int_type=Decimal, case_sensitive=False)


def _pint() -> Any:
    """pint, loaded without numpy: it would bring in all of it, a fifth of every command, for arrays nobody types."""
    keep_out = _KeepOut("numpy", threading.get_ident())
    sys.meta_path.insert(0, keep_out)
    try:
        import pint
    finally:
        sys.meta_path.remove(keep_out)
    return pint


class _KeepOut(NamedTuple):
    """Makes one optional package unfindable, for one thread only; whoever else wants it meanwhile finds it as ever."""

    package: str
    thread: int

    def find_spec(self, name: str, path: Any = None, target: Any = None) -> None:
        """The import system's question; a refusal here is what pint takes for “not installed”."""
        if name == self.package and threading.get_ident() == self.thread:
            raise ModuleNotFoundError(f"{name} is not needed here", name=name)


def read_quantity(text: str, kind: Kind, locale: str, *, nought: bool = False) -> Decimal:
    """Read what a producer typed as an exact amount of ``kind.base``.

    Understands sums ("62 lb 3 oz"), common fractions ("1 1/2 lb"), the locale's decimal mark, and any usual spelling
    of the unit. ``nought`` is an amount too where nothing may be left. Raises the refusals of
    :mod:`labelkit.errors.measures`.

    >>> read_quantity("1 lb 8 oz", MASS, "en_US") == Decimal("680.388555")
    True
    >>> read_quantity("2 1/2 in", LENGTH, "en_US") == 63500
    True
    """
    parts = list(_parts(text, kind, locale))
    if kind is MASS and len({bool(_CUSTOMARY.match(unit)) for _, unit in parts}) > 1:
        raise UnitsMixed(text)
    total = sum((amount for amount, _ in parts), Decimal(0))
    if (total <= 0 and not (nought and total == 0)) or any(amount < 0 for amount, _ in parts):
        raise NotPositive(text, kind.name)
    return total


def rewritten(text: str, kind: Kind, was: str, locale: str) -> str:
    """A quantity written in one locale as another reads it; where both read it alike it stays as it was typed.

    Raises what :func:`read_quantity` does.

    >>> rewritten("3 1/8 in", LENGTH, "de_DE", "en_US"), rewritten("82,5 mm", LENGTH, "de_DE", "en_US")
    ('3 1/8 in', '82.5 mm')
    >>> rewritten("3.125 in", LENGTH, "en_US", "de_DE")
    '79,375 mm'
    """
    amount = read_quantity(text, kind, was)
    with suppress(Refused):
        if read_quantity(text, kind, locale) == amount:
            return text.strip()
    unit = {MASS: "g", VOLUME: "ml", LENGTH: "mm", AREA: "mm^2"}[kind]
    return f"{show_number(convert(amount, kind.base, unit), locale)} {unit}"


def _parts(text: str, kind: Kind, locale: str) -> Iterator[tuple[Decimal, str]]:
    rest = fold(text)
    for sign, words in _HALVES.items():
        rest = re.sub(rf"(?<=\d)\s*{sign}", f" {words}", rest).replace(sign, words)
    if not rest:
        raise UnitMissing(text, kind.name, kind.example)
    while rest:
        found = _PART.match(rest)
        if not found:
            raise UnitMissing(text, kind.name, kind.example)
        number = read_amount(found["number"], locale, text=text)
        unit = (found["unit"] or "").strip().rstrip(".")
        if unit and not _UNIT.fullmatch(unit):
            raise UnitUnknown(text, unit, kind.name, kind.known)
        if not unit:
            raise UnitMissing(text, kind.name, kind.example)
        amount = _convert(number, unit, kind, text)
        yield (-amount if found["sign"] == "-" else amount), unit
        rest = rest[found.end() :]


def _convert(number: Decimal, unit: str, kind: Kind, text: str) -> Decimal:
    registry = _registry()
    import pint

    spelt = next((name for pattern, name in _SPELT if pattern.fullmatch(unit)), unit)
    if kind is LENGTH and spelt.lower() in ("pt", "points"):
        spelt = "point"
    elif kind is VOLUME and spelt.lower() in ("pt", "pts"):
        spelt = "pint"
    try:
        quantity = registry.Quantity(number, spelt)
        return Decimal(quantity.to(kind.base).magnitude)
    except pint.DimensionalityError:
        given = _KIND_OF.get(str(quantity.dimensionality), "another kind")
        hint = _WHY_WRONG.get(
            (kind.name, given),
            Sentence("You cannot calculate the {wanted} from the {given}.", wanted=kind.name, given=given),
        )
        raise WrongKindOfUnit(text, spelt.replace("_", " "), given, kind.name, hint) from None
    except Exception as error:
        # pint raises a family of its own and, on odd spellings, tokenizer errors as well.
        raise UnitUnknown(text, unit, kind.name, kind.known) from error


def convert(amount: Decimal, unit: str, into: str) -> Decimal:
    """Convert exactly between two units of the registry.

    >>> convert(Decimal(1), "pound", "gram")
    Decimal('453.59237')
    """
    return Decimal(_registry().Quantity(amount, unit).to(into).magnitude)
