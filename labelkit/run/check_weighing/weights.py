"""Weights as people type them, or as a spreadsheet saves them; slips are recognised and asked about, never used.

A list is read whole or refused. Bare numbers are read in the one unit that fits the label, and only where one unit
alone can be meant: a pound jar reads 453.6 in grams, 16.0 in ounces and 1.0 in pounds, which nobody can confuse.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from labelkit.errors.filling import TareImpossible, UnitUnclear, WeightFarFromLabel, WeightsInMixedUnits, WeightUnclear
from labelkit.errors.measures import NotPositive, NumberOutOfReach, NumberUnclear, UnitUnknown, WrongKindOfUnit
from labelkit.measures import Mass, show_customary, show_metric
from labelkit.measures.locales import DEFAULT_LOCALE, read_number
from labelkit.measures.rounding import plain

_UNITS = {"g": "gram", "kg": "kilogram", "oz": "ounce", "lb": "pound"}
_UNIT_WORD = re.compile(r"(?<![^\W\d_])(kg|g|gr?ams?|oz|ounces?|lbs?|pounds?)(?![^\W\d_])", re.IGNORECASE)
_SPELT = {"kg": "kg", "g": "g", "gram": "g", "grams": "g", "oz": "oz", "ounce": "oz", "ounces": "oz"}
_SPELT |= {"lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb"}
_HEADINGS = (
    "net", "weight", "gross", "mass", "content", "netto", "brutto", "gewicht", "inhalt", "poids", "masse", "contenu",
    "peso", "masa", "contenido", "contenuto", "waga", "вага", "маса",
)  # fmt: skip
# A jar of the lot weighs between half and twice its label; anything else is a slip, another jar, or an empty one.
_LIKELY = (Decimal("0.5"), Decimal(2))
# A sum row, where a spreadsheet adds one.
_NOT_JARS = ("total", "sum", "mean", "average", "summe", "mittel", "moyenne", "suma", "media", "razem")


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


def of_file(text: str, name: str = "the file") -> tuple[Typed, ...]:
    """Weights of a text file: one on each line, several in a row, or a CSV table as a spreadsheet saves it.

    Blank lines and lines that begin with ``#`` are passed over; a heading may name the weight column and its unit;
    a sum or mean row at the foot is left out. Columns are parted by semicolons or tabs, or by commas where the
    heading is. Raises :class:`~labelkit.errors.filling.WeightUnclear`.

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
        return tuple(Typed(piece, f"{name}, line {number}") for number, line in lines for piece in _pieces(line))
    delimiter = _delimiter(lines[0][1])
    rows = [(number, _cells(line, delimiter)) for number, line in lines]
    column, unit, headed = _column(rows[0][1], name, rows[0][0])
    found = []
    for number, cells in rows[1:] if headed else rows:
        if cells[0].strip(" :").casefold() in _NOT_JARS:
            continue
        cell = cells[column].strip() if column < len(cells) else ""
        if not cell:
            if any(c.strip() for c in cells[1:]):
                raise WeightUnclear(f"{name}, line {number}", ";".join(cells), "the weight is missing.", _DO)
            continue
        found.append(Typed(f"{cell} {unit}" if unit and cell[-1].isdigit() else cell, f"{name}, line {number}"))
    return tuple(found)


_DO = "Correct that line, or leave the jar out, and give the list again."


def read_weights(
    typed: Iterable[Typed], label: Mass, locale: str = DEFAULT_LOCALE, tare: Mass | None = None
) -> tuple[tuple[Mass, ...], tuple[str, ...]]:
    """The weights as masses (gross ones where a tare is given), and notes on how they were understood.

    Raises :class:`~labelkit.errors.filling.WeightsInMixedUnits`, :class:`~labelkit.errors.filling.UnitUnclear`,
    :class:`~labelkit.errors.filling.WeightUnclear` or :class:`~labelkit.errors.filling.WeightFarFromLabel`.

    >>> read_weights(of_options(["453.6", "455"]), Mass.read("1 lb"))[0][0].g
    Decimal('453.6')
    """
    listed = tuple(typed)
    expected = label + (tare or Mass(0))
    units = [_unit_of(entry.text) for entry in listed]
    notes: tuple[str, ...] = ()
    named = {unit for unit in units if unit}
    _refuse_mixed(listed, units)
    only = next(iter(named), None)
    if only is None and listed:
        only = _unit_that_fits(listed, expected, locale)
        notes = (
            f"The weights carry no unit; only {_UNITS[only]}s fit the label, so they were read as {_UNITS[only]}s.",
        )
    return tuple(_mass(entry, only, expected, locale) for entry in listed), notes


def read_tare(text: str, label: Mass, locale: str = DEFAULT_LOCALE) -> Mass:
    """The tare of an empty jar with lid and label. Raises :class:`~labelkit.errors.filling.TareImpossible`.

    >>> read_tare("212.7 g", Mass.read("1 lb")).g
    Decimal('212.7')
    """
    try:
        tare = Mass.read(text, locale)
    except NotPositive:
        raise TareImpossible(text, "an empty jar weighs more than nothing") from None
    if tare > label * 5:
        raise TareImpossible(text, f"it is more than five times what the jar holds ({show_metric(label, locale)})")
    return tare


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


