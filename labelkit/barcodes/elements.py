"""GS1 element strings: application identifiers, what each may hold, and where a separator must stand.

Source: GS1 Barcode Syntax Dictionary (Apache-2.0) for the identifiers, their formats and character set 82; GS1 General
Specifications 7.8.4 for the separator. Only the identifiers a honey producer has use for are held; any other is
refused rather than guessed at.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from labelkit.barcodes.gs1 import checked
from labelkit.errors.labels import ElementRefused

SEPARATOR = "\x1d"
Elements = tuple[tuple[str, str], ...]

_SET_82 = r"[0-9A-Za-z!\"%&'()*+,\-./:;<=>?_]"
_DAY = r"\d\d(0[1-9]|1[0-2])([0-2]\d|3[01])"


@dataclass(frozen=True, slots=True)
class Identifier:
    """What one identifier holds. ``fixed`` ones are of predefined length and take no separator."""

    ai: str
    title: str
    pattern: str
    fixed: bool
    check: bool = False
    needs: tuple[str, ...] = ()


_ITEM = ("01", "02")
IDENTIFIERS = {
    held.ai: held
    for held in (
        Identifier("00", "SSCC", r"\d{18}", True, check=True),
        Identifier("01", "GTIN", r"\d{14}", True, check=True),
        Identifier("02", "content", r"\d{14}", True, check=True, needs=("37",)),
        Identifier("10", "lot", _SET_82 + "{1,20}", False, needs=_ITEM),
        Identifier("11", "production date", _DAY, True, needs=_ITEM),
        Identifier("13", "packaging date", _DAY, True, needs=_ITEM),
        Identifier("15", "best before", _DAY, True, needs=_ITEM),
        Identifier("17", "use by", _DAY, True, needs=_ITEM),
        Identifier("21", "serial", _SET_82 + "{1,20}", False, needs=("01",)),
        Identifier("37", "count", r"\d{1,8}", False, needs=("00", "02")),
        Identifier("422", "country of origin", r"\d{3}", False, needs=_ITEM),
        Identifier("7007", "harvest date", rf"{_DAY}({_DAY})?", False, needs=_ITEM),
        *(Identifier(f"310{n}", "net weight, kg", r"\d{6}", True, needs=_ITEM) for n in range(6)),
        *(Identifier(f"320{n}", "net weight, lb", r"\d{6}", True, needs=_ITEM) for n in range(6)),
    )
}


def encoded(elements: Elements, beside: Elements = ()) -> str:
    """The string between the start sign and the check: identifiers and values, separators where needed.

    ``beside`` holds what another symbol on the same label says, for an identifier that may not stand alone.

    Raises :class:`~labelkit.errors.labels.ElementRefused`. The first example is of the GS1 Barcode Syntax Engine.

    >>> encoded((("3100", "123456"), ("01", "12345678901231"), ("10", "12345")))
    '310012345601123456789012311012345'
    >>> encoded((("01", "09521234543213"), ("10", "ABC123"), ("15", "261231")))
    '010952123454321310ABC123\\x1d15261231'
    """
    held = {ai for ai, _ in (*elements, *beside)}
    text = ""
    for place, (ai, value) in enumerate(elements):
        identifier = _wellformed(ai, value, held)
        text += ai + value
        if not identifier.fixed and place < len(elements) - 1:
            text += SEPARATOR
    return text


def for_people(elements: Elements) -> str:
    """The text under the bars, identifiers in brackets; the brackets are never encoded.

    >>> for_people((("01", "09521234543213"), ("10", "ABC123")))
    '(01)09521234543213(10)ABC123'
    """
    return "".join(f"({ai}){value}" for ai, value in elements)


def case_number(jar: str, indicator: int = 1) -> str:
    """The GTIN-14 of a case of one kind of jar, from the jar's own number.

    GS1 General Specifications 2.1.7 (from memory): an indicator of 1 to 8, twelve digits of the jar's number, and a
    new check digit.

    >>> case_number("9521234543213")
    '19521234543210'
    """
    from labelkit.barcodes.gs1 import with_check_digit

    if not 1 <= indicator <= 8:
        raise ElementRefused("01", str(indicator), "a case of fixed content has an indicator of 1 to 8")
    return with_check_digit(str(indicator) + checked(jar).zfill(13)[:12])


def _wellformed(ai: str, value: str, held: set[str]) -> Identifier:
    identifier = IDENTIFIERS.get(ai)
    if identifier is None:
        raise ElementRefused(ai, value, f"({ai}) is not among the identifiers labelkit knows")
    if not re.fullmatch(identifier.pattern, value, re.ASCII):
        raise ElementRefused(ai, value, f"that is not how a {identifier.title} is written in GS1 data")
    if identifier.check:
        checked(value)
    if identifier.needs and not held.intersection(identifier.needs):
        wanted = " or ".join(f"({need})" for need in identifier.needs)
        raise ElementRefused(ai, value, f"a {identifier.title} stands only beside {wanted}")
    return identifier
