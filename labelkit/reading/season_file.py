"""A season in one TOML file: its buckets, its jar sizes, its market and currency.

Every key is known or refused by name and line; nothing is passed over, because the key that was mistyped may be the
one that mattered.
"""

from __future__ import annotations

import difflib
import re
from datetime import date
from decimal import Decimal
from typing import Any

from labelkit.errors.lots import BucketTwice, HoldBackTooMuch, SeasonFileUnclear
from labelkit.errors.sentence import Sentence
from labelkit.lots.intake import drain, weigh_in
from labelkit.lots.plausible import check_fits
from labelkit.lots.season import FileBucket, FileJar, SeasonFile
from labelkit.measures import NOTHING, Declared, Mass, Money, read_day, show_both
from labelkit.measures.locales import DEFAULT_LOCALE, currency_digits, locale_of
from labelkit.measures.toml import read_toml
from labelkit.reading.entry import Entry, read_intake
from labelkit.reading.season_wishes import (
    BUCKET_WISHES,
    JAR_WISHES,
    read_jar_wishes,
    read_plan,
    read_words,
    yes_or_no,
)

TOP = ("name", "currency", "market", "locale", "day", "maker", "plan", "bucket", "jar")
BUCKET = (
    "id",
    "net",
    "gross",
    "tare",
    "division",
    "container",
    "moisture",
    "weighed",
    "harvested",
    "yard",
    "hives",
    "from",
    "plant",
    "hold_back",
    "drained",
    *BUCKET_WISHES,
)
DRAINED = ("net", "gross", "tare", "division", "moisture", "on", "yard", "hives", "from")
_LONGEST_COUNT = 10  # digits
_NOTHING = re.compile(r"0+(?:[.,]0+)?\s*\D*")
JAR = ("id", "declares", "uses", "price", "cost", "tare", "in_stock", "at_least", "at_most", "case", *JAR_WISHES)
_COUNTS_FROM_ONE = ("case", "buy_pack", "after")


def read_season(text: str, file: str, day: date) -> SeasonFile:
    """Read a season file from its text; ``file`` is only for messages, ``day`` for weighings that name none.

    Raises :class:`~labelkit.errors.lots.SeasonFileUnclear` and the refusals of the weigh-in.

    >>> season = read_season('''
    ... market = ["us"]
    ... currency = "USD"
    ... [[bucket]]
    ... id = "B1"
    ... net = "60 lb"
    ... [[jar]]
    ... id = "one pound"
    ... declares = "1 lb"
    ... price = "12.00"
    ... ''', "example", date(2026, 7, 14))
    >>> season.buckets[0].usable.mg
    27215542
    """
    return _Reader(text, file).season(day)


