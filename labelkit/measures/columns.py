"""What spreadsheet programs make of columns and of texts.

They take a cell that begins with ``=``, ``+``, ``-``, ``@``, a tab or a line end for a formula and run it (OWASP, "CSV
Injection").
"""

from __future__ import annotations

MOST_IN_A_CELL = 32_767  # characters a spreadsheet program takes (from memory)
_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def letters(column: int) -> str:
    """A column as spreadsheets name it; ``column`` counts from 0.

    >>> letters(0), letters(25), letters(26), letters(702)
    ('A', 'Z', 'AA', 'AAA')
    """
    named = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        named = chr(65 + rest) + named
    return named


def harmless(text: str) -> str:
    """A text no spreadsheet takes for a formula.

    >>> harmless("=HYPERLINK(0)"), harmless("Corner shop")
    ("'=HYPERLINK(0)", 'Corner shop')
    """
    return f"'{text}" if text.lstrip(" ").startswith(_STARTS) or text.startswith(_STARTS) else text
