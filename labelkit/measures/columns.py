"""The columns of a spreadsheet, as their programs name them."""

from __future__ import annotations


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