class _Reader:
    """Holds the text beside the parsed document, so that a refusal can name the line."""

    def __init__(self, text: str, file: str) -> None:
        self.text = text.removeprefix("\ufeff")  # some editors begin a file with an invisible mark
        self.file = file
        try:
            self.document = read_toml(self.text)
        except ValueError as error:
            raise self.unclear(f"this is not TOML: {error}", "Correct that line. Put texts in double quotes.") from None

    def unclear(self, reason: str, do: str) -> SeasonFileUnclear:
        return SeasonFileUnclear(self.file, reason, do)

    def season(self, day: date) -> SeasonFile:
        self.known(self.document, TOP, "the season")
        locale = self.words("locale", DEFAULT_LOCALE)
        currency = self.words("currency", "USD")
        currency_digits(currency)
        locale_of(locale)
        stated = self.day()
        day = stated or day
        buckets = tuple(self.bucket(table, day, locale) for table in self.tables("bucket"))
        jars = tuple(self.jar(table, currency, locale) for table in self.tables("jar"))
        self.each_once([b.weigh_in.bucket for b in buckets])
        self.each_jar_once([j.id for j in jars])
        return SeasonFile(
            name=self.words("name", self.file),
            currency=currency,
            markets=self.markets(),
            locale=locale,
            buckets=buckets,
            jars=jars,
            maker=self.table("maker"),
            plan=read_plan(self, self.table("plan"), tuple(jar.id for jar in jars), locale),
            file=self.file,
            day=stated,
        )

    def words(self, key: str, otherwise: str) -> str:
        value = self.document.get(key, otherwise)
        if not isinstance(value, str):
            raise self.unclear(
                f"line {self.line_of(key)}: {key} is “{value}”",
                Sentence('Write {key} = "…" in double quotes.', key=key),
            )
        return value

    def markets(self) -> tuple[str, ...]:
        value = self.document.get("market", [])
        named = [value] if isinstance(value, str) else value
        if not isinstance(named, list) or not all(isinstance(name, str) and name.strip() for name in named):
            raise self.unclear(f"line {self.line_of('market')}: market is “{value}”", 'Write market = ["us", "us-va"].')
        return tuple(named)

    def day(self) -> date | None:
        value = self.document.get("day")
        if value is None:
            return None
        if type(value) is date or isinstance(value, str):
            return read_day(value, DEFAULT_LOCALE)
        raise self.unclear(f"line {self.line_of('day')}: day is “{value}”", "Write day = 2026-07-14.")

    def table(self, key: str) -> dict[str, Any]:
        value = self.document.get(key, {})
        if not isinstance(value, dict):
            raise self.unclear(
                f"line {self.line_of(key)}: {key} is “{value}”", Sentence("Begin it with a line [{key}].", key=key)
            )
        return value

    def tables(self, key: str) -> list[dict[str, Any]]:
        tables = self.document.get(key, [])
        if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables):
            raise self.unclear(
                f"“{key}” is not a list of tables", Sentence("Begin each one with a line [[{key}]].", key=key)
            )
        return tables

    def known(self, table: dict[str, Any], keys: tuple[str, ...], where: str) -> None:
        for key in table:
            if key not in keys:
                near = difflib.get_close_matches(key, keys, n=1)
                raise self.unclear(
                    f"line {self.line_of(key)}: “{key}” is not a key of {where}",
                    Sentence("Did you mean “{near}”?", near=near[0])
                    if near
                    else Sentence("The keys are: {keys}.", keys=", ".join(keys)),
                )

    def line_of(self, key: str) -> int:
        pattern = re.compile(rf"^\s*(?:\[+\s*)?[\"']?{re.escape(key)}[\"']?\s*(?:=|\]|\.)|[{{,]\s*{re.escape(key)}\s*=")
        return next((n for n, line in enumerate(self.text.splitlines(), 1) if pattern.search(line)), 0)

    def each_once(self, names: list[str]) -> None:
        twice = _first_twice(names)
        if twice is not None:
            raise BucketTwice(twice, f" further up in {self.file}")

    def each_jar_once(self, names: list[str]) -> None:
        twice = _first_twice(names)
        if twice is not None:
            raise self.unclear(f"jar “{twice}” stands twice in the file", "Give each [[jar]] its own id.")

    def bucket(self, table: dict[str, Any], day: date, locale: str) -> FileBucket:
        name = str(table.get("id", "")).strip()
        if not name:
            raise self.unclear("a bucket has no id", 'Give every [[bucket]] its own id, for example id = "B1".')
        self.known(table, BUCKET, f"bucket {name}")
        weighed = weigh_in(read_intake(self.entry(name, table), locale), day, locale)
        drains = []
        for later in self.listed(name, table, "drained", dict):
            self.known(later, DRAINED, f"what drained into bucket {name}")
            drains.append(
                drain(
                    read_intake(self.entry(name, later), locale),
                    day,
                    (weighed.harvested,) if weighed.harvested else (),
                    locale=locale,
                )
            )
        stays = self.text_of(table, "hold_back").strip()
        held = NOTHING if not stays or _NOTHING.fullmatch(stays) else Mass.read(stays, locale)
        first, tags = (
            yes_or_no(self, table, "use_first", f"bucket {name}"),
            read_words(self, table, "tags", f"bucket {name}"),
        )
        found = FileBucket(weighed, tuple(drains), held, first, tags)
        check_fits(name, found.bucket.holds, weighed.container_ml, locale=locale)
        if held > found.bucket.holds:
            raise HoldBackTooMuch(name, show_both(held, locale), show_both(found.bucket.holds, locale))
        return found

    def entry(self, name: str, table: dict[str, Any]) -> Entry:
        sources = [self.source(name, source) for source in self.listed(name, table, "from")]
        if table.get("yard"):
            sources.insert(0, f"{table['yard']}: {', '.join(map(str, self.listed(name, table, 'hives')))}")
        return Entry(
            bucket=name,
            **{key: self.text_of(table, key) for key in ("net", "gross", "tare", "division", "container", "plant")},
            moisture=self.number_or_text(table, "moisture"),
            weighed=str(table.get("weighed", table.get("on", ""))),
            harvested=str(table.get("harvested", "")),
            sources=tuple(sources),
        )

    def source(self, name: str, source: Any) -> str:
        if isinstance(source, str):
            return source
        if isinstance(source, dict):
            self.known(source, ("yard", "hives"), f"a yard of bucket {name}")
            return f"{source.get('yard', '')}: {', '.join(map(str, self.listed(name, source, 'hives')))}"
        raise self.unclear(f"“from” of bucket {name} names no yard", 'Write from = ["Mill meadow: H1, H2"].')

    def listed(self, bucket: str, table: dict[str, Any], key: str, of: type = object) -> list[Any]:
        """A list of a bucket; one thing alone may stand without its brackets."""
        value = table.get(key, [])
        items = value if isinstance(value, list) else [value]
        if not all(isinstance(item, of) for item in items):
            raise self.unclear(
                f"“{key}” of bucket {bucket} is “{value}”",
                Sentence("Begin each one with a line [[bucket.{key}]].", key=key),
            )
        return items

    def text_of(self, table: dict[str, Any], key: str) -> str:
        value = table.get(key, "")
        if not isinstance(value, str):
            # A number without quotes has no unit; the quantity reader says so in its own words.
            return str(value)
        return value

    def number_or_text(self, table: dict[str, Any], key: str) -> str | Decimal:
        """A number of TOML has no locale; only a text is read as the file's locale writes numbers."""
        value = table.get(key, "")
        exact = type(value) is int or (isinstance(value, Decimal) and value.is_finite())
        return Decimal(value) if exact else str(value)

    def jar(self, table: dict[str, Any], currency: str, locale: str) -> FileJar:
        name = str(table.get("id", "")).strip()
        self.known(table, JAR, f"jar {name or '(unnamed)'}")
        for key, example in (("id", 'id = "one pound"'), ("declares", 'declares = "1 lb"')):
            if not table.get(key):
                raise self.unclear(
                    f"jar {name or '(unnamed)'} has no {key}",
                    Sentence("Give it, for example {example}.", example=example),
                )
        counts = {
            key: self.count(name, key, table[key])
            for key in ("in_stock", "at_least", "at_most", "case")
            if key in table
        }
        return FileJar(
            id=name,
            declares=Declared.read(self.text_of(table, "declares"), locale),
            price=self.money(name, table, "price", currency, locale),
            cost=self.money(name, table, "cost", currency, locale),
            priced="price" in table,
            uses=Mass.read(self.text_of(table, "uses"), locale) if "uses" in table else None,
            tare=Mass.read(self.text_of(table, "tare"), locale) if "tare" in table else None,
            wishes=read_jar_wishes(self, name, table, currency, locale),
            **counts,
        )

    def money(self, jar: str, table: dict[str, Any], key: str, currency: str, locale: str) -> Money:
        given = self.number_or_text(table, key) or Decimal(0)
        amount = Money.of(given, currency) if isinstance(given, Decimal) else Money.read(given, currency, locale)
        if amount.minor < 0:
            raise self.unclear(
                f"line {self.line_of(key)}: {key} of jar {jar} is {amount.show(locale)}, less than nothing",
                Sentence('Give an amount of 0 or more, for example {key} = "12.00".', key=key),
            )
        return amount

    def count(self, jar: str, key: str, value: Any) -> int:
        if (
            isinstance(value, str)
            and value.strip().isascii()
            and value.strip().isdigit()
            and len(value) < _LONGEST_COUNT
        ):
            value = int(value)
        if isinstance(value, bool) or not isinstance(value, int) or value < (key in _COUNTS_FROM_ONE):
            least = "1 or more" if key in _COUNTS_FROM_ONE else "0 or more"
            raise self.unclear(
                f"line {self.line_of(key)}: {key} of jar {jar} is “{value}”",
                Sentence("Give a whole number of jars, {least}.", least=least),
            )
        return value


def _first_twice(names: list[str]) -> str | None:
    """The first name that has stood before.

    >>> _first_twice(["B1", "B2", "B1"])
    'B1'
    """
    seen: set[str] = set()
    for name in names:
        if name in seen:
            return name
        seen.add(name)
    return None
