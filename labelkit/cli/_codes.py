"""The till number a label is to carry, from what was typed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from labelkit.errors.cli import UsageUnclear

if TYPE_CHECKING:
    from labelkit.labels.layout.placed import Placed

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
