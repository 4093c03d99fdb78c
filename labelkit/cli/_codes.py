"""The codes a label is to carry, from what was typed: a till number, and a link for each lot."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from labelkit.labels.layout.placed import Placed

LOT = "{lot}"
HELP = "labelkit labels --help"


def till_number(number: str | None, own_till: str | None) -> str | None:
    """The number for a till: a whole GS1 number, checked, or one for the seller's own till from an article number.

    Raises :class:`~labelkit.errors.labels.CheckDigitWrong` and its kin.

    >>> till_number("9521234 54321 3", None), till_number(None, "17")
    ('9521234543213', '0400000000176')
    """
    from labelkit.barcodes.instore import own_till_number
    from labelkit.barcodes.linear import for_number

    if number and own_till:
        raise UsageUnclear("--number and --own-till both name the till number; a jar has one.", HELP)
    if own_till:
        return own_till_number(own_till.strip())
    return for_number(number).text if number else None


def link_maker(link: str | None, digital_link: bool, number: str | None) -> Callable[[str], str] | None:
    """What makes the link of a lot: the same for all, with the lot in place of {lot}, or a GS1 Digital Link.

    Raises :class:`~labelkit.errors.labels.OwnTillOnly` for a Digital Link of a number that holds at one till only.

    >>> link_maker("https://example.com/{lot}", False, None)("L26195AXR")
    'https://example.com/L26195AXR'
    >>> link_maker("https://example.com", True, "9521234543213")("L26195AXR")
    'https://example.com/01/09521234543213/10/L26195AXR'
    """
    from labelkit.barcodes.matrix import digital_link as link_of_jar

    if digital_link:
        if not number:
            raise UsageUnclear("--digital-link is made of the jar's GS1 number and its lot; give --number.", HELP)
        must_be_gs1(number, "a GS1 Digital Link")
        domain = (link or "https://id.gs1.org").removesuffix(LOT)
        return lambda lot: link_of_jar(number, lot or None, domain)
    return (lambda lot: link.replace(LOT, lot)) if link else None


def must_be_gs1(number: str, what: str) -> None:
    """Refuse a number of one's own till where others read it."""
    from labelkit.barcodes.instore import is_own_till_number
    from labelkit.errors.labels import OwnTillOnly

    if is_own_till_number(number):
        raise OwnTillOnly(number, what)


def code_notes(number: str | None, placed: Iterable[Placed], noted: Iterable[str] = ()) -> Iterator[str]:
    """What the maker should know of the till number: where it stands, and who can read it."""
    from labelkit.barcodes.instore import CAUTION, is_own_till_number
    from labelkit.paper.marks import BarcodeMark

    if not number:
        return
    read = {mark.bars.text for one in placed for mark in one.marks if isinstance(mark, BarcodeMark)}
    if number not in read:
        yield f"The till number {number} stands on none of these labels: it goes on a back or a wrap (--kind front,back)."
    elif is_own_till_number(number) and CAUTION not in noted:
        yield CAUTION
