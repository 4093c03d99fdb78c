"""Reading a form: what was typed becomes values here, once, as whoever typed it writes numbers.

A view receives values (a mass, a count, a day) and never text to understand. A refusal learns which field it is about.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from flask import Response, redirect, request, session

from labelkit.errors import LabelkitError
from labelkit.errors.cli import FileUnreadable
from labelkit.errors.page import NoJarsCounted, SentBefore
from labelkit.errors.record import KeyReused
from labelkit.measures import Declared, Length, Mass, Money, read_temperature, read_volume
from labelkit.measures.division import Division
from labelkit.measures.numerals import fold, read_count, read_day, read_number, read_percent
from labelkit.page import request_context
from labelkit.page.view import weight_unit
from labelkit.reading.weight_list import of_file
from labelkit.reading.weights import read_pieces

_BARE = re.compile(r"\d[\d.,' ’]*(\d+/\d+)?")


def typed(name: str) -> str:
    """What stands in a field of the form or of the address."""
    return request.values.get(name, "").strip()


def lines(name: str) -> list[str]:
    """The lines of a field of several."""
    return [line.strip() for line in request.values.get(name, "").splitlines() if line.strip()]


def sizes(field: str) -> dict[str, str]:
    """Fields that stand once for each jar size, ``jar:one pound`` and the like; the empty ones left out."""
    mark = f"{field}:"
    named = {name[len(mark) :]: value.strip() for name, value in request.values.items() if name.startswith(mark)}
    return {size: value for size, value in named.items() if value}


def with_unit(text: str, unit: str) -> str:
    """A number alone with the unit the form shows beside its field; anything else as it was typed.

    >>> with_unit("28.4", "kg"), with_unit("62 lb 3 oz", "kg"), with_unit(" 12,7 ", "kg"), with_unit("", "kg")
    ('28.4 kg', '62 lb 3 oz', '12,7 kg', '')
    """
    bare = text.strip()
    return f"{bare} {unit}" if _BARE.fullmatch(fold(bare)) else bare


@contextmanager
def about(field: str):
    """A refusal within is about this field of the form."""
    try:
        yield
    except LabelkitError as refusal:
        refusal.field = refusal.field or field
        raise


def value(name: str, read: Callable[[str, str], Any]) -> Any:
    """A field read by ``read(text, locale)``; nothing where it is empty."""
    text = typed(name)
    with about(name):
        return read(text, request_context.context().locale) if text else None


def by_size(field: str, read: Callable[[str, str], Any]) -> dict[str, Any]:
    """Fields of each jar size, read."""
    found = {}
    for size, text in sizes(field).items():
        with about(f"{field}:{size}"):
            found[size] = read(text, request_context.context().locale)
    return found


def mass(text: str, locale: str, unit: str = "") -> Mass:
    """A weight; a number alone is in ``unit``, the season's own unless given."""
    return Mass.read(with_unit(text, unit or weight_unit()), locale)


def mass_left(text: str, locale: str) -> Mass:
    """What is left in a bucket, which may be nothing."""
    return Mass.read(with_unit(text, weight_unit()), locale, nought=True)


def declared(text: str, locale: str) -> Declared:
    """A weight as a label declares it; a number alone has no unit to be declared in, and is refused."""
    return Declared.read(text, locale)


def small_mass(text: str, locale: str) -> Mass:
    """A weight of a jar; a number alone is in grams or in ounces, as the season weighs."""
    return mass(text, locale, small_unit())


def pieces(text: str, locale: str) -> tuple[Declared, ...]:
    """The weights of pieces, one on each line or as a table pasted; a number alone is read off the jar scale."""
    listed = [replace(each, text=with_unit(each.text, small_unit())) for each in of_file(text, "the list")]
    return read_pieces(listed, locale)


def small_unit() -> str:
    """The unit a weight of a jar is read in: that of the scale jars are filled on."""
    return scale_unit(request_context.season().division)


def scale_unit(scale: Division) -> str:
    """The unit a bare number read off a scale is in; of a scale that shows pounds and ounces, ounces."""
    return "oz" if scale.unit == "lb oz" else scale.unit


def scale(name: str = "division") -> Division:
    """The scale of the form, or the season's where the form names none."""
    return value(name, lambda text, locale: Division.read(with_unit(text, small_unit()), locale)) or (
        request_context.season().division
    )


def length(text: str, locale: str) -> Length:
    """A length, with its unit."""
    return Length.read(text, locale)


def volume(text: str, locale: str) -> Decimal:
    """A volume in millilitres; a number alone is in litres or in gallons."""
    return read_volume(with_unit(text, volume_unit()), locale)


def volume_unit() -> str:
    """The unit a volume is read in."""
    return "l" if weight_unit() == "kg" else "gal"


def temperature(text: str, locale: str) -> Decimal:
    """A temperature in degrees Celsius; a number alone is in the degrees of the season's units."""
    bare = text.strip()
    alone = re.fullmatch(r"[-−]?[\d.,]+", fold(bare))
    return read_temperature(f"{bare} {'C' if weight_unit() == 'kg' else 'F'}" if alone else bare, locale)


def amount(text: str, locale: str) -> Money:
    """Money in the season's currency."""
    return Money.read(text, request_context.season().currency, locale)


def count(text: str, locale: str) -> int:
    """A whole number of things, nought among them."""
    return read_count(text, locale)


def jar_counts(field: str = "jar") -> dict[str, int]:
    """Jars by size; sizes of which there are none are left out. Raises where none is counted at all."""
    found = {size: jars for size, jars in by_size(field, count).items() if jars}
    if not found:
        with about(field):
            raise NoJarsCounted()
    return found


def number(text: str, locale: str) -> Decimal:
    """A number alone."""
    return read_number(text, locale)


def percent(text: str, locale: str) -> Decimal:
    """A number of per cent."""
    return read_percent(text, locale)


def day(text: str, locale: str) -> date:
    """A day."""
    return read_day(text, locale)


def booking_day() -> date:
    """The day a form books on: as it says, today where it says none. The laws of order judge it where it is booked."""
    return value("on", day) or request_context.context().day


def step_key() -> str | None:
    """The key of this very step: the form's, and which form it is."""
    key = typed("step")
    return f"{request.endpoint} {key}" if key else None


def booked(step: Callable[[], Any], again: Callable, to: Callable[[Any], str], says: Callable[[Any], str]):
    """Book a step and go on to a page; where it is refused, show the form again with what was typed."""
    try:
        done = step()
    except KeyReused:
        return again(SentBefore()), 409
    except LabelkitError as refusal:
        return again(refusal), 422
    request_context.forget()
    session["said"] = says(done)
    return redirect(to(done), 303)


def uploaded(name: str) -> tuple[str, bytes] | None:
    """A file that was chosen, its name and its bytes; nothing where none was."""
    upload = request.files.get(name)
    data = upload.read() if upload else b""
    return (upload.filename or name, data) if upload and data else None


def paper(content: bytes, name: str, kind: str = "application/pdf") -> Response:
    """A paper to look at in the browser; anything else to keep."""
    way = "inline" if kind == "application/pdf" else "attachment"
    return Response(content, mimetype=kind, headers={"Content-Disposition": f'{way}; filename="{name}"'})


def text_of(content: bytes, name: str = "Your file") -> str:
    """The text of what was uploaded. Raises :class:`~labelkit.errors.cli.FileUnreadable`."""
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as trouble:
        raise FileUnreadable(name, f"byte {trouble.start} is not UTF-8 text") from None
