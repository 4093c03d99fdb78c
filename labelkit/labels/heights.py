"""Heights of the letters that are printed, and the type size a required height asks for.

What is measured differs by law: the capitals of a text in capitals or else the small letter o (21 CFR 101.7(h)(2);
Safe Food for Canadians Regulations s. 211), the figures (Directive 76/211/EEC, National Trade Measurement Regulations
2009), or the small letter x (Regulation (EU) 1169/2011 Annex IV). All of it is read off the outlines of the very
glyphs, so an old-style figure or a small x-height is seen for what it is.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache

from labelkit.errors.labels import TextRefused
from labelkit.labels.content import FIGURES, LETTERS, TYPE_SIZE, X_HEIGHT, Height
from labelkit.paper.fonts import Face

#: Symbols that are small letters by their own law (16 CFR 500.23(b)), even in a text of capitals.
_SYMBOLS = re.compile(r"(?<![^\W\d_])(?:kg|g|mg|ml|mL|l|кг|г|мг|мл|л)(?![^\W\d_])")
TONOS = "\u0301"
_LETTERS = re.compile(r"[^\W\d_]")


@lru_cache(maxsize=4096)
def measured_signs(text: str, rule: str) -> str:
    """The signs of a text whose height counts.

    >>> measured_signs("NET WT 16 OZ (1 LB) 453 g", "letters")
    '13456BELNOTWZ'
    >>> measured_signs("Net Wt 16 oz", "letters"), measured_signs("340 g", "figures"), measured_signs("Best before", "x-height")
    ('o', '034', 'x')
    """
    if rule == X_HEIGHT:
        return "x"
    figures = "".join(sorted({sign for sign in text if sign in "0123456789"}))
    if rule == FIGURES:
        return figures or "0"
    letters = _LETTERS.findall(_SYMBOLS.sub("", text))
    if not letters:
        return figures or "x"
    if any(letter != letter.upper() for letter in letters):
        return "o" if all(ord(letter) < 0x370 for letter in letters) else _small_o(letters)
    return "".join(sorted({*letters, *figures}))


def capitals(text: str) -> str:
    """A text in capitals, its symbols of units left as their law writes them.

    Capitals make a lawful net quantity a third smaller, since then their own height is measured and not that of the o.

    >>> capitals("Net Wt 16 oz (1 lb) 453 g")
    'NET WT 16 OZ (1 LB) 453 g'
    >>> capitals("Маса нетто 500 г")
    'МАСА НЕТТО 500 г'
    """
    found, start = "", 0
    for symbol in _SYMBOLS.finditer(text):
        found += upper(text[start : symbol.start()]) + symbol.group()
        start = symbol.end()
    return found + upper(text[start:])


def symbols_apart(text: str) -> Iterator[tuple[str, bool]]:
    """A text in runs, each with whether it is the symbol of a unit.

    >>> list(symbols_apart("1 LB (453 g)"))
    [('1 LB (453 ', False), ('g', True), (')', False)]
    """
    start = 0
    for symbol in _SYMBOLS.finditer(text):
        yield text[start : symbol.start()], False
        yield symbol.group(), True
        start = symbol.end()
    if start < len(text):
        yield text[start:], False


def symbol_size(face: Face, text: str, height: Height | None) -> int:
    """The type size at which the small letters of the symbols in a text of capitals are as high as the capitals must be;
    0 where nothing is asked of them.

    "Heights pertain to upper case or capital letters. When upper and lower case … letters are used, it is the lower case
    letter “o” or its equivalent that shall meet the minimum standards" (21 CFR 101.7(h)(2)): the bowl of the g is that.
    """
    if height is None or height.measured != LETTERS or measured_signs(text, LETTERS) == "o":
        return 0
    symbols = [run for run, is_symbol in symbols_apart(text) if is_symbol and run != run.upper()]
    return max((least_size(face, symbol, height, 0) for symbol in symbols), default=0)


def upper(text: str) -> str:
    """Capitals; Greek ones without the accent that only small letters bear (Unicode Standard 5.18, "Greek").

    >>> upper("Μελισσοκομείο Πουθενά"), upper("Miel de forêt")
    ('ΜΕΛΙΣΣΟΚΟΜΕΙΟ ΠΟΥΘΕΝΑ', 'MIEL DE FORÊT')
    """
    if not any(0x370 <= ord(letter) < 0x400 for letter in text):
        return text.upper()
    parts = unicodedata.normalize("NFD", text)
    kept = "".join(
        sign
        for place, sign in enumerate(parts)
        if not (sign == TONOS and any(0x370 <= ord(before) < 0x400 for before in parts[max(0, place - 2) : place]))
    )
    return unicodedata.normalize("NFC", kept.upper())


def _small_o(letters: list[str]) -> str:
    """The equivalent of the small o in the script of the text: omicron, Cyrillic o, or the Latin one."""
    if any(0x370 <= ord(letter) < 0x400 for letter in letters):
        return "ο"
    return "о" if any(0x400 <= ord(letter) < 0x530 for letter in letters) else "o"


#: Letters are set that much higher than the law asks, in hundredths: a printer whose scale is off by one per cent, or a
#: sheet that shrank in the drying, keeps them lawful. Our own reserve, no source.
RESERVE = 2


@lru_cache(maxsize=4096)
def _units(face: Face, signs: str) -> int:
    heights = [outline[3] - max(0, outline[1]) for sign in signs if (outline := face.outline(sign))]
    if not heights:
        raise TextRefused("a required text", signs, "none of its letters has ink")
    return min(heights)


def height_of(face: Face, text: str, size: int, rule: str) -> int:
    """The height that counts, in whole micrometres and never more than is printed."""
    if rule == TYPE_SIZE:
        return size
    return _units(face, measured_signs(text, rule)) * size // face.units


def least_size(face: Face, text: str, height: Height | None, otherwise: int) -> int:
    """The smallest type size at which a text is as high as required, and :data:`RESERVE` higher; ``otherwise`` where
    nothing is required."""
    if height is None:
        return otherwise
    wanted = height.least.um * (100 + RESERVE)
    if height.measured == TYPE_SIZE:
        return -(-wanted // 100)
    units = _units(face, measured_signs(text, height.measured))
    return -(-wanted * face.units // (100 * units))
