"""A label described in one TOML file: what it says, on which jar, and in which situation it is sold.

Every key is known or refused by name and line. What the file leaves out is left open: the check asks for it where a rule
hangs on it. ``[nutrition]`` holds a laboratory's amounts per 100 g, by the keys of :data:`NUTRIENTS` in the units the panel
prints (``calories = 310``, ``sugars = 80.1``, ``sodium = 4``), and, where one is wished, the panel's ``display``. In
``[situation]`` every fact of the rules' glossary may be given by its name, so that any question the check
asks can be answered in the file.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from labelkit.errors.label_file import (
    LabelFileUnreadable,
    LabelKeyMissing,
    LabelKeyUnknown,
    LabelSharesNotWhole,
    LabelValueWrong,
    SituationContradicts,
)
from labelkit.errors.measures import DayUnclear
from labelkit.errors.rules import CountryUnknown
from labelkit.measures import Declared, Length, Volume
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.measures.toml import read_toml
from labelkit.reading.situation import contradiction, fact_of
from labelkit.rules.figures.date_mark import BestBefore
from labelkit.rules.figures.origin import known_country
from labelkit.rules.glossary import glossary, near
from labelkit.rules.label import EACH, EXAMPLES, PARTS, STORY, Label, Share
from labelkit.rules.toml_lines import line_of

KINDS = ("honey", "infused", "comb", "blend")
TOP = (
    "market",
    "kind",
    "name",
    "floral_source",
    "declares",
    "net_statement",
    "lines",
    "story",
    "ingredients",
    "grade",
    "lot",
    "volume",
    "best_before",
    "labelled",
    "origin",
    "maker",
    "panel",
    "nutrition",
    "situation",
)
MAKER = ("name", "street", "city", "region", "postcode", "country", "phone", "email", "registration")
PANEL = ("diameter", "width", "height")
NUTRIENTS = (
    "calories",
    "fat",
    "saturated_fat",
    "trans_fat",
    "cholesterol",
    "sodium",
    "carbohydrate",
    "fiber",
    "sugars",
    "added_sugars",
    "protein",
    "vitamin_d",
    "calcium",
    "iron",
    "potassium",
)
DISPLAYS = ("vertical", "tabular", "small tabular", "linear")
# Honey, and other sweeteners, as ingredient lists of the markets held call them.
_HONEYS = ("honey", "miel", "honig", "miód", "miod", "honing", "mêl", "nektar", "nectar")
_SWEETENERS = (
    "syrup",
    "sugar",
    "molasses",
    "glucose",
    "fructose",
    "dextrose",
    "sirop",
    "sucre",
    "sirup",
    "zucker",
    "jarabe",
    "azúcar",
    "sciroppo",
    "zucchero",
    "syrop",
    "cukier",
    "stroop",
    "suiker",
)


def read_panel(table: Mapping[str, str]) -> dict[str, Length]:
    """The straight side of a jar as a label file or the record's words have it: diameter or width, and height."""
    return {key: Length.read(text, DEFAULT_LOCALE) for key, text in table.items()}


def read_label(text: str, file: str = "LABEL.toml", markets: tuple[str, ...] = ()) -> Label:
    """Read a label file; ``file`` is only for messages, ``markets`` go before those the file names.

    Raises one of :mod:`labelkit.errors.label_file`, or what a quantity reader says of a weight or a length.

    >>> label = read_label('market = "us"\\nname = "Clover Honey"\\ndeclares = "1 lb"\\n')
    >>> label.markets, label.kind, label.situation
    (('us',), 'honey', {})
    """
    text = text.removeprefix("\ufeff")
    try:
        document = read_toml(text)
    except ValueError as fault:
        raise LabelFileUnreadable(file, str(fault)) from None
    return _Reader(document, file, text).label(markets)


def label_of(document: Mapping[str, Any], called: str) -> Label:
    """The label of what a label file could say, where no file holds it; ``called`` names it in a refusal.

    >>> label_of({"market": ["us"], "name": "Clover Honey", "declares": "1 lb"}, "the record").name
    'Clover Honey'
    """
    return _Reader(document, called).label(())


