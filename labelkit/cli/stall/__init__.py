"""``labelkit stall``: a day at the market, from the crates in the morning to the cash box in the evening."""

from __future__ import annotations

import click

from labelkit.cli._group import LazyGroup

ORDER = {
    "Before the market": ("load", "cards", "sign", "sheet", "file"),
    "After the market": ("settle", "days"),
}


@click.command(cls=LazyGroup, package="labelkit.cli.stall", order=ORDER)
def command() -> None:
    """Prepare a stall day, then settle it.

    \b
    Example:  labelkit stall load --place "Mill square market" --change 80 --book
              labelkit stall file --out market.html
              labelkit stall settle stall-2026-07-25-mill-square-market.json
    """
