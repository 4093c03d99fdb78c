"""Numbers for one's own till, for sellers without a licence from GS1.

GS1 General Specifications 2.1.13.2: numbers that begin with 04 are free for use within one company, in EAN-13 and
UPC-A; outside it they mean nothing, or something else. A shop that takes the jars puts its own number on them. Never
make up a number with any other beginning: it belongs to somebody.
"""

from __future__ import annotations

from labelkit.barcodes.gs1 import with_check_digit
from labelkit.errors.labels import DigitsUnclear

CAUTION = (
    "This number works at your own till only. For a shop or a marketplace you need a number of your own from GS1, and the "
    "shop's own stickers go over this one."
)


def own_till_number(article: int | str) -> str:
    """An EAN-13 for one's own till from an article number of up to ten digits.

    >>> own_till_number(1234567890)
    '0412345678903'
    >>> own_till_number("17")
    '0400000000176'
    """
    digits = str(article)
    if not digits.isascii() or not digits.isdigit() or len(digits) > 10:
        raise DigitsUnclear(digits, "an article number for your own till has one to ten digits")
    return with_check_digit("04" + digits.zfill(10))


def is_own_till_number(number: str) -> bool:
    """Whether a whole number is one of those that hold within one company only.

    EAN-13 and UPC-A beginning 04 and 4, EAN-8 beginning 0 or 2, and the numbers 02 and 20 to 29 that national offices
    keep for shops (the latter from the Barcode Syntax documents, second-hand).

    >>> [is_own_till_number(n) for n in ("0412345678903", "9521234543213", "2012345678900", "4006381333931")]
    [True, False, True, False]
    """
    bare = number.replace(" ", "")
    if len(bare) == 12:
        bare = "0" + bare
    if len(bare) == 8:
        return bare[0] in "02"
    return bare.startswith(("04", "02", "2"))
