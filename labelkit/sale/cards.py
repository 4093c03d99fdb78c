"""Price cards to cut out: one a jar size, the price to be read from two steps away, the unit price beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.paper.document_style import ACCENT, HAIR, INK, PAGES, QUIET
from labelkit.paper.fonts import Box, Face
from labelkit.paper.marks import Mark, Shape, Text, line, rectangle
from labelkit.sale.large_type import fitted

CARD = (88_000, 62_000)  # fits two across and four down on letter and on A4
ACROSS, DOWN = 2, 4
PAD = 6_500


@dataclass(frozen=True, slots=True)
class Card:
    """What stands on one card, all of it decided: words only."""

    name: str
    weight: str
    price: str
    unit: str = ""
    below: str = ""  # the maker, or a word on tax


def cards_pdf(cards: Sequence[Card], title: str, *, page: str = "letter", lang: str = "en", author: str = "") -> bytes:
    """The cards on pages of eight, with hair lines to cut along."""
    from labelkit.paper.pdf import PdfWriter

    wide, high = PAGES[page]
    writer = PdfWriter(title, author=author, lang=lang)
    left, bottom = (wide - ACROSS * CARD[0]) // 2, (high - DOWN * CARD[1]) // 2
    for start in range(0, len(cards), ACROSS * DOWN):
        some = cards[start : start + ACROSS * DOWN]
        writer.page(wide, high)
        writer.draw(cut_lines(len(some)), left, bottom)
        for place, card in enumerate(some):
            row, column = divmod(place, ACROSS)
            writer.draw(card_marks(card), left + column * CARD[0], bottom + (DOWN - 1 - row) * CARD[1])
    return writer.finish()


def card_marks(card: Card) -> tuple[Mark, ...]:
    """One card, its origin at the lower left corner."""
    wide, high = CARD
    room = wide - 2 * PAD
    name = fitted("serif-Semibold", card.name, 17, room)
    weight = fitted("sans-Regular", card.weight, 12, room)
    price = fitted("serif-Black", card.price, 46, room)
    marks: list[Mark] = [
        Shape(rectangle(Box(PAD, high - PAD, PAD + 13_000, high - PAD + 900)), fill=ACCENT),
        _at(name, card.name, PAD, high - 14_500, INK),
        _at(weight, card.weight, PAD, high - 20_500, QUIET),
        _at(price, card.price, PAD, 17_000, INK),
    ]
    foot = 7_200
    unit_end = PAD
    if card.unit:
        unit = fitted("sans-Semibold", card.unit, 13, room)
        marks.append(_at(unit, card.unit, PAD, foot, INK))
        unit_end += unit[0].width(card.unit, unit[1]) + 4_000
    if card.below:
        below = fitted("sans-Regular", card.below, 8.5, wide - PAD - unit_end)
        marks.append(_at(below, card.below, wide - PAD - below[0].width(card.below, below[1]), foot, QUIET))
    return tuple(marks)


def _at(type_: tuple[Face, int], text: str, x: int, y: int, colour) -> Text:
    return Text(type_[0], type_[1], text, x, y, colour)


def cut_lines(count: int) -> tuple[Mark, ...]:
    """Hair lines between the cards of a page that has so many, and no longer than they must be."""
    wide, high = CARD
    rows = -(-count // ACROSS)
    columns = min(count, ACROSS)
    top, low = DOWN * high, (DOWN - rows) * high
    across = [line(0, top - row * high, columns * wide, top - row * high) for row in range(rows + 1)]
    down = [line(column * wide, low, column * wide, top) for column in range(columns + 1)]
    return tuple(Shape(path, stroke=HAIR, width=120, behind=True) for path in (*across, *down))
