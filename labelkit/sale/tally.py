"""The tally sheet for a market without a telephone: a box to tick for every jar, and room for the money."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from labelkit.measures.locales import show_day
from labelkit.measures.wording import Wording
from labelkit.paper.document_style import HAIR, INK, PAGES, QUIET
from labelkit.paper.fonts import Box
from labelkit.paper.marks import Mark, Shape, line, rectangle
from labelkit.sale.large_type import MM, SIDE, foot, text_at
from labelkit.sale.paper_note import quality_note
from labelkit.sale.settlement import Loaded

BOX, STEP, GROUP = 4_600, 5_800, 2_400
LEFT_ROOM = 17 * MM  # what stands before the boxes
MONEY_ROOM = 42 * MM


@dataclass(frozen=True, slots=True)
class Row:
    """One lot and size, and how high it stands on the sheet."""

    title: str
    lot: str
    count: int
    high: int


def tally_pdf(load: Loaded, words: Wording, locale: str, *, page: str = "letter", author: str = "") -> bytes:
    """The sheet: as many pages as the jars need, the money on the last."""
    from labelkit.paper.pdf import PdfWriter

    wide, high = PAGES[page]
    title = words("Tally sheet")
    writer = PdfWriter(title, lang=words.lang, author=author)
    across = _across(wide)
    rows = [
        Row(
            words("{size}, {price} each", size=line_.size, price=line_.price.show(locale) if line_.price else "–"),
            line_.lot,
            line_.count,
            17 * MM + -(-line_.count // across) * STEP,
        )
        for line_ in load.lines
    ]
    pages = _paged(rows, high - 2 * SIDE - 26 * MM, MONEY_ROOM)
    for number, some in enumerate(pages, 1):
        writer.page(wide, high)
        marks = _head(title, load, words, locale, wide, high, f"{number} / {len(pages)}")
        y = high - SIDE - 28 * MM
        for row in some:
            marks += _row(row, words, wide, y, across)
            y -= row.high
        if number == len(pages):
            marks += _money(load, words, locale, wide, y - 2 * MM)
        writer.draw([*marks, *foot([quality_note(words)], wide, 7)])
    return writer.finish()


def _across(wide: int) -> int:
    """Boxes on a line, in whole groups of five."""
    group = 5 * STEP + GROUP
    return (wide - 2 * SIDE - LEFT_ROOM + GROUP) // group * 5


def _paged(rows: Sequence[Row], room: int, money: int) -> list[list[Row]]:
    pages: list[list[Row]] = [[]]
    left = room
    for row in rows:
        if row.high > left and pages[-1]:
            pages.append([])
            left = room
        pages[-1].append(row)
        left -= row.high
    if left < money:
        pages.append([])
    return pages


def _head(title: str, load: Loaded, words: Wording, locale: str, wide: int, high: int, number: str) -> list[Mark]:
    top, room = high - SIDE, wide - 2 * SIDE
    below = f"{load.place} · {show_day(load.day, locale)}"
    return [
        text_at("serif-Semibold", title, 26, SIDE, top - 9 * MM, room=room),
        text_at("serif-Regular", below, 13, SIDE, top - 16 * MM, QUIET, room=room),
        text_at("sans-Regular", words("One tick for each jar sold."), 9.5, SIDE, top - 22 * MM, room=room),
        text_at("sans-Regular", number, 9.5, wide - SIDE, top - 9 * MM, QUIET, room=room, align="r"),
    ]


def _row(row: Row, words: Wording, wide: int, top: int, across: int) -> list[Mark]:
    right, room = wide - SIDE, wide - 2 * SIDE
    marks: list[Mark] = [
        Shape(line(SIDE, top, right, top), stroke=HAIR, width=180),
        text_at("sans-Bold", row.title, 11.5, SIDE, top - 6 * MM, room=room * 55 // 100),
        text_at("narrow-Medium", row.lot, 10, SIDE + room * 57 // 100, top - 6 * MM, room=room * 20 // 100),
        text_at(
            "sans-Regular",
            words.count("{n} jar taken", "{n} jars taken", row.count),
            10,
            right,
            top - 6 * MM,
            room=room // 4,
            align="r",
        ),
        text_at("sans-Regular", words("sold"), 9, SIDE, top - 12_200, QUIET, room=LEFT_ROOM - 1_000),
    ]
    for jar in range(row.count):
        down, place = divmod(jar, across)
        x = SIDE + LEFT_ROOM + place * STEP + place // 5 * GROUP
        y = top - 12_600 - down * STEP
        marks.append(Shape(rectangle(Box(x, y, x + BOX, y + BOX), 500), stroke=INK, width=220))
    low = top - row.high + 3_000
    names = (words("tasted"), words("given"), words("broken"), words("brought back"))
    return marks + _blanks(names, SIDE + LEFT_ROOM, low, (room - LEFT_ROOM) // len(names))


def _blanks(names: Sequence[str], x: int, y: int, step: int) -> list[Mark]:
    """Words with a line to write on behind each."""
    marks: list[Mark] = []
    for place, name in enumerate(names):
        word = text_at("sans-Regular", name, 9, x + place * step, y, QUIET, room=step - 14 * MM)
        begin = word.x + word.width + 1_500
        marks += [word, Shape(line(begin, y - 800, begin + 12 * MM, y - 800), stroke=INK, width=200)]
    return marks


def _money(load: Loaded, words: Wording, locale: str, wide: int, top: int) -> list[Mark]:
    right = wide - SIDE
    change = load.change.show(locale) if load.change else ""
    rows = (
        (words("Cash float in the morning"), change),
        (words("Cash in the box in the evening"), ""),
        (words("Paid by card"), ""),
        (words("Let off on prices"), ""),
        (words("Stall fee"), ""),
    )
    marks: list[Mark] = [Shape(line(SIDE, top, right, top), stroke=INK, width=350)]
    for place, (name, value) in enumerate(rows):
        y = top - 7 * MM - place * 7_500
        marks.append(text_at("sans-Regular", name, 10.5, SIDE, y, room=90 * MM))
        marks.append(Shape(line(SIDE + 95 * MM, y - 900, SIDE + 135 * MM, y - 900), stroke=INK, width=200))
        if value:
            marks.append(text_at("sans-Semibold", value, 10.5, SIDE + 134 * MM, y, room=40 * MM, align="r"))
    return marks
