"""Events as canonical JSON and back, by cattrs from nothing but the types the event classes declare.

A mass is ``{"mg":27300000}``, money ``{"currency":"USD","minor":1200}``, a decimal its digits in a string, a day
``"2026-07-14"``, a declared weight its text where en_US reads that right, and where not
``{"customary":false,"grams":"12500","text":"12.500 g"}``; a field that has its default is left out.

Two promises follow, and every event added later must keep them: reading is the exact inverse of writing, and an event class may gain fields that have a default (what old records
say does not change), but a default never changes and a field never goes.

Canonical means keys sorted, no spaces, UTF-8, no floats: the form of RFC 8785 for the values used here.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import is_dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum
from functools import lru_cache
from typing import Any, Never, TypeVar, get_args, get_origin

from cattrs import Converter, transform_error
from cattrs.cols import homogenous_tuple_structure_factory
from cattrs.errors import BaseValidationError, ForbiddenExtraKeysError

from labelkit.errors import Refused
from labelkit.measures import Declared

_T = TypeVar("_T")
DEEPEST = 40  # lists and tables in one another; what people keep has three or four
LONGEST = 60  # digits of a number; the tables take nineteen
_UNFIT = (BaseValidationError, ForbiddenExtraKeysError, ValueError, TypeError, LookupError, ArithmeticError)


class Unkeepable(ValueError):
    """A value with no exact written form, or a written form that fits no value."""


def canonical(value: Any) -> str:
    """Return the canonical JSON of plain values.

    >>> canonical({"lot": "B7", "g": 40000, "seq": 1, "type": "received"})
    '{"g":40000,"lot":"B7","seq":1,"type":"received"}'
    """
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def write(event: Any) -> str:
    """Return the canonical body of an event; raises :class:`Unkeepable` unless it reads back equal.

    >>> from labelkit.lots.bucket import WeighIn
    >>> from labelkit.measures import Mass
    >>> write(WeighIn("B1", date(2026, 7, 14), Mass.of_grams(27300), moisture=Decimal("17.60")))
    '{"bucket":"B1","day":"2026-07-14","moisture":"17.60","net":{"mg":27300000}}'
    """
    body = written(event)
    if read(type(event), body) != event:
        raise Unkeepable("it would not read back the same")
    return body


def written(event: Any) -> str:
    """The canonical body of an event that was read from one; raises :class:`Unkeepable`."""
    try:
        body = canonical(_FAST.unstructure(event))
        body.encode("utf-8")
    except UnicodeEncodeError:
        raise Unkeepable("it holds half a character (a lone surrogate)") from None
    except RecursionError:
        raise Unkeepable(f"it is nested more than {DEEPEST} deep") from None
    except (TypeError, ValueError) as unfit:
        raise Unkeepable(str(unfit)) from None
    return body


def read(cls: type[_T], body: str) -> _T:
    """Return the event a canonical body was written from; raises :class:`Unkeepable`.

    >>> from labelkit.lots.bucket import Drain
    >>> read(Drain, '{"bucket":"B1","day":"2026-07-17","net":{"mg":5000000}}').net.kg
    Decimal('5')
    >>> read(Drain, '{"bucket":"B1","day":"2026-07-17","net":{"mg":"5"}}')
    Traceback (most recent call last):
        ...
    labelkit.record.codec.Unkeepable: '5' is not of type int @ $.net.mg
    """
    try:
        plain = json.loads(body, parse_float=_refuse_float, parse_constant=_refuse_float, parse_int=_whole)
    except json.JSONDecodeError as broken:
        raise Unkeepable(f"its text is broken at character {broken.pos}") from None
    except RecursionError:
        raise Unkeepable(f"it is nested more than {DEEPEST} deep") from None
    if body.count("[") + body.count("{") > DEEPEST and _depth(plain) > DEEPEST:
        raise Unkeepable(f"it is nested more than {DEEPEST} deep")
    try:
        return _FAST.structure(plain, cls)
    except _UNFIT:
        raise Unkeepable(_what_is_wrong(plain, cls)) from None


def _what_is_wrong(plain: Any, cls: type) -> str:
    try:
        _CAREFUL.structure(plain, cls)
    except _UNFIT as unfit:
        return "; ".join(transform_error(unfit, format_exception=_in_words))
    return "it is not what it should be"


def _in_words(fault: BaseException, _: type | None) -> str:
    return f"{fault} is missing" if isinstance(fault, KeyError) else str(fault)


def _depth(plain: Any, seen: int = 0) -> int:
    """How many lists and tables lie in one another, looked at no deeper than one beyond what is let through."""
    inside = plain.values() if isinstance(plain, dict) else plain if isinstance(plain, list) else ()
    if seen > DEEPEST:
        return seen
    return max((_depth(each, seen + 1) for each in inside), default=seen)


def _whole(digits: str) -> int:
    if len(digits) > LONGEST:
        raise Unkeepable(f"it holds a whole number of {len(digits)} digits")
    return int(digits)


def _refuse_float(text: str) -> Never:
    raise Unkeepable(f"it holds the inexact number {text}")


def _exactly(kind: type) -> Callable[[Any, Any], Any]:
    """A structure hook that takes a value of one type and coerces nothing."""

    def check(value: Any, _: Any) -> Any:
        if type(value) is not kind:
            raise TypeError(f"{value!r} is not of type {kind.__name__}")
        return value

    return check


def _of_json(kind: type, build: Callable[[Any, Any], Any]) -> Callable[[Any, Any], Any]:
    """A structure hook that looks at the JSON type first: a text is no list, and a list no table."""
    check = _exactly(kind)
    return lambda value, wanted: build(check(value, wanted), wanted)


def _digits(number: Any) -> str:
    if not isinstance(number, Decimal):
        raise TypeError(f"{type(number).__name__} has no exact written form")
    if not _in_reach(number):
        raise ValueError(f"{number} is not a number of at most {LONGEST} digits")
    return str(number)


def _in_reach(number: Decimal) -> bool:
    return number.is_finite() and len(number.as_tuple().digits) <= LONGEST and abs(number.adjusted()) <= LONGEST


def _decimal(value: Any, _: Any) -> Decimal:
    if type(value) is not str or not _in_reach(number := Decimal(value)):
        raise ValueError(f"{value!r} is not the digits of a number")
    return number


def _written(declares: Declared) -> Any:
    if _declared(declares.text) == declares:
        return declares.text
    return {"customary": declares.customary, "grams": _digits(declares.grams), "text": declares.text}


@lru_cache
def _declared(text: str) -> Declared:
    """A declared weight kept as its text alone, which means: as en_US writes numbers.

    Old records keep whatever stood in a season file, read or not. A decimal comma is understood; a text that says no
    weight at all is kept as nothing, which nobody can reckon with.
    """
    for locale in ("en_US", "de_DE"):
        try:
            return Declared.read(text, locale)
        except Refused:
            continue
    return Declared(text, Decimal(0), customary=False)


def _converter(*, detailed: bool) -> Converter:
    """``detailed`` says where in the document a fault is, and takes twice as long."""
    made = Converter(omit_if_default=True, forbid_extra_keys=True, detailed_validation=detailed)
    for kind in (str, bool, int):
        made.register_structure_hook(kind, _exactly(kind))
    made.register_structure_hook(StrEnum, lambda value, wanted: wanted(value))
    for day in (date, datetime):
        made.register_unstructure_hook(day, day.isoformat)
        made.register_structure_hook(day, lambda value, wanted: wanted.fromisoformat(value))
    made.register_unstructure_hook(Decimal, _digits)
    made.register_structure_hook(Decimal, _decimal)
    made.register_structure_hook_factory(
        is_dataclass, lambda hint: _of_json(dict, made.gen_structure_attrs_fromdict(hint))
    )
    table = made.gen_structure_attrs_fromdict(Declared)
    made.register_structure_hook(
        Declared,
        lambda value, wanted: _declared(value) if isinstance(value, str) else _of_json(dict, table)(value, wanted),
    )
    made.register_unstructure_hook(Declared, _written)
    made.register_structure_hook_factory(_is_tuple, lambda hint: _of_json(list, _tuple(hint, made)))
    return made


def _is_tuple(hint: Any) -> bool:
    origin: Any = get_origin(hint)
    return origin is tuple


def _tuple(hint: Any, made: Converter) -> Callable[[Any, Any], Any]:
    if get_args(hint)[1:] == (Ellipsis,):
        return homogenous_tuple_structure_factory(hint, made)
    return made.gen_structure_hetero_tuple(hint)


_FAST, _CAREFUL = _converter(detailed=False), _converter(detailed=True)
