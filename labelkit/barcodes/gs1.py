"""GS1 numbers: the check digit that EAN, UPC, case and shipping numbers share.

Source: GS1 General Specifications, section 7.9.1: from the right, weigh the data digits 3, 1, 3, 1, …; the check digit
brings the sum to a multiple of ten. Because the weights hang from the right, one rule serves every length, and
python-stdnum's EAN rule reckons it.
"""

from __future__ import annotations

from labelkit.errors.labels import CheckDigitWrong, DigitsUnclear

#: Data digits (without the check digit) of each GS1 number.
DATA_DIGITS = {7: "EAN-8", 11: "UPC-A", 12: "EAN-13", 13: "GTIN-14", 16: "GSIN", 17: "SSCC"}


def with_check_digit(digits: str) -> str:
    """The data digits with their GS1 check digit put behind.

    Takes 7, 11, 12, 13, 16 or 17 digits; spaces and hyphens between them are passed over. Raises
    :class:`~labelkit.errors.labels.DigitsUnclear`.

    The worked example of GS1 Hong Kong, and the two the GS1 specification's readers commonly meet:

    >>> with_check_digit("629104150021")
    '6291041500213'
    >>> with_check_digit("03600024145"), with_check_digit("9501234")
    ('036000241457', '95012346')
    """
    from stdnum import ean

    bare = digits.replace(" ", "").replace("-", "")
    if not bare:
        raise DigitsUnclear(digits, "there are no digits")
    odd = next((c for c in bare if c not in "0123456789"), None)
    if odd is not None:
        raise DigitsUnclear(digits, f"“{odd}” is not a digit")
    if len(bare) not in DATA_DIGITS:
        raise DigitsUnclear(digits, f"it has {len(bare)} digits")
    return bare + ean.calc_check_digit(bare)


def checked(number: str) -> str:
    """A whole number of 8, 12, 13, 14, 17 or 18 digits whose check digit is right; the bare digits are returned.

    Raises :class:`~labelkit.errors.labels.DigitsUnclear` or :class:`~labelkit.errors.labels.CheckDigitWrong`.

    >>> checked("9521234 54321 3")
    '9521234543213'
    """
    bare = number.replace(" ", "").replace("-", "")
    whole = with_check_digit(bare[:-1])
    if bare != whole:
        raise CheckDigitWrong(bare, bare[-1], whole[-1])
    return bare
