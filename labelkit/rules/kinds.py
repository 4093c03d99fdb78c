"""The kinds a value or a fact can be of, and how each is read from a pack or taken from a caller.

===========  ==============================  ====================================
kind         written in a pack               in Python
===========  ==============================  ====================================
mass         "453.6 g", "1 lb", "1/2 oz"     ``Decimal`` grams, exact
length       "1/8 in", "3.2 mm", "10 pt"     ``Decimal`` millimetres, exact
area         "25 in2", "80 cm2"              ``Decimal`` square millimetres
volume       "250 gal", "1 l"                ``Decimal`` millilitres
money        "50000 USD"                     :class:`~labelkit.measures.Money`
percent      18.6 or 20                      ``Decimal`` (18.6 means 18.6 %)
share        "40 %" or "1/3"                 ``Fraction``
number       18.6 or 20                      ``Decimal``
count        12                              ``int``
flag         true                            ``bool``
day          2026-06-14                      ``date``
word         "up"                            ``str``, one of the words listed
text, texts  any words, VERBATIM             ``str``, ``tuple[str, ...]``
words        ["stall", "shop"]               ``tuple[str, ...]`` of the words listed
masses       ["5 oz", "8 oz"]                ``tuple[Decimal, ...]`` grams
counts       [2, 4, 8]                       ``tuple[int, ...]``
rows         a list of tables                ``tuple`` of mappings, columns typed
===========  ==============================  ====================================

Only units and decimals an exact reading is possible for are let in, so no float can enter a legal figure here.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any

from labelkit.measures import Mass, Money
from labelkit.measures.locales import DEFAULT_LOCALE
from labelkit.measures.size import Length

_NUMBER = r"(?:\d+ )?\d+/\d+|\d+(?:\.\d+)?"
_UNITS = {
    "mass": "mg|g|kg|oz|lb",
    "length": "mm|cm|in|pt",
    "area": "mm2|cm2|in2",
    "volume": "ml|l|gal",
    "money": "[A-Z]{3}",
}
_QUANTITY = {kind: re.compile(rf"(?:{_NUMBER}) (?:{units})") for kind, units in _UNITS.items()}
_SHARE = re.compile(r"\d+/\d+|\d+(?:\.\d+)? %")
_LISTS = {"texts": "text", "words": "word", "masses": "mass", "counts": "count"}

WANTED = {
    "mass": "a mass such as “453.6 g”",
    "length": "a length such as “1/8 in”",
    "area": "an area such as “80 cm2”",
    "volume": "a volume such as “250 gal”",
    "money": "an amount such as “50000 USD”",
    "percent": "a number of per cent such as 18.6",
    "share": "a share such as “40 %” or “1/3”",
    "number": "a number",
    "count": "a whole number",
    "flag": "true or false",
    "day": "a day such as 2026-06-14",
    "word": "one of the words the glossary lists",
    "text": "text",
    "texts": "a list of texts",
    "words": "a list of words the glossary lists",
    "masses": "a list of masses",
    "counts": "a list of whole numbers",
    "rows": "a list of tables with the columns the glossary lists",
}


def fits(kind: str, raw: Any, words: tuple[str, ...] = (), columns: Mapping[str, str] | None = None) -> bool:
    """Whether what a pack says is of this kind, without reckoning it out.

    >>> fits("mass", "453.6 g"), fits("mass", "453.6"), fits("percent", Decimal("18.6")), fits("word", "up", ("up", "down"))
    (True, False, True, True)
    """
    if kind in _QUANTITY:
        return isinstance(raw, str) and _QUANTITY[kind].fullmatch(raw) is not None
    if kind == "share":
        return isinstance(raw, str) and _SHARE.fullmatch(raw) is not None
    if kind in _LISTS:
        return isinstance(raw, list) and bool(raw) and all(fits(_LISTS[kind], item, words) for item in raw)
    if kind == "rows":
        return isinstance(raw, list) and bool(raw) and all(_row_fits(row, columns or {}, words) for row in raw)
    if kind == "word":
        return raw in words
    if kind in ("number", "percent"):
        return type(raw) in (int, Decimal)
    return type(raw) is {"count": int, "flag": bool, "day": date, "text": str}[kind]


def _row_fits(row: Any, columns: Mapping[str, str], words: tuple[str, ...]) -> bool:
    if not isinstance(row, dict) or set(row) - set(columns):
        return False
    for column, kind in columns.items():
        if column not in row:
            if not kind.endswith("?"):
                return False
        elif not fits(kind.rstrip("?"), row[column], words):
            return False
    return True


def read(kind: str, raw: Any, columns: Mapping[str, str] | None = None) -> Any:
    """What a pack says, as Python reckons with it.

    >>> read("length", "1/8 in"), read("area", "80 cm2"), read("share", "40 %")
    (Decimal('3.175'), Decimal('8000'), Fraction(2, 5))
    """
    if kind in _READ:
        return _READ[kind](raw)
    if kind in _LISTS:
        return tuple(read(_LISTS[kind], item) for item in raw)
    if kind == "rows" and columns is not None:
        return tuple({column: read(columns[column].rstrip("?"), cell) for column, cell in row.items()} for row in raw)
    return raw


@lru_cache(maxsize=4096)
def _quantity(kind: str, text: str) -> Decimal:
    from labelkit.measures.units import AREA, LENGTH, MASS, VOLUME, read_quantity

    amount = read_quantity(text, {"mass": MASS, "length": LENGTH, "area": AREA, "volume": VOLUME}[kind], DEFAULT_LOCALE)
    return amount / 1000 if kind == "length" else amount


def _money(text: str) -> Money:
    amount, currency = text.split(" ")
    return Money.of(amount, currency)


def _share(text: str) -> Fraction:
    return Fraction(text.removesuffix(" %")) / 100 if text.endswith("%") else Fraction(text)


_READ: dict[str, Callable[[Any], Any]] = {
    "mass": lambda raw: _quantity("mass", raw),
    "length": lambda raw: _quantity("length", raw),
    "area": lambda raw: _quantity("area", raw),
    "volume": lambda raw: _quantity("volume", raw),
    "money": _money,
    "share": _share,
    "number": Decimal,
    "percent": Decimal,
}


def taken(kind: str, given: Any) -> Any:
    """A fact as a caller gives it, in the unit rules reckon with; typed quantities and strings are both understood.

    >>> taken("mass", Mass.of_grams(340)), taken("mass", "12 oz"), taken("count", 3)
    (Decimal('340'), Decimal('340.194277500'), 3)
    """
    if isinstance(given, Mass):
        return given.g
    if isinstance(given, Length):
        return given.mm
    if isinstance(given, str) and kind in _READ:
        return read(kind, given)
    if isinstance(given, list):
        return tuple(given)
    if kind in ("number", "percent", "mass", "length", "area", "volume") and isinstance(given, (int, Decimal)):
        return Decimal(given)
    return given
