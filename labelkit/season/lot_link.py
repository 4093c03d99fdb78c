"""The link that stands on the labels of a lot."""

from __future__ import annotations

from collections.abc import Callable

from labelkit.barcodes.instore import is_own_till_number
from labelkit.barcodes.matrix import digital_link as link_of_jar
from labelkit.errors.labels import NumberUnsaid, OwnTillOnly

LOT = "{lot}"
#: The two kinds of squares a link can stand in, as they are asked for.
SQUARES = {"qr": "QR Code", "datamatrix": "Data Matrix"}


def link_maker(link: str | None, digital_link: bool, number: str | None) -> Callable[[str], str] | None:
    """What makes the link of a lot: the same for all, with the lot in place of {lot}, or a GS1 Digital Link.

    Raises :class:`~labelkit.errors.labels.OwnTillOnly` for a Digital Link of a number that holds at one till only, and
    :class:`~labelkit.errors.labels.NumberUnsaid` for one of none.

    >>> link_maker("https://example.com/{lot}", False, None)("L26195AXR")
    'https://example.com/L26195AXR'
    >>> link_maker("https://example.com", True, "9521234543213")("L26195AXR")
    'https://example.com/01/09521234543213/10/L26195AXR'
    """
    if digital_link:
        if not number:
            raise NumberUnsaid()
        must_be_gs1(number, "a GS1 Digital Link")
        domain = (link or "https://id.gs1.org").removesuffix(LOT)
        return lambda lot: link_of_jar(number, lot or None, domain)
    return (lambda lot: link.replace(LOT, lot)) if link else None


def must_be_gs1(number: str, what: str) -> None:
    """Refuse a number of one's own till where others read it."""
    if is_own_till_number(number):
        raise OwnTillOnly(number, what)