def _column(first: list[str], name: str, number: int) -> tuple[int, str, bool]:
    """Which column holds the weights, the unit its heading names, and whether the first row is a heading."""
    if any(c.isdigit() for cell in first for c in cell):
        if len([cell for cell in first if cell.strip()]) > 1:
            raise WeightUnclear(
                f"{name}, line {number}", ";".join(first), "there are several columns and no heading.",
                "Put a heading over the columns, for example: jar;net (g).",
            )  # fmt: skip
        return next((n for n, cell in enumerate(first) if cell.strip()), 0), "", False
    for column, cell in enumerate(first):
        if any(word in cell.casefold() for word in _HEADINGS) or (len(first) == 1 and cell.strip()):
            unit = _UNIT_WORD.search(cell)
            return column, _SPELT[unit[1].lower()] if unit else "", True
    for column, cell in enumerate(first):
        if unit := _UNIT_WORD.fullmatch(cell.strip(" ()[]")):
            return column, _SPELT[unit[1].lower()], True
    raise WeightUnclear(
        f"{name}, line {number}", ";".join(first), "no column is called net, gross or weight.",
        "Name the column of the weights, for example: jar;net (g).",
    )  # fmt: skip


def _unit_of(text: str) -> str | None:
    """The unit a typed weight names; pounds and ounces together are pounds."""
    found = [_SPELT.get(unit.lower(), unit.lower()) for unit in _UNIT_WORD.findall(text)]
    return "lb" if "lb" in found else found[0] if found else None


def _refuse_mixed(listed: tuple[Typed, ...], units: list[str | None]) -> None:
    first = next((n for n, unit in enumerate(units) if unit), None)
    if first is None:
        return
    metric = ("g", "kg")
    for entry, unit in zip(listed, units, strict=True):
        if unit is None:
            raise WeightsInMixedUnits(listed[first].text, _UNITS[units[first]] + "s", entry.text, "no unit")
        if unit != units[first] and not (unit in metric and units[first] in metric):
            raise WeightsInMixedUnits(listed[first].text, _UNITS[units[first]] + "s", entry.text, _UNITS[unit] + "s")


def _unit_that_fits(listed: tuple[Typed, ...], expected: Mass, locale: str) -> str:
    numbers = [(entry, _number(entry, locale)) for entry in listed]
    votes = {}
    for entry, number in numbers:
        # Units lie at least a factor of 2.2 apart, so the one that comes nearest to the label is the one meant.
        nearest = min(_UNITS, key=lambda unit: _away(Mass.read(f"{plain(number)} {unit}"), expected))
        if _likely(Mass.read(f"{plain(number)} {nearest}"), expected):
            votes.setdefault(nearest, []).append(entry)
    if not votes:
        raise UnitUnclear(listed[0].text, show_metric(expected, locale))
    best = max(votes, key=lambda unit: len(votes[unit]))
    for unit, entries in votes.items():
        if unit != best and entries:
            raise WeightsInMixedUnits(votes[best][0].text, _UNITS[best] + "s", entries[0].text, _UNITS[unit] + "s")
    return best


def _away(mass: Mass, expected: Mass) -> Decimal:
    """How many times a mass is off the expected one, up or down."""
    if not mass.mg:
        return Decimal("Infinity")
    return max(Decimal(mass.mg) / expected.mg, Decimal(expected.mg) / mass.mg)


def _number(entry: Typed, locale: str) -> Decimal:
    try:
        number = read_number(entry.text, locale)
    except (NumberUnclear, NumberOutOfReach) as refusal:
        raise WeightUnclear(entry.where, entry.text, "its digits are not one number.", refusal.do) from None
    if number <= 0:
        raise WeightUnclear(entry.where, entry.text, "a jar weighs more than nothing.", _DO)
    return number


def _mass(entry: Typed, unit: str | None, expected: Mass, locale: str) -> Mass:
    text = entry.text if _unit_of(entry.text) else f"{plain(_number(entry, locale))} {unit}"
    try:
        mass = Mass.read(text, locale if _unit_of(entry.text) else DEFAULT_LOCALE)
    except (NotPositive, UnitUnknown, WrongKindOfUnit, NumberUnclear, NumberOutOfReach) as refusal:
        raise WeightUnclear(entry.where, entry.text, f"{refusal.what.rstrip('.')}.", refusal.do) from None
    if not _likely(mass, expected):
        shown = f"{show_metric(expected, locale)} ({show_customary(expected, locale)})"
        raise WeightFarFromLabel(entry.where, entry.text, shown, _guess(mass, expected, locale))
    return mass


def _likely(mass: Mass, expected: Mass) -> bool:
    return _LIKELY[0] * expected.mg <= mass.mg <= _LIKELY[1] * expected.mg


def _guess(mass: Mass, expected: Mass, locale: str) -> str:
    """What was probably meant: a decimal mark in the wrong place, or the number in another unit."""
    for power in (1, 2, 3, -1, -2, -3):
        meant = Mass.of_grams(mass.g.scaleb(power))
        if abs(meant.mg - expected.mg) * 5 <= expected.mg:
            return f" Was {show_metric(meant, locale)} meant?"
    return ""
