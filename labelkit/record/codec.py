"""Events as canonical JSON and back, driven by nothing but the types the event classes declare.

A mass is ``{"mg":27300000}``, money ``{"currency":"USD","minor":1200}``, a decimal its digits in a string, a day
``"2026-07-14"``; a field that has its default is left out. Two promises follow, and every event added later must keep
them: reading is the exact inverse of writing, and an event class may gain fields that have a default (what old records
say does not change), but a default never changes and a field never goes.

Canonical means keys sorted, no spaces, UTF-8, no floats: the form of RFC 8785 for the values used here.
"""

from __future__ import annotations

import json
import types
import typing
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import Enum
from functools import cache
from typing import Any


class Unkeepable(ValueError):
    """A value with no exact written form, or a written form that fits no value."""


def canonical(value: Any) -> str:
    """Canonical JSON of plain values.

    >>> canonical({"lot": "B7", "g": 40000, "seq": 1, "type": "received"})
    '{"g":40000,"lot":"B7","seq":1,"type":"received"}'
    """
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def write(event: Any) -> str:
    """The canonical body of an event; raises :class:`Unkeepable` unless it reads back equal.

    >>> from labelkit.lots.bucket import WeighIn
    >>> from labelkit.measures import Mass
    >>> write(WeighIn("B1", date(2026, 7, 14), Mass.of_grams(27300), moisture=Decimal("17.60")))
    '{"bucket":"B1","day":"2026-07-14","moisture":"17.60","net":{"mg":27300000}}'
    """
    body = canonical(_plain(event))
    try:
        body.encode("utf-8")
    except UnicodeEncodeError:
        raise Unkeepable("it holds half a character (a lone surrogate)") from None
    if read(type(event), body) != event:
        raise Unkeepable("it would not read back the same")
    return body


def read(cls: type, body: str) -> Any:
    """The event a canonical body was written from; raises :class:`Unkeepable`.

    >>> from labelkit.lots.bucket import Drain
    >>> read(Drain, '{"bucket":"B1","day":"2026-07-17","net":{"mg":5000000}}').net.kg
    Decimal('5')
    """
    try:
        plain = json.loads(body, parse_float=_no_float, parse_constant=_no_float)
    except json.JSONDecodeError as broken:
        raise Unkeepable(f"its text is broken at character {broken.pos}") from None
    return _value(cls, plain, cls.__name__)


def _no_float(text: str):
    raise Unkeepable(f"it holds the inexact number {text}")


def _plain(value: Any) -> Any:
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, Decimal):
        if not value.is_finite():
            raise Unkeepable(f"{value} is not a number")
        return str(value)
    if isinstance(value, date):  # a datetime too
        return value.isoformat()
    if is_dataclass(value):
        return {f.name: _plain(getattr(value, f.name)) for f in fields(value) if getattr(value, f.name) != _default(f)}
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    if isinstance(value, dict):
        if not all(isinstance(key, str) for key in value):
            raise Unkeepable("a table has a key that is not text")
        return {key: _plain(item) for key, item in value.items()}
    raise Unkeepable(f"{type(value).__name__} has no exact written form")


def _default(field) -> Any:
    if field.default is not MISSING:
        return field.default
    return field.default_factory() if field.default_factory is not MISSING else MISSING


@cache
def _shape(cls: type) -> dict[str, tuple[Any, bool]]:
    hints = typing.get_type_hints(cls)
    return {f.name: (hints[f.name], _default(f) is MISSING) for f in fields(cls)}


def _value(hint: Any, plain: Any, where: str) -> Any:
    if hint is Any:
        return plain
    origin = typing.get_origin(hint)
    if origin in (typing.Union, types.UnionType):
        return _one_of(typing.get_args(hint), plain, where)
    if origin is tuple:
        return _tuple(typing.get_args(hint), plain, where)
    if origin is dict:
        _expect(isinstance(plain, dict), where, "a table")
        inner = typing.get_args(hint)[1]
        return {key: _value(inner, item, f"{where}.{key}") for key, item in plain.items()}
    if is_dataclass(hint):
        return _record(hint, plain, where)
    return _scalar(hint, plain, where)


def _one_of(hints: tuple, plain: Any, where: str) -> Any:
    if plain is None and type(None) in hints:
        return None
    trouble = Unkeepable(f"{where} is not what it should be")
    for hint in hints:
        try:
            return _value(hint, plain, where)
        except Unkeepable as unfit:
            trouble = unfit
    raise trouble


def _tuple(hints: tuple, plain: Any, where: str) -> tuple:
    _expect(isinstance(plain, list), where, "a list")
    if len(hints) == 2 and hints[1] is Ellipsis:
        return tuple(_value(hints[0], item, f"{where}[{i}]") for i, item in enumerate(plain))
    _expect(len(hints) == len(plain), where, f"a list of {len(hints)}")
    return tuple(_value(hint, item, f"{where}[{i}]") for i, (hint, item) in enumerate(zip(hints, plain, strict=True)))


def _record(cls: type, plain: Any, where: str) -> Any:
    _expect(isinstance(plain, dict), where, "a table")
    shape = _shape(cls)
    for name in plain:
        _expect(name in shape, f"{where}.{name}", "known to this labelkit")
    for name, (_, needed) in shape.items():
        _expect(name in plain or not needed, f"{where}.{name}", "given")
    return cls(**{name: _value(shape[name][0], item, f"{where}.{name}") for name, item in plain.items()})


def _scalar(hint: Any, plain: Any, where: str) -> Any:
    if hint is type(None):
        _expect(plain is None, where, "nothing")
        return None
    if hint in (str, bool, int):
        _expect(type(plain) is hint, where, hint.__name__)
        return plain
    try:
        if hint is Decimal:
            _expect(isinstance(plain, str), where, "digits")
            number = Decimal(plain)
            _expect(number.is_finite(), where, "a number")
            return number
        if hint in (date, datetime):
            return hint.fromisoformat(plain)
        if isinstance(hint, type) and issubclass(hint, Enum):
            return hint(plain)
    except (ValueError, TypeError, ArithmeticError):
        raise Unkeepable(f"{where} is {plain!r}") from None
    raise Unkeepable(f"{where} is declared as {hint}, which has no written form")


def _expect(true: bool, where: str, what: str) -> None:
    if not true:
        raise Unkeepable(f"{where} is not {what}")
