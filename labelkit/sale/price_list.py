"""The price list as a paper to hang up: what there is, what it weighs, what it costs, and the price to compare by."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from labelkit.measures.locales import show_day
from labelkit.measures.wording import Wording
from labelkit.paper.document_style import ACCENT, HAIR, INK, PAGES, QUIET
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Mark, Shape, line, rectangle
from labelkit.rules.address import address_lines
from labelkit.sale.large_type import MM, SIDE, foot, text_at
from labelkit.sale.paper_note import quality_note

ROWS_A_PAGE = 9
ROW = 21 * MM


@dataclass(frozen=True, slots=True)
class Line:
    """One row of the list, in words."""

    name: str
    weight: str
    price: str
    unit: str = ""


def price_list_pdf(
    lines: Sequence[Line],
    words: Wording,
    locale: str,
    day: date,
    *,
    page: str = "letter",
    maker: Mapping[str, str] | None = None,
    market: str = "",
    tax: str = "",
    notes: Sequence[str] = (),
) -> bytes:
    """The list in letters to be read from two steps away, nine rows a page; ``notes`` stand small at the foot."""
    from labelkit.paper.pdf import PdfWriter

    maker = maker or {}
    writer = PdfWriter(words("Price list"), author=maker.get("name", ""), lang=words.lang)
    wide, high = PAGES[page]
    for start in range(0, len(lines), ROWS_A_PAGE):
        writer.page(wide, high)
        small = [tax, " · ".join(maker_lines(maker, market)), *notes, quality_note(words)]
        writer.draw(
            [
                *_head(words, locale, day, wide, high),
                *_rows(lines[start : start + ROWS_A_PAGE], wide, high - SIDE - 34 * MM),
                *foot(small, wide),
            ]
        )
    return writer.finish()


def _head(words: Wording, locale: str, day: date, wide: int, high: int) -> list[Mark]:
    room, top = wide - 2 * SIDE, high - SIDE
    since = words("Honey, from {day}", day=show_day(day, locale))
    return [
        Shape(rectangle(Box(SIDE, top - 1_200, SIDE + 22 * MM, top)), fill=ACCENT),
        text_at("serif-Semibold", words("Price list"), 36, SIDE, top - 18 * MM, room=room),
        text_at("serif-Regular", since, 14, SIDE, top - 26 * MM, QUIET, room=room),
    ]


def _rows(lines: Sequence[Line], wide: int, top: int) -> list[Mark]:
    right = wide - SIDE
    marks: list[Mark] = []
    room = (wide - 2 * SIDE) * 62 // 100
    for place, each in enumerate(lines):
        y = top - place * ROW
        marks += [
            Shape(line(SIDE, y, right, y), stroke=INK if not place else HAIR, width=350 if not place else 180),
            text_at("serif-Semibold", each.name, 20, SIDE, y - 9_300, room=room),
            text_at("sans-Regular", each.weight, 12, SIDE, y - 16_000, QUIET, room=room),
            text_at("serif-Black", each.price, 25, right, y - 10_300, room=wide - 2 * SIDE - room, align="r"),
        ]
        if each.unit:
            room_unit = wide - 2 * SIDE - room
            marks.append(text_at("sans-Semibold", each.unit, 12, right, y - 16_600, align="r", room=room_unit))
    last = top - len(lines) * ROW
    return [*marks, Shape(line(SIDE, last, right, last), stroke=HAIR, width=180)]


def maker_lines(maker: Mapping[str, str], market: str) -> tuple[str, ...]:
    """The maker's name, address and telephone, line by line, as far as they are known, as ``market`` orders them.

    >>> maker_lines({"name": "Make-Believe Lane Honey", "city": "Little Sampling", "postcode": "ZZ99 9ZZ"}, "uk")
    ('Make-Believe Lane Honey', 'Little Sampling ZZ99 9ZZ')
    """
    return tuple(filter(None, (maker.get("name"), *address_lines(maker, "phone", market=market))))
