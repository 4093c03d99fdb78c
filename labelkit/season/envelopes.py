"""Labels for envelopes: customers' names and addresses on a sheet of labels."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from labelkit.errors.sale import CustomerUnknown
from labelkit.labels.sheets import Printer, Sheet, free_places
from labelkit.paper.fonts import Box
from labelkit.paper.marks import BLACK, Text
from labelkit.paper.pdf import PdfWriter
from labelkit.sale.large_type import POINT, fitted
from labelkit.season.papers import paper_size
from labelkit.season.shelf import customers_known, facts_of

if TYPE_CHECKING:
    from labelkit.paper.marks import Mark
    from labelkit.season.settings import SeasonSettings

#: The largest letters of an address, and what stays free around it: common practice, no source.
POINTS, PAD, LEADING = 11, 4_000, 1.25


@dataclass(frozen=True, slots=True)
class Envelopes:
    """The labels as a file, whom they are for, and the customers whose address is not known."""

    pdf: bytes
    customers: tuple[str, ...]
    left_out: tuple[str, ...]


def usual_sheet(season: SeasonSettings) -> str:
    """Three across, on the paper of the season's country."""
    return "letter-3x10-67x25" if paper_size(season) == "letter" else "a4-3x7-64x38"


def customers_of(settings: Mapping[str, Any], wanted: Sequence[str]) -> list[str]:
    """The customers that are known, or those of them that are wanted, in the order of their names.

    Raises :class:`~labelkit.errors.sale.CustomerUnknown`.
    """
    known = customers_known(settings)
    for name in wanted:
        if name not in known:
            raise CustomerUnknown(name, ", ".join(known))
    return list(wanted) or known


def envelopes(
    settings: Mapping[str, Any], customers: Iterable[str], sheet: Sheet, printer: Printer, start_at: int = 1
) -> Envelopes:
    """An address on each label, one a customer; whoever's address is not known is named and left out.

    Raises :class:`~labelkit.errors.labels.SheetUsedUp` and :class:`~labelkit.errors.labels.GlyphsMissing`.
    """
    known, left_out = {}, []
    for name in customers:
        lines = facts_of(settings, name).get("address")
        if lines:
            known[name] = (name, *lines)
        else:
            left_out.append(name)
    writer, at = PdfWriter("Addresses", dpi=printer.dpi), -1
    for (page, place), lines in zip(free_places(sheet, start_at), known.values(), strict=False):
        if page != at:
            writer.page(sheet.page_wide, sheet.page_high)
            at = page
        box = sheet.place(place)
        writer.draw(_address(lines, box), *printer.corner(box.left, box.bottom))
    return Envelopes(writer.finish() if known else b"", tuple(known), tuple(left_out))


def _address(lines: Sequence[str], box: Box) -> list[Mark]:
    """The lines from the left, in one size that fits the label, in the middle of its height."""
    wide, high = box.width - 2 * PAD, box.height - 2 * PAD
    most = min(POINTS, high / POINT / LEADING / len(lines))
    size = min(fitted("sans-Regular", line, most, wide)[1] for line in lines)
    step = round(size * LEADING)
    y = box.height // 2 + (len(lines) * step) // 2 - size
    return [
        Text(fitted("sans-Regular", line, most, wide)[0], size, line, PAD, y - n * step, BLACK)
        for n, line in enumerate(lines)
    ]
