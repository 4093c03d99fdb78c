"""Lists of weights as they come: options, lines, pasted rows, or a CSV table as a spreadsheet saves it.

What is found here is text with its place; what it means in grams is :mod:`.weights`' to say.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from dataclasses import dataclass

from labelkit.errors.filling import WeightUnclear
from labelkit.reading.tables import place_of

# What people call a unit of a scale, by the unit it is.
SPELT = {"kg": "kg", "g": "g", "gram": "g", "grams": "g", "oz": "oz", "ounce": "oz", "ounces": "oz"}
SPELT |= {"lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb"}
UNIT_WORD = re.compile(rf"(?<![^\W\d_])({'|'.join(sorted(SPELT, key=len, reverse=True))})(?![^\W\d_])", re.IGNORECASE)
_HEADINGS = (
    "net",
    "weight",
    "gross",
    "mass",
    "content",
    "netto",
    "brutto",
    "gewicht",
    "inhalt",
    "poids",
    "masse",
    "contenu",
    "peso",
    "masa",
    "contenido",
    "contenuto",
    "waga",
    "вага",
    "маса",
)
# A sum row, where a spreadsheet adds one.
_NOT_JARS = ("total", "sum", "mean", "average", "summe", "mittel", "moyenne", "suma", "media", "razem")
_DO = "Correct that line, or leave the jar out, and give the list again."


@dataclass(frozen=True, slots=True)
class Typed:
    """One weight as it was typed, and where it stands."""

    text: str
    where: str


def of_options(texts: Iterable[str]) -> tuple[Typed, ...]:
    """Weights given one by one.

    >>> of_options(["453.6 g"])[0].where
    'weight 1'
    """
    return tuple(Typed(text.strip(), f"weight {number}") for number, text in enumerate(texts, 1))


def of_file(text: str, name: str = "the file", sheet: str = "") -> tuple[Typed, ...]:
    """Weights of a text file: one on each line, several in a row, or a CSV table as a spreadsheet saves it.

    Blank lines and lines that begin with ``#`` are passed over; a heading may name the weight column and its unit;
    a sum or mean row at the foot is left out. Columns are parted by semicolons or tabs, or by commas where the
    heading is. ``sheet`` is that of the workbook whose rows the lines were. Raises :class:`~labelkit.errors.filling.WeightUnclear`.

    >>> [typed.text for typed in of_file("jar;net (g)\\n1;453,6\\n2;455,0\\n")]
    ['453,6 g', '455,0 g']
    >>> [typed.text for typed in of_file("453.6 455 454.2\\n")]
    ['453.6', '455', '454.2']
    """
    lines = [(number, line) for number, line in enumerate(text.removeprefix("\ufeff").splitlines(), 1)]
    lines = [(number, line) for number, line in lines if line.strip() and not line.lstrip().startswith("#")]
    if not lines:
        return ()
    if all(_pieces(line) for _, line in lines):
        return tuple(
            Typed(piece, place_of(name, number, sheet, 0)) for number, line in lines for piece in _pieces(line)
        )
    delimiter = _delimiter(lines[0][1])
    rows = [(number, _cells(line, delimiter)) for number, line in lines]
    column, unit, headed = _column(rows[0][1], place_of(name, rows[0][0], sheet))
    found = []
    for number, cells in rows[1:] if headed else rows:
        if cells[0].strip(" :").casefold() in _NOT_JARS:
            continue
        cell = cells[column].strip() if column < len(cells) else ""
        if not cell:
            if any(c.strip() for c in cells[1:]):
                raise WeightUnclear(
                    place_of(name, number, sheet, column), ";".join(cells), "the weight is missing.", _DO
                )
            continue
        found.append(
            Typed(f"{cell} {unit}" if unit and cell[-1].isdigit() else cell, place_of(name, number, sheet, column))
        )
    return tuple(found)


_BARE = re.compile(r"[+\-−]?\d[\d.,]*")
_WITH_UNIT = re.compile(rf"{_BARE.pattern}\s*(?:kg|g|oz|lbs?)", re.IGNORECASE)


def _pieces(line: str) -> list[str]:
    """A line without other words as the weights on it: one, or several parted by commas or by spaces.

    >>> _pieces("450 g, 451 g"), _pieces("450 451"), _pieces("1 lb 0.5 oz"), _pieces("net (g)")
    (['450 g', '451 g'], ['450', '451'], [], [])
    """
    for parting, weight in ((r",\s+", _WITH_UNIT), (r",\s+|\s+", _BARE)):
        pieces = [piece for piece in re.split(parting, line.strip()) if piece]
        if all(weight.fullmatch(piece) for piece in pieces):
            return pieces
    return []


def _delimiter(first: str) -> str | None:
    if ";" in first or "\t" in first:
        return ";" if first.count(";") >= first.count("\t") else "\t"
    # A comma parts columns only under a heading of words; between digits it may be a decimal mark.
    return "," if "," in first and not any(c.isdigit() for c in first) else None


def _cells(line: str, delimiter: str | None) -> list[str]:
    return next(csv.reader(io.StringIO(line), delimiter=delimiter, skipinitialspace=True)) if delimiter else [line]


def _column(first: list[str], where: str) -> tuple[int, str, bool]:
    """Which column holds the weights, the unit its heading names, and whether the first row is a heading."""
    if any(c.isdigit() for cell in first for c in cell):
        if len([cell for cell in first if cell.strip()]) > 1:
            raise WeightUnclear(
                where,
                ";".join(first),
                "there are several columns and no heading.",
                "Put a heading over the columns, for example: jar;net (g).",
            )
        return next((n for n, cell in enumerate(first) if cell.strip()), 0), "", False
    for column, cell in enumerate(first):
        if any(word in cell.casefold() for word in _HEADINGS) or (len(first) == 1 and cell.strip()):
            unit = UNIT_WORD.search(cell)
            return column, SPELT[unit[1].lower()] if unit else "", True
    for column, cell in enumerate(first):
        if unit := UNIT_WORD.fullmatch(cell.strip(" ()[]")):
            return column, SPELT[unit[1].lower()], True
    raise WeightUnclear(
        where,
        ";".join(first),
        "no column is called net, gross or weight.",
        "Name the column of the weights, for example: jar;net (g).",
    )