class _Reader:
    """Holds the text of a file beside the parsed document, so that a refusal can name the line."""

    def __init__(self, document: Mapping[str, Any], file: str, text: str = "") -> None:
        self.document, self.file, self.text = document, file, text

    def label(self, markets: tuple[str, ...]) -> Label:
        read = self.document
        self.known(read, TOP, "a label file", "")
        label = Label(
            markets=markets or self.texts("market", one_is_enough=True),
            name=self.words(read, "name"),
            declares=Declared.read(text, DEFAULT_LOCALE) if (text := self.words(read, "declares")) else None,
            kind=self.kind(),
            floral_source=self.words(read, "floral_source"),
            net_statement=self.words(read, "net_statement") if "net_statement" in read else None,
            lines=self.texts("lines", one_is_enough=True),
            story=self.story(),
            ingredients=self.texts("ingredients"),
            grade=self.words(read, "grade"),
            lot=self.words(read, "lot"),
            volume=self.volume(),
            best_before=self.best_before(),
            labelled=self.labelled(),
            origin=self.origin(),
            maker=self.table("maker", MAKER),
            panel=self.panel(),
            nutrition=self.nutrition(),
            situation=self.situation(),
            file=self.file,
        )
        said = {"market": label.markets, "name": label.name, "declares": label.declares or label.net_statement}
        for key, value in said.items():
            if not value:
                raise LabelKeyMissing(self.file, key, EXAMPLES[key])
        self.refuse_contradictions(label)
        return _settled(label)

    def known(self, table: Mapping[str, Any], keys: Iterable[str], where: str, name: str) -> None:
        keys = tuple(keys)
        for key in table:
            if key not in keys:
                listed = keys if len(keys) < 20 else (*keys[:12], "and the other facts the check asks for")
                raise LabelKeyUnknown(self.file, line_of(self.text, key, name), key, where, near(key, keys), listed)

    def wrong(self, key: str, given: Any, wanted: str, table: str = "", known: Collection[str] = ()) -> LabelValueWrong:
        shown = f"“{given}”" if isinstance(given, str) else given
        return LabelValueWrong(
            self.file, line_of(self.text, key, table), key, shown, wanted, near(str(given), known) if known else ()
        )

    def words(self, table: Mapping[str, Any], key: str, name: str = "") -> str:
        value = table.get(key, "")
        if not isinstance(value, str):
            raise self.wrong(key, value, "a text in double quotes", name)
        return value.strip()

    def story(self) -> dict[str, str]:
        """What the label tells of its honey; the harvest is a year, or ``each``: that of each lot."""
        told = self.table("story", STORY)
        harvest = told.get("harvest", EACH)
        if harvest != EACH and not (len(harvest) == 4 and harvest.isascii() and harvest.isdigit()):
            raise self.wrong(
                "harvest", harvest, f'a year such as "2026", or "{EACH}" for the year of each lot', "story"
            )
        return told

    def texts(self, key: str, *, one_is_enough: bool = False) -> tuple[str, ...]:
        value = self.document.get(key, [])
        if one_is_enough and isinstance(value, str):
            value = [value]
        if not isinstance(value, list) or not all(isinstance(item, str) for item in value):
            raise self.wrong(key, value, 'a list of texts such as ["…", "…"]')
        return tuple(item.strip() for item in value if item.strip())

    def table(self, key: str, keys: tuple[str, ...]) -> dict[str, str]:
        table = self.document.get(key, {})
        if not isinstance(table, dict):
            raise self.wrong(key, table, f"a table; begin it with a line [{key}]")
        self.known(table, keys, f"[{key}]", key)
        return {name: text for name in table if (text := self.words(table, name, key))}

    def kind(self) -> str:
        kind: str = self.document.get("kind", "honey")
        if kind not in KINDS:
            raise self.wrong("kind", kind, f"one of {', '.join(KINDS)}", known=KINDS)
        return kind

    def panel(self) -> dict[str, Length]:
        read = read_panel(self.table("panel", PANEL))
        if "diameter" in read and "width" in read:
            line = line_of(self.text, "width", "panel")
            raise SituationContradicts(
                self.file, line, "a diameter", "a width", "a jar is either round or has flat sides"
            )
        return read

    def nutrition(self) -> dict[str, Any]:
        """``[nutrition]``: amounts per 100 g in the units of the panel, and ``display`` if one is wished."""
        table = self.document.get("nutrition", {})
        if not isinstance(table, dict):
            raise self.wrong("nutrition", table, "a table; begin it with a line [nutrition]")
        self.known(table, (*NUTRIENTS, "display"), "[nutrition]", "nutrition")
        if "display" in table and table["display"] not in DISPLAYS:
            raise self.wrong("display", table["display"], f"one of {', '.join(DISPLAYS)}", "nutrition", DISPLAYS)
        return {name: value if name == "display" else self.amount(name, value, table) for name, value in table.items()}

    def amount(self, name: str, value: Any, table: Mapping[str, Any]) -> Decimal:
        """An amount per 100 g; sugars are part of the carbohydrate and cannot be more than it."""
        wanted = "a plain number, the amount in 100 g of honey in the unit of the panel (g, mg, mcg or kilocalories)"
        if type(value) not in (int, Decimal) or not Decimal(value).is_finite() or value < 0:
            raise self.wrong(name, value, wanted, "nutrition")
        whole = table.get(PARTS.get(name, ""), value)
        if type(whole) in (int, Decimal) and value > whole:
            raise self.wrong(name, value, f"not more than the {PARTS[name]}, {whole}, which it is part of", "nutrition")
        if name in ("carbohydrate", "sugars", "added_sugars", "fat", "protein", "fiber") and value > 100:
            raise self.wrong(name, value, "at most 100, the grams there are in 100 g", "nutrition")
        return Decimal(value)

    def best_before(self) -> BestBefore | None:
        given = self.document.get("best_before")
        if given is None or given == "":
            return None
        try:
            return BestBefore.read(given if type(given) is date else str(given))
        except DayUnclear:
            wanted = "a day such as 2028-06-30, or a month such as “2028-06”, or a year such as “2028”"
            raise self.wrong("best_before", given, wanted) from None

    def volume(self) -> Volume | None:
        """What the jar holds, as it is printed; refused where it is none."""
        text = self.words(self.document, "volume")
        return Volume.read(text, DEFAULT_LOCALE) if text else None

    def labelled(self) -> date | None:
        given = self.document.get("labelled")
        if given is None or type(given) is date:
            return given
        raise self.wrong("labelled", given, "a day without quotes, such as 2026-05-20")

    def origin(self) -> tuple[Share, ...]:
        entries = self.document.get("origin", [])
        entries = [entries] if isinstance(entries, dict) else entries
        if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
            raise self.wrong(
                "origin",
                entries,
                'a list of countries, each begun with a line [[origin]] and then country = "US" and share = 100',
            )
        shares = tuple(self.share(entry, alone=len(entries) == 1) for entry in entries)
        total = sum((share.percent for share in shares), Decimal(0))
        if shares and total != 100:
            named = ", ".join(f"{share.country} {share.percent:f} %" for share in shares)
            raise LabelSharesNotWhole(self.file, line_of(self.text, "origin"), named, f"{total:f} %")
        return shares

    def share(self, entry: Mapping[str, Any], *, alone: bool) -> Share:
        self.known(entry, ("country", "share"), "origin", "origin")
        country = self.words(entry, "country", "origin").upper()
        try:
            known_country(country)
        except CountryUnknown as told:
            hint = f" ({told.near.strip()})" if told.near else ""
            wanted = f"a two-letter country code such as US, DE or NZ{hint}"
            raise self.wrong("country", entry.get("country", "nothing"), wanted, "origin") from told
        given = entry.get("share", 100 if alone else "nothing")
        try:
            percent = Decimal(str(given).removesuffix("%").strip())
        except ArithmeticError:
            percent = Decimal("NaN")
        if isinstance(given, bool) or not percent.is_finite() or not 0 < percent <= 100:
            raise self.wrong("share", given, "a number of percent above 0 and up to 100", "origin")
        return Share(country, percent)

    def situation(self) -> dict[str, Any]:
        table = self.document.get("situation", {})
        if not isinstance(table, dict):
            raise self.wrong("situation", table, "a table; begin it with a line [situation]")
        facts = glossary().facts
        self.known(table, facts, "[situation]", "situation")
        found = {}
        for name, given in table.items():
            value, wanted, known = fact_of(facts[name], given)
            if value is None:
                raise self.wrong(name, given, wanted, "situation", known)
            found[name] = value
        return found

    def refuse_contradictions(self, label: Label) -> None:
        found = contradiction(label)
        if found:
            key, first, second, reason = found
            raise SituationContradicts(self.file, line_of(self.text, key, "situation"), first, second, reason)


def _settled(label: Label) -> Label:
    """The label with one answer to whether something was added: ``kind``, ``infused`` and ``ingredients`` all say it.

    Where they differ the one that says so is believed, because the law asks more of it. Another sweetener makes a blend.

    >>> _settled(Label(("us",), "Honey", None, situation={"infused": True})).kind
    'infused'
    >>> _settled(Label(("us",), "Honey", None, ingredients=("honey", "corn syrup"))).kind
    'blend'
    """
    if label.kind == "honey":
        added = [name for name in label.ingredients if not any(word in name.casefold() for word in _HONEYS)]
        sweet = any(word in name.casefold() for name in added for word in _SWEETENERS)
        if added or label.situation.get("infused"):
            label = replace(label, kind="blend" if sweet else "infused")
    if label.kind not in ("infused", "blend"):
        return label
    return replace(label, situation={name: said for name, said in label.situation.items() if name != "infused"})
