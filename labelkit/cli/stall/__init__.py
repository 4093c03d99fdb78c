"""``labelkit stall``: a day at the market, from the crates in the morning to the cash box in the evening."""

from __future__ import annotations

import click

from labelkit.cli._group import LazyGroup


@click.command(cls=LazyGroup, package="labelkit.cli.stall")
def command() -> None:
    """A day at the market: what to take, cards, sign, tally sheet, a page for the telephone, and settling.

    \b
    Example:  labelkit stall load --place "Mill square market" --change 80 --book
              labelkit stall file --out market.html
              labelkit stall settle stall-2026-07-25-mill-square-market.json
    """
