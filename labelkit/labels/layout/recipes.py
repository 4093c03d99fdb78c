"""What each kind of panel holds: back labels, bucket tags, case labels, price cards."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import chain

from labelkit.labels.content import LabelContent
from labelkit.labels.design import Design
from labelkit.labels.layout.codes import (
    BAR_HEIGHTS,
    Block,
    case_bars,
    case_squares,
    link_squares,
    lot_symbols,
    till_bars,
)
from labelkit.labels.layout.column import Column, Piece
from labelkit.labels.layout.panel import GROWING, Recipe

#: The capitals of the name and the size of the maker over a back label.
BACK_NAME, BACK_MAKER = 5_000, 3_900


def _fewer(*rows: Sequence[Block | None]) -> list[list[Block]]:
    """Choices of symbols, the fullest first, doubles left out."""
    found: list[list[Block]] = []
    for row in rows:
        held = [block for block in row if block]
        if held not in found:
            found.append(held)
    return found if [] in found else [*found, []]


def back_codes(content: LabelContent, design: Design, dpi: int) -> list[list[Block]]:
    """Till number, link, lot: the lot's bars are turned, then the link goes, then the till number's bars get lower than
    their standard."""
    link = link_squares(content, dpi)
    lots = [*chain(*lot_symbols(content, design, dpi, BAR_HEIGHTS[-1:])), None]
    rows = [
        (till, *also)
        for heights in ((22_850, 18_280), (12_000, 8_000))
        for besides in ([(link, lot) for lot in lots], [(None, lot) for lot in lots], [(None, None)])
        for turned in (False, True)
        for also in besides
        for till in _tills(content, design, dpi, heights, turned)
    ]
    return _fewer(*rows, *((link, lot) for lot in lots), *((lot,) for lot in lots))


def _tills(content: LabelContent, design: Design, dpi: int, heights: Iterable[int], turned: bool) -> list[Block | None]:
    """The till number at each of these heights of its bars; one None where there is no number."""
    if not content.number:
        return [None]
    return [block for high in heights if (block := till_bars(content, design, dpi, high, turned))]


def lot_codes(content: LabelContent, design: Design, dpi: int) -> list[list[Block]]:
    """The lot in what is asked for, and the link where there is one."""
    link = link_squares(content, dpi)
    lots = [*chain(*lot_symbols(content, design, dpi, (12_000, *BAR_HEIGHTS))), None]
    return _fewer(*([one, link] for one in lots), *([one] for one in lots))


def case_codes(content: LabelContent, design: Design, dpi: int) -> list[list[Block]]:
    """GS1-128 where the maker has a GS1 number, else the lot."""
    held = content.elements
    if held:
        whole = [[case_bars(held, (), dpi, high)] for high in (31_750, 25_000)]
        apart = [[case_bars((one,), held, dpi, high) for one in held] for high in (31_750, 25_000, 18_000, 13_000)]
        squares = case_squares(held, dpi)
        beside = (
            [[case_bars(held[:1], held, dpi, high), squares] for high in (31_750, 25_000, 18_000)]
            if len(held) > 1
            else []
        )
        return [*whole, *apart, *beside, [squares]]
    return lot_codes(content, design, dpi)


def no_codes(content: LabelContent, design: Design, dpi: int) -> list[list[Block]]:
    return [[]]


def _small(column: Column) -> int:
    return column.board.small


def back_pieces(column: Column) -> list[Piece | None]:
    """Maker and name as a head, then everything the front may have left to it."""
    small, types = _small(column), column.design.type
    small_print = column.small_print(min(3500, small * 3 // 100 + 900))
    if column.content.of("name") is None:
        return [small_print]
    name, maker = column.content.the("name"), column.content.the("maker")
    return [
        column.line("maker", maker.all, types["maker"], min(3600, small * 4 // 100 + 900), maker.height),
        column.line("name", name.all, types["name"], min(6500, small * 7 // 100 + 900), name.height),
        column.rule(),
        small_print,
    ]


def back_head(column: Column) -> Piece | None:
    """The name on one line, and the maker at the other end of it."""
    return column.headline(BACK_NAME, BACK_MAKER)


def tag_pieces(column: Column) -> list[Piece | None]:
    """A bucket tag is read from the ground, across a room: its name large, its figures in a list."""
    small, types = _small(column), column.design.type
    name, maker = column.content.the("name"), column.content.the("maker")
    return [
        column.line("maker", maker.all, types["maker"], small * 4 // 100, maker.height),
        column.line(
            "name", name.all, replace(types["net"], tracking=0, capitals=False), small * 17 // 100, None, lines=1
        ),
        column.rule(),
        column.facts(column.content.facts, small * 48 // 1000) if column.content.facts else None,
        column.small_print(small * 30 // 1000),
    ]


def case_pieces(column: Column) -> list[Piece | None]:
    """What is in the case, how many, of which lots."""
    small, types = _small(column), column.design.type
    name, maker = column.content.the("name"), column.content.the("maker")
    return [
        column.line("maker", maker.all, types["maker"], small * 4 // 100, maker.height),
        column.line("name", name.all, types["name"], small * 9 // 100, name.height, lines=3),
        column.rule(),
        column.facts(column.content.facts, small * 36 // 1000) if column.content.facts else None,
        column.small_print(small * 30 // 1000, ("lot",)),
    ]


def card_pieces(column: Column) -> list[Piece | None]:
    """A shelf card: what it is, how much of it, what it costs, and what that is for a unit."""
    small, types, content = _small(column), column.design.type, column.content
    name, maker = content.the("name"), content.of("maker")
    net, price, unit = (content.of(role) for role in ("net", "price", "unit_price"))
    held = replace(types["net"], tracking=0, capitals=False, colour=types["info"].colour)
    figures = replace(types["name"], colour=types["maker"].colour, tracking=0)
    return [
        column.line("maker", maker.all, types["maker"], small * 4 // 100, maker.height) if maker else None,
        column.line("name", name.all, types["name"], small * 10 // 100, name.height),
        column.rule(),
        column.line("price", price.all, figures, small * 20 // 100, price.height, lines=1) if price else None,
        column.line("net", net.all, held, small * 5 // 100, net.height) if net else None,
        column.line("unit_price", unit.all, types["info"], small * 5 // 100, unit.height) if unit else None,
        column.small_print(small * 3 // 100),
    ]


RECIPES = {
    "back": Recipe(back_pieces, back_codes, silent=("net", "line"), head=back_head),
    "tag": Recipe(tag_pieces, lot_codes, GROWING),
    "case": Recipe(case_pieces, case_codes, GROWING, silent=("lot",)),
    "card": Recipe(card_pieces, no_codes, GROWING),
}
