"""Refusals of the labels room: a number, a symbol, a sheet or a label that cannot be printed as asked."""

from __future__ import annotations

from labelkit.errors import Refused


class DigitsUnclear(Refused):
    """Something other than the data digits of a GS1 number."""

    def __init__(self, text: str, reason: str) -> None:
        super().__init__(
            what=f"“{text}” is not the data part of a GS1 number: {reason}.",
            why="The check digit is reckoned from the other digits; with one too many or too few it belongs to another number.",
            do=(
                "Give 7 digits for EAN-8, 11 for UPC-A, 12 for EAN-13, 13 for a case number (GTIN-14), 16 for GSIN or "
                "17 for a shipping number (SSCC); leave the check digit out."
            ),
        )


class CheckDigitWrong(Refused):
    """A whole GS1 number whose last digit does not fit the others."""

    def __init__(self, number: str, found: str, right: str) -> None:
        super().__init__(
            what=f"{number} ends in {found}, but the check digit of its other digits is {right}.",
            why="One digit was mistyped or two were swapped; a till would refuse the jar or sell it as something else.",
            do="Compare the number with the paper it was issued on. Do not just change the last digit.",
        )
