"""The season's costs as the producer wrote them down: what is known, and what still has to be asked."""

from __future__ import annotations

import difflib
from decimal import Decimal
from typing import Any

from labelkit.errors.measures import NumberOutOfReach, NumberUnclear
from labelkit.errors.sale import CostsUnclear
from labelkit.measures.locales import currency_digits
from labelkit.measures.numerals import read_number
from labelkit.measures.toml import read_toml
from labelkit.sale.season_costs import JAR, MARKET, SEASON, SeasonCosts

TABLES = ("currency", "honey", "labour", "market", "helper", "jar")


def read_season_costs(text: str, file: str, locale: str) -> SeasonCosts:
    """The costs of a filled-in template. Raises :class:`~labelkit.errors.sale.CostsUnclear`.

    >>> costs = read_season_costs('currency = "EUR"\\n[honey]\\nper_kg = "8.50"\\n[labour]\\nrate = "?"', "costs.toml", "en_US")
    >>> costs.per_kg, costs.rate
    (Decimal('8.50'), None)
    """
    reader = _Reader(file, locale)
    try:
        document = read_toml(text)
    except ValueError as broken:
        raise CostsUnclear(file, f"it is not TOML: {broken}") from None
    reader.only(document, TABLES, "the costs")
    honey = reader.table(document, "honey")
    reader.only(honey, ("per_kg", "season"), "[honey]")
    season = reader.table(honey, "season")
    labour, market, helper = (reader.table(document, name) for name in ("labour", "market", "helper"))
    reader.only(labour, ("rate",), "[labour]")
    reader.only(market, MARKET, "[market]")
    reader.only(helper, ("share",), "[helper]")
    currency = document.get("currency", "USD")
    currency_digits(currency)
    return SeasonCosts(
        currency,
        per_kg=reader.figure(honey, "per_kg", "[honey]"),
        season=reader.figures(season, (*SEASON, *(name for name in season if name not in SEASON)), "[honey.season]"),
        rate=reader.figure(labour, "rate", "[labour]"),
        market=reader.figures(market, MARKET, "[market]"),
        helper_percent=reader.share(helper, "share", "[helper]"),
        jars=reader.jars(document.get("jar", [])),
    )


class _Reader:
    def __init__(self, file: str, locale: str) -> None:
        self.file, self.locale = file, locale

    def table(self, document: dict[str, Any], name: str) -> dict[str, Any]:
        found = document.get(name, {})
        if not isinstance(found, dict):
            raise CostsUnclear(self.file, f"“{name}” is not a table; begin it with a line [{name}]")
        return found

    def only(self, table: dict[str, Any], keys: tuple[str, ...], where: str) -> None:
        for key in table:
            if key not in keys:
                near = difflib.get_close_matches(key, keys, n=1)
                hint = f"did you mean “{near[0]}”" if near else f"there are {', '.join(keys)}"
                raise CostsUnclear(self.file, f"“{key}” in {where} is not known; {hint}")

    def figures(self, table: dict[str, Any], keys: tuple[str, ...], where: str) -> dict[str, Decimal | None]:
        read = {"card_percent": self.share, "card_share": self.share}
        return {key: read.get(key, self.figure)(table, key, where) for key in keys}

    def figure(self, table: dict[str, Any], key: str, where: str) -> Decimal | None:
        """A figure; None where it is "?" or not there."""
        given = table.get(key, "?")
        if isinstance(given, str) and given.strip() in ("?", ""):
            return None
        if isinstance(given, bool) or not isinstance(given, str | int | Decimal):
            raise CostsUnclear(self.file, f"{key} in {where} is “{given}”, which is no amount")
        try:
            found = given if isinstance(given, Decimal) else read_number(str(given), self.locale)
        except (NumberUnclear, NumberOutOfReach) as unclear:
            raise CostsUnclear(self.file, f"{key} in {where}: {unclear.what.rstrip('.')}") from None
        if found < 0:
            raise CostsUnclear(self.file, f"{key} in {where} is “{given}”, less than nothing")
        return found

    def share(self, table: dict[str, Any], key: str, where: str) -> Decimal | None:
        found = self.figure(table, key, where)
        if found is not None and found >= 100:
            raise CostsUnclear(self.file, f"{key} in {where} is {found} per cent; a share is below 100")
        return found

    def jars(self, tables: Any) -> dict[str, dict[str, Decimal | None]]:
        if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
            raise CostsUnclear(self.file, "“jar” is not a list of tables; begin each with a line [[jar]]")
        found: dict[str, dict[str, Decimal | None]] = {}
        for table in tables:
            size = str(table.get("size", "")).strip()
            if not size or size in found:
                raise CostsUnclear(self.file, f"a [[jar]] has {'a size that stands twice' if size else 'no size'}")
            self.only(table, ("size", *JAR), f"jar {size}")
            found[size] = self.figures(table, JAR, f"jar {size}")
            if found[size]["carton_holds"] == 0:
                raise CostsUnclear(self.file, f"carton_holds in jar {size} is 0; a carton holds at least one jar")
        return found
