"""The answers of ``[situation]``: each read as the kind the glossary says, and none against another."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.rules.glossary import Fact

if TYPE_CHECKING:
    from labelkit.rules.label import Label

_WANTED = {
    "flag": "true or false",
    "number": "a number, 0 or more",
    "count": "a whole number, 0 or more",
    "percent": "a number of percent between 0 and 100",
    "money": "an amount with its currency such as “18000 USD”",
    "mass": "a weight such as “1 lb”",
    "length": "a length such as “2.5 in”",
    "area": "an area such as “12 sq in”",
    "volume": "a volume such as “5 gal”",
    "day": "a day such as 2026-06-14",
    "text": "a text in double quotes",
    "texts": "a list of texts",
}
# What sells straight to those who eat it; the rest goes through other hands.
_DIRECT = frozenset({"stall", "farm gate", "market", "mail", "online", "fundraiser"})


def fact_of(fact: Fact, given: Any) -> tuple[Any, str, tuple[str, ...]]:
    """A fact as rules reckon with it (``None``: not of its kind), what was wanted, and words it might be.

    >>> from labelkit.rules.glossary import glossary
    >>> facts = glossary().facts
    >>> fact_of(facts["gallons_per_year"], 90)[0], fact_of(facts["home_kitchen"], "yes")[:2]
    (Decimal('90'), (None, 'true or false'))
    """
    if fact.kind in ("word", "words"):
        return _words(fact, given)
    return _value(fact.kind, given), _WANTED[fact.kind], ()


def _words(fact: Fact, given: Any) -> tuple[Any, str, tuple[str, ...]]:
    several = fact.kind == "words"
    items = given if isinstance(given, list) and several else [given]
    unknown = next((item for item in items if item not in fact.words), None)
    listed = ", ".join(fact.words)
    wanted = f"a list of words from: {listed}" if several else f"one of: {listed}"
    if unknown is not None or not items:
        return None, wanted, fact.words
    return (tuple(items) if several else given), wanted, fact.words


def _value(kind: str, given: Any) -> Any:
    if kind == "flag":
        return given if isinstance(given, bool) else None
    if kind in ("number", "count", "percent"):
        return _number(kind, given)
    if kind == "day":
        return given if type(given) is date else None
    if kind == "text":
        return given if isinstance(given, str) and given else None
    if kind == "texts":
        items = [given] if isinstance(given, str) else given
        good = isinstance(items, list) and items and all(isinstance(item, str) and item for item in items)
        return tuple(items) if good else None
    return _quantity(kind, given) if isinstance(given, str) else None


def _number(kind: str, given: Any) -> Decimal | int | None:
    if isinstance(given, bool) or not isinstance(given, (int, Decimal)) or given < 0 or not Decimal(given).is_finite():
        return None
    if kind == "count":
        return given if isinstance(given, int) else None
    return None if kind == "percent" and given > 100 else Decimal(given)


def _quantity(kind: str, given: str) -> Any:
    """A quantity as people type it, in the unit rules reckon with; a unit that does not fit is refused by its reader."""
    from labelkit.measures import Length, Mass, Money, read_area, read_volume

    if kind == "money":
        amount, _, currency = given.strip().rpartition(" ")
        # An amount of the law is compared, not paid; any number of decimals will do.
        return Money.read(amount, currency.upper(), DEFAULT_LOCALE) if amount and currency.isalpha() else None
    return {
        "mass": lambda: Mass.read(given, DEFAULT_LOCALE).g,
        "length": lambda: Length.read(given, DEFAULT_LOCALE).mm,
        "area": lambda: read_area(given, DEFAULT_LOCALE),
        "volume": lambda: read_volume(given, DEFAULT_LOCALE),
    }[kind]()


def fact_value(name: str, text: str, locale: str) -> Any:
    """What was typed for a fact of the situation, as a label file would hold it; texts stay texts.

    Raises :class:`~labelkit.errors.label_file.LabelKeyUnknown` and its kin when the label is read.

    >>> fact_value("home_kitchen", "yes", "en_US"), fact_value("sells_to", "stall, shop", "en_US")
    (True, ['stall', 'shop'])
    >>> fact_value("gallons_per_year", "90", "en_US"), fact_value("food_sales_per_year", "18.000 EUR", "de_DE")
    (90, '18000 EUR')
    """
    from labelkit.measures import Money
    from labelkit.measures.rounding import plain
    from labelkit.measures.units import AREA, LENGTH, MASS, VOLUME, rewritten
    from labelkit.rules.glossary import glossary

    fact = glossary().facts.get(name)
    kind = fact.kind if fact else "text"
    bare = text.strip()
    if kind == "flag" and bare.casefold() in ("yes", "no", "true", "false"):
        return bare.casefold() in ("yes", "true")
    if kind in ("words", "texts"):
        return [part.strip() for part in bare.split(",") if part.strip()]
    if kind in ("number", "count", "percent") and bare.isdigit():
        return int(bare)
    if kind == "money" and bare.rpartition(" ")[2].isalpha():
        amount, _, currency = bare.rpartition(" ")
        return f"{plain(Money.read(amount, currency.upper(), locale).amount)} {currency}" if amount else bare
    of = {"mass": MASS, "length": LENGTH, "area": AREA, "volume": VOLUME}.get(kind)
    return rewritten(bare, of, locale, DEFAULT_LOCALE) if of else bare


def contradiction(label: Label) -> tuple[str, str, str, str] | None:
    """The first two statements that cannot both be true: the key, both statements, and why."""
    return next(_contradictions(label), None)


def _contradictions(label: Label) -> Iterator[tuple[str, str, str, str]]:
    said = label.situation
    if said.get("kind", label.kind) != label.kind:
        yield (
            "kind",
            f"kind = “{label.kind}”",
            f"kind = “{said['kind']}” in the situation",
            "a jar holds one kind of honey",
        )
    if said.get("raw") and said.get("pasteurized"):
        yield "raw", "raw = true", "pasteurized = true", "pasteurized honey is not raw"
    if said.get("own_hives") and said.get("importer"):
        yield "importer", "own_hives = true", "importer = true", "honey all from your own hives is not imported"
    if (
        said.get("certified_organic")
        and said.get("organic_sales_per_year")
        and not said["organic_sales_per_year"].minor
    ):
        yield "certified_organic", "certified_organic = true", "no organic sales", "then nothing organic is sold"
    food, everything = said.get("food_sales_per_year"), said.get("all_sales_per_year")
    if food and everything and food.currency == everything.currency and food.minor > everything.minor:
        yield "food_sales_per_year", "more sales of food", "fewer sales of everything", "food is a part of everything"
    if said.get("packed_where_sold") and _DIRECT.isdisjoint(said.get("sells_to", ("stall",))):
        sold = ", ".join(said["sells_to"])
        yield (
            "packed_where_sold",
            "packed_where_sold = true",
            f"sells_to = {sold}",
            "what goes through other hands is sold elsewhere",
        )
    if said.get("graded") is False and label.grade:
        yield "graded", "graded = false", f"grade = “{label.grade}”", "a printed grade is a grade"
