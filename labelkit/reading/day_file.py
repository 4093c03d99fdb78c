"""The day as the market page gives it back: a small file, a text, or a code that was read; checked before it is believed.

One JSON object: the day's key, each lot and size with what was sold, given, tasted, broken and brought back (null where
nobody counted), money in minor units, and a check figure (CRC-32 of the object without it, as it is written).
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Mapping
from typing import Any, Never

from labelkit.errors.sale import DayFileUnclear
from labelkit.measures import Money
from labelkit.measures.locales import currency_digits
from labelkit.sale.day_page import FORMAT
from labelkit.sale.settlement import Count, DayFile, Till

_KEYS = ("labelkit", "key", "mark", "currency", "items", "cash_sales", "cards", "off", "round", "cash", "fee", "sales")


def read_day_file(text: str, file: str) -> DayFile:
    """The day in a text. Raises :class:`~labelkit.errors.sale.DayFileUnclear` unless it is whole and unchanged."""
    try:
        held = json.loads(text, parse_float=_no_fraction)
    except (json.JSONDecodeError, RecursionError):
        raise DayFileUnclear(file, "it breaks off, or it is another kind of file") from None
    except ValueError as odd:
        raise DayFileUnclear(file, str(odd)) from None
    if not isinstance(held, dict) or held.get("labelkit") != FORMAT:
        raise DayFileUnclear(file, "it was not made by the market page")
    core = {key: held[key] for key in _KEYS if key in held}
    if len(core) != len(_KEYS) or held.get("check") != check_of(core):
        raise DayFileUnclear(file, "its check figure does not fit what it says")
    currency_digits(core["currency"])
    try:
        return _day(core)
    except (TypeError, ValueError, KeyError):
        raise DayFileUnclear(file, "one of its figures is missing or is no whole number") from None


def check_of(core: Mapping[str, Any]) -> str:
    """The check figure of a day, as the page reckons it.

    >>> check_of({"a": 1})
    '561bacaf'
    """
    written = json.dumps(core, separators=(",", ":"), ensure_ascii=False)
    return f"{zlib.crc32(written.encode('utf-8', 'surrogatepass')):08x}"


def _day(core: dict[str, Any]) -> DayFile:
    def money(key: str) -> Money | None:
        return None if core[key] is None else Money(_whole(core[key]), core["currency"])

    counted = {
        (str(lot), str(size)): Count(
            _count(sold), _count(given), _count(tasted), _count(broken), None if back is None else _count(back)
        )
        for lot, size, sold, given, tasted, broken, back in core["items"]
    }
    till = Till(money("cash"), money("cards"), money("off"), money("round"), money("fee"))
    return DayFile(
        str(core["key"]),
        str(core["mark"]),
        core["currency"],
        counted,
        till,
        Money(_whole(core["cash_sales"]), core["currency"]),
    )


def _whole(value: Any) -> int:
    if type(value) is not int:
        raise ValueError(value)
    return int(value)


def _count(value: Any) -> int:
    if _whole(value) < 0:
        raise ValueError(value)
    return int(value)


def _no_fraction(text: str) -> Never:
    raise ValueError(f"it holds {text}, and jars and cents are whole")
