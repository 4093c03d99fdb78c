"""Lot codes: what a jar carries back to its bucket.

``L26195AXR``: the letter L that Directive 2011/91/EU Art. 3 asks for, two digits of the year and the day of the year
it was bottled (so codes sort by date), two characters for the bucket, and a check character by ISO/IEC 7064
MOD 37-2. That scheme catches every single wrong character and every swap of two neighbours; python-stdnum reckons it.

The two bucket characters and the check character are drawn from letters and digits that no one confuses: no O or Q
beside 0, no I beside 1, no S, Z, B, G beside 5, 2, 8, 6, no U beside V. A serial whose check character would fall
outside is passed over.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, timedelta

from stdnum.iso7064 import mod_37_2

from labelkit.errors.lots import LotCodesUsedUp, LotCodeWrong, LotDateOutOfRange

CLEAR = "23456789ACDEFHJKMNPRTVWXY"
_CHECKS = "0123456789ACDEFHJKMNPRTVWXY"
_LOOK_ALIKES = {"O": "0", "Q": "0", "I": "1", "S": "5", "Z": "2", "B": "8", "G": "6", "U": "V"}
LENGTH = 9
_CENTURY = 20  # two digits of the year say 2000 to 2099


@dataclass(frozen=True, slots=True)
class LotCode:
    """A lot code that has been read and found right."""

    code: str
    bottled: date

    def __str__(self) -> str:
        return self.code


def lot_code(bottled: date, bucket: str, taken: Collection[str] = ()) -> LotCode:
    """The lot code of honey from one bucket bottled on one day.

    The same day and bucket give the same code, here and in the record; ``taken`` holds the codes already used, and
    the next free one in a fixed order is given. Raises :class:`~labelkit.errors.lots.LotCodesUsedUp`, and
    :class:`~labelkit.errors.lots.LotDateOutOfRange` for a day the two digits of the year cannot tell.

    >>> lot_code(date(2026, 7, 14), "B1").code
    'L26195AXR'
    >>> lot_code(date(2026, 7, 14), "B1", taken={"L26195AXR"}).code
    'L26195AYP'
    """
    if bottled.year // 100 != _CENTURY:
        raise LotDateOutOfRange(bottled.isoformat())
    head = f"L{bottled:%y}{bottled.timetuple().tm_yday:03}"
    places = len(CLEAR) ** 2
    digest = hashlib.sha256(bucket.encode(errors="surrogatepass")).digest()
    start = int.from_bytes(digest[:4], "big") % places
    for step in range(places):
        serial = (start + step) % places
        body = head + CLEAR[serial // len(CLEAR)] + CLEAR[serial % len(CLEAR)]
        check = mod_37_2.calc_check_digit(body)
        if check in _CHECKS and body + check not in taken:
            return LotCode(body + check, bottled)
    raise LotCodesUsedUp(bottled.isoformat(), bucket)


def read_lot_code(text: str, near: Collection[str] = ()) -> LotCode:
    """Read a code as typed or scanned; spaces, hyphens and small letters are forgiven, a wrong character is not.

    ``near`` holds the codes in use, from which the likeliest is named when the typed one is wrong. Raises
    :class:`~labelkit.errors.lots.LotCodeWrong`, which says what is wrong with it.

    >>> read_lot_code(" l26195-axr ").bottled
    datetime.date(2026, 7, 14)
    """
    code = "".join(text.upper().split()).replace("-", "")
    reason = _fault(code)
    if reason:
        raise LotCodeWrong(text.strip(), reason, _nearest(code, near))
    return LotCode(code, _bottled(code))


def is_lot_code(text: str) -> bool:
    """Whether a text is a valid lot code.

    >>> is_lot_code("L26195AXR"), is_lot_code("L26159AXR")
    (True, False)
    """
    try:
        read_lot_code(text)
    except LotCodeWrong:
        return False
    return True


def _fault(code: str) -> str:
    if not code.startswith("L"):
        return "it does not begin with L"
    odd = next((c for c in code[1:] if c not in _CHECKS), None)
    if odd is not None:
        meant = f"; {odd} is never used, perhaps {_LOOK_ALIKES[odd]}" if odd in _LOOK_ALIKES else ""
        return f"“{odd}” does not occur in lot codes{meant}"
    if len(code) != LENGTH:
        return f"it has {len(code)} characters instead of {LENGTH}"
    if not code[1:6].isdigit() or not 1 <= int(code[3:6]) <= 366 or _bottled(code).year % 100 != int(code[1:3]):
        return f"“{code[1:6]}” is not a year and a day of that year"
    if not mod_37_2.is_valid(code):
        return "the check character does not fit; one character is wrong or two are swapped"
    return ""


def _bottled(code: str) -> date:
    return date(100 * _CENTURY + int(code[1:3]), 1, 1) + timedelta(days=int(code[3:6]) - 1)


def neighbours(code: str) -> set[str]:
    """Every valid code that one wrong character or one swap of neighbours could have turned into ``code``.

    >>> "L26195AXR" in neighbours("L26159AXR")
    True
    """
    tries = {code[:i] + c + code[i + 1 :] for i in range(1, len(code)) for c in _CHECKS}
    tries |= {code[:i] + code[i + 1] + code[i] + code[i + 2 :] for i in range(len(code) - 1)}
    return {c for c in tries if c != code and not _fault(c)}


def _nearest(code: str, known: Collection[str]) -> str:
    if not known or len(code) != LENGTH:
        return ""
    found = sorted(neighbours(code) & set(known))
    if found:
        return f"; lots in the record that differ by one slip: {', '.join(found)}"
    return ""
