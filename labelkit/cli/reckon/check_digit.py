"""``labelkit reckon check-digit``."""

from __future__ import annotations

import click

from labelkit.barcodes.gs1 import with_check_digit
from labelkit.cli._runner import Answer, CommandContext, answering


@click.command()
@click.option("--digits", required=True, metavar="DIGITS", help="The digits without their check digit.")
@answering
def command(context: CommandContext, digits: str) -> Answer:
    """The GS1 check digit of an EAN, UPC, GTIN-14 or SSCC number.

    Example:  labelkit reckon check-digit --digits 629104150021
    """
    whole = with_check_digit(digits)
    return Answer({"digit": whole[-1], "whole": whole}, f"Check digit {whole[-1]}: {whole}")
